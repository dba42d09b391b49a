"""What CV29, CV1, CV17/18 and CV19 mean together: every combination of their states, by hand.

CV1, CV17/18, CV29: NMRA S-9.2.2 (Jul 2012) and RCN-225 (27.07.2025). CV19: S-9.2.2 (Jul 2012), CV19, and
S-9.2.1 (Jul 2012), Consist Control. Factory values 3 and 195/232: RCN-225, CV1 and CV17/18. Short 100 to 127
and long 1 to 127: common practice, no source. How grave a finding is, is a judgement of our own.
"""

import pytest
from hypothesis import given
from hypothesis import strategies as st

from rosterkit.cv.decode import cv_values, decoded

Row = tuple[str, str | None, list[str]]

_UNKNOWN: list[Row] = [
    # Without CV29 nothing is claimed.
    ("1=25", None, []),
    ("1=3", None, []),
    ("1=105", None, []),
    ("1=0", None, ["warning CV1 = 0 is no short address: the engine answers none if CV29 says short"]),
    ("1=200", None, ["warning CV1 = 200 is no short address: the engine answers none if CV29 says short"]),
    ("17=195 18=232", None, []),
    ("17=196 18=210", None, []),
    ("17=192 18=25", None, []),
    (
        "17=192 18=0",
        None,
        ["warning long address 0, which RCN-225 does not allow: the engine"],
    ),
    ("17=0 18=0", None, ["warning CV17 = 0 is outside 192 to 231, so the pair holds no long address: the"]),
    ("17=195", None, ["warning CV17 is given without CV18"]),
    ("18=232", None, ["warning CV18 is given without CV17"]),
    ("1=25 17=195 18=232", None, []),
    ("1=25 17=196 18=210", None, []),
    ("1=25 17=192 18=0", None, ["warning long address 0"]),
    ("1=0 17=0 18=0", None, ["warning CV17 = 0 is outside", "warning CV1 = 0 is no short address"]),
    ("1=25 19=0", None, []),
    ("1=25 19=128", None, []),
    (
        "1=25 19=10",
        None,
        ["warning in consist 10: it ignores speed and direction sent to its own"],
    ),
    (
        "1=25 19=25",
        None,
        ["warning in consist 25: it ignores speed and direction sent to its own"],
    ),
]
_SHORT: list[Row] = [
    # Bit 5 of CV29 is 0: CV1 counts, and whatever is in CV17/18 is a note at most.
    ("29=2", None, ["warning CV29 = 2 says short, but CV1 is not given"]),
    ("1=25 29=2", "short 25", []),
    ("1=1 29=2", "short 1", []),
    ("1=99 29=2", "short 99", []),
    ("1=3 29=2", "short 3", ["warning the engine answers short 3, the address of most new decoders"]),
    ("1=100 29=2", "short 100", ["warning short 100 is taken for long 100 by some command stations"]),
    ("1=127 29=2", "short 127", ["warning short 127 is taken for long 127"]),
    ("1=0 29=2", None, ["error CV1 = 0 is no short address, and CV29 = 2 says short"]),
    ("1=128 29=2", None, ["error CV1 = 128 is no short address, and CV29 = 2 says short"]),
    ("1=255 29=2", None, ["error CV1 = 255 is no short address, and CV29 = 2 says short"]),
    ("1=25 17=195 18=232 29=2", "short 25", ["note CV17 and CV18 hold long 1000, their factory value"]),
    (
        "1=3 17=195 18=232 29=2",
        "short 3",
        ["warning the engine answers short 3", "note CV17 and CV18 hold long 1000, their factory value"],
    ),
    ("1=25 17=196 18=210 29=2", "short 25", ["note long 1234 is stored and not used: CV29 = 2 says short"]),
    ("1=25 17=192 18=25 29=2", "short 25", ["note long 25 is stored and not used: CV29 = 2 says short"]),
    ("1=25 17=192 18=0 29=2", "short 25", ["note CV17 and CV18 hold long address 0"]),
    ("1=25 17=0 18=0 29=2", "short 25", ["note CV17 = 0 is outside 192 to 231"]),
    ("1=25 17=255 18=255 29=2", "short 25", ["note CV17 = 255 is outside 192 to 231"]),
    ("1=25 17=195 29=2", "short 25", []),
    ("1=25 18=232 29=2", "short 25", []),
    ("17=195 18=232 29=2", None, ["warning says short, but CV1 is not given", "note their factory value"]),
    (
        "1=0 17=196 18=210 29=2",
        None,
        ["error CV1 = 0 is no short address", "note long 1234 is stored"],
    ),
    ("1=0 17=0 18=0 29=2", None, ["error CV1 = 0 is no short address", "note CV17 = 0 is outside"]),
    ("1=25 29=2 19=0", "short 25", []),
    ("1=25 29=2 19=128", "short 25", []),
    (
        "1=25 29=2 19=10",
        "short 25",
        ["warning in consist 10: it ignores speed and direction sent to its own"],
    ),
    ("1=25 29=2 19=138", "short 25", ["warning in consist 10: it ignores speed and direction"]),
    ("1=25 29=2 19=25", "short 25", ["note in consist 25: short 25 is its own address too, so it heeds"]),
    ("1=25 29=2 19=153", "short 25", ["note in consist 25: short 25 is its own address too, so it heeds"]),
    ("29=2 19=10", None, ["warning says short, but CV1 is not given", "warning in consist 10"]),
    ("1=0 29=2 19=10", None, ["error CV1 = 0 is no short address", "warning in consist 10: it ignores"]),
    (
        "1=25 17=195 18=232 29=2 19=10",
        "short 25",
        ["note CV17 and CV18 hold long 1000, their factory value", "warning in consist 10: it ignores"],
    ),
]
_LONG: list[Row] = [
    # Bit 5 of CV29 is 1: CV17/18 count, and whatever is in CV1 is a note at most.
    ("29=34", None, ["warning CV29 = 34 says long, but CV17 and CV18 are not given"]),
    ("17=195 18=232 29=34", "long 1000", []),
    ("17=196 18=210 29=34", "long 1234", []),
    ("17=192 18=128 29=34", "long 128", []),
    ("17=231 18=255 29=34", "long 10239", []),
    ("17=192 18=1 29=34", "long 1", ["warning long 1 is taken for short 1 by some command stations"]),
    ("17=192 18=127 29=34", "long 127", ["warning long 127 is taken for short 127"]),
    (
        "17=192 18=0 29=34",
        None,
        ["error long address 0, which RCN-225 does not allow, and CV29 = 34"],
    ),
    ("17=0 18=0 29=34", None, ["error CV17 = 0 is outside 192 to 231"]),
    ("17=191 18=255 29=34", None, ["error CV17 = 191 is outside 192 to 231"]),
    ("17=232 18=0 29=34", None, ["error CV17 = 232 is outside 192 to 231"]),
    ("17=195 29=34", None, ["warning CV17 is given without CV18"]),
    ("18=232 29=34", None, ["warning CV18 is given without CV17"]),
    ("17=0 29=34", None, ["error CV17 = 0 is outside 192 to 231", "warning CV17 is given without CV18"]),
    ("1=25 17=196 18=210 29=34", "long 1234", ["note CV1 = 25 is not used: CV29 = 34 says long"]),
    ("1=3 17=196 18=210 29=34", "long 1234", ["note CV1 = 3 is not used"]),
    ("1=105 17=196 18=210 29=34", "long 1234", ["note CV1 = 105 is not used"]),
    ("1=200 17=196 18=210 29=34", "long 1234", ["note CV1 = 200 is no short address, and not used"]),
    ("1=0 17=196 18=210 29=34", "long 1234", ["note by NMRA S-9.2.2 a decoder with CV1 = 0 leaves DCC"]),
    ("1=25 29=34", None, ["warning CV17 and CV18 are not given", "note CV1 = 25 is not used"]),
    ("1=25 17=192 18=0 29=34", None, ["error long address 0", "note CV1 = 25 is not used"]),
    ("1=25 17=0 18=0 29=34", None, ["error CV17 = 0 is outside", "note CV1 = 25 is not used"]),
    ("17=196 18=210 29=34 19=0", "long 1234", []),
    ("17=196 18=210 29=34 19=128", "long 1234", []),
    (
        "17=196 18=210 29=34 19=10",
        "long 1234",
        ["warning in consist 10: it ignores speed and direction"],
    ),
    # 192/25 is long 25, and the consist 25 is in the space of the short addresses (S-9.2.1, section A).
    (
        "17=192 18=25 29=34 19=25",
        "long 25",
        ["warning long 25 is taken for short 25", "warning in consist 25: it ignores speed and direction"],
    ),
    (
        "1=25 17=196 18=210 29=34 19=25",
        "long 1234",
        ["note CV1 = 25 is not used", "warning in consist 25"],
    ),
    # RCN-225 (27.07.2025), CV19/20: 12 x 100 + 34.
    (
        "17=196 18=210 29=34 19=34 20=12",
        "long 1234",
        ["note long 1234 is its own address too"],
    ),
    (
        "17=195 18=232 29=34 19=34 20=12",
        "long 1000",
        ["warning in consist 1234: it ignores"],
    ),
]
_ACCESSORY: list[Row] = [
    # Bit 7 of CV29 is 1: an accessory decoder's; it answers no locomotive address.
    ("1=25 9=0 29=130", None, []),
    ("1=25 9=0 29=162", None, []),
    (
        "1=25 29=130",
        None,
        ["note bit 7 marks an accessory decoder; a locomotive decoder", "warning CV1 and CV9"],
    ),
    ("1=25 9=0 29=130 19=10", None, ["warning bit 7 marks an accessory decoder; a locomotive decoder"]),
    (
        "17=196 18=210 29=162",
        None,
        ["warning and CV17 = 196 is a locomotive decoder's", "warning CV1 and CV9"],
    ),
    ("29=130", None, ["note bit 7 marks an accessory decoder", "warning CV1 and CV9 are not both given"]),
]
ROWS = [*_UNKNOWN, *_SHORT, *_LONG, *_ACCESSORY]


@pytest.mark.parametrize(("pairs", "answers", "findings"), [pytest.param(*row, id=row[0]) for row in ROWS])
def test_the_address_and_what_is_found(pairs: str, answers: str | None, findings: list[str]) -> None:
    result = decoded(cv_values([pairs]))

    assert (str(result.address) if result.address else None) == answers
    assert len(result.faults) == len(findings), result.faults
    for fault, said in zip(result.faults, findings, strict=True):
        severity, _, phrase = said.partition(" ")
        assert (fault.severity.value, phrase in fault.message) == (severity, True), fault


def test_no_row_of_the_table_stands_twice() -> None:
    assert len({row[0] for row in ROWS}) == len(ROWS) >= 60


_BYTES = st.integers(0, 255)
_SOME_CVS = st.dictionaries(st.sampled_from([1, 17, 18]), _BYTES)


@given(_SOME_CVS, st.integers(1, 127), st.integers(0, 31))
def test_a_usable_active_short_address_is_answered_whatever_else_is_stored(
    others: dict[int, int], address: int, bits: int
) -> None:
    result = decoded({**others, 1: address, 29: bits})

    assert str(result.address) == f"short {address}"
    assert not result.has_error


@given(_SOME_CVS, st.integers(192, 231), st.integers(1, 255), st.integers(32, 63))
def test_a_usable_active_long_address_is_answered_whatever_else_is_stored(
    others: dict[int, int], high: int, low: int, configuration: int
) -> None:
    result = decoded({**others, 17: high, 18: low, 29: configuration})

    assert str(result.address) == f"long {(high - 192) * 256 + low}"
    assert not result.has_error


@given(st.dictionaries(st.integers(1, 28), _BYTES))
def test_without_cv29_no_address_is_claimed(values: dict[int, int]) -> None:
    result = decoded(values)

    assert (result.address, result.kind, result.number) == (None, None, None)
