"""What ``decode`` says of accessory decoders, and that the checks say the same of the same numbers.

Decoder address 511 as broadcast: NMRA S-9.2.1 (Jul 2012), section D; that the edition of 2025 has dropped it
is known at second hand. Decoder address 0 as 2045 to 2048: RCN-213, from memory. Bit 7 of CV29: RCN-225
(27.07.2025), section 3.1. Counting from packet address 0: common practice, no source.
"""

import pytest

from rosterkit.checks.accessories import accessory_address_reserved
from rosterkit.checks.framework import scope_of
from rosterkit.cv.decode import Decoded, cv_values, decoded
from tests.rosters import roster

_BROADCAST = (
    "decoder address 511, by NMRA S-9.2.1 of 2012 the broadcast to every accessory decoder; its edition "
    "of 2025 is reported to have dropped that"
)


def _decoded(pairs: str) -> Decoded:
    return decoded(cv_values(pairs.split()))


@pytest.mark.parametrize(
    ("pairs", "faults"),
    [
        pytest.param("1=1 9=0 29=128", [], id="decoder 1 is in order"),
        pytest.param("1=62 9=7 29=128", [], id="decoder 510 is the last in order"),
        pytest.param(
            "1=63 9=7 29=128",
            [("error", f"2041 to 2044 are {_BROADCAST}")],
            id="decoder 511 is the broadcast",
        ),
        pytest.param("1=248 9=7 29=192", [], id="output 2040 is the last in order"),
        pytest.param(
            "1=249 9=7 29=192", [("error", f"2041 is {_BROADCAST}")], id="output 2041 is the broadcast"
        ),
        pytest.param(
            "1=252 9=7 29=224", [("error", f"2044 is {_BROADCAST}")], id="and so is 2044 of a signal"
        ),
        pytest.param(
            "1=0 9=0 29=128",
            [("warning", "2045 to 2048 come out as decoder address 0, which not every system can call")],
            id="decoder 0",
        ),
        pytest.param(
            "1=253 9=7 29=192",
            [("warning", "2045 comes out as decoder address 0, which not every system can call")],
            id="output 2045",
        ),
        pytest.param(
            "513=1 521=0 541=0",
            [
                (
                    "warning",
                    "CV541 = 0 is without bit 7 (128): an accessory decoder is then called by the commands "
                    "of locomotives, not of accessories",
                )
            ],
            id="CV541 without bit 7",
        ),
        pytest.param("513=1 521=0 541=128", [], id="CV541 with bit 7 is in order"),
    ],
)
def test_what_is_wrong_with_an_accessory_decoders_values(pairs: str, faults: list[tuple[str, str]]) -> None:
    found = [(fault.severity.value, fault.message) for fault in _decoded(pairs).faults]

    assert found == faults


@pytest.mark.parametrize("pairs", ["513=1 521=0 541=128", "1=1 9=0 29=128"])
def test_cv513_and_up_mean_what_those_512_below_mean(pairs: str) -> None:
    result = _decoded(pairs)

    assert (result.kind, result.number) == ("accessory", 1)


def test_a_locomotive_decoders_cv29_alone_is_no_accessory_without_bit_7() -> None:
    assert not any("bit 7" in fault.message for fault in _decoded("1=44 29=2").faults)


@pytest.mark.parametrize(
    ("pairs", "answers"),
    [
        pytest.param(
            "1=5 9=0 29=128",
            "decoder 5, turnouts 17 to 20 (21 to 24 where turnout 1 is packet address 0)",
            id="a decoder by its address answers four",
        ),
        pytest.param(
            "1=5 9=0 29=160",
            "decoder 5, extended numbers 17 to 20 (21 to 24 where turnout 1 is packet address 0)",
            id="an extended decoder by its address",
        ),
        pytest.param(
            "1=17 9=0 29=224",
            "extended number 17 (21 where turnout 1 is packet address 0), "
            "and the next for its further outputs",
            id="an extended decoder by its first output",
        ),
    ],
)
def test_which_numbers_a_decoder_answers(pairs: str, answers: str) -> None:
    assert _decoded(pairs).summary["answers"] == answers


def test_check_and_decode_judge_every_number_alike_in_the_same_words() -> None:
    numbers = range(1, 2049)
    rows = [{"Accessory": f"T{number}", "Address": number, "Method": "output"} for number in numbers]
    made = roster([{"Loco": "A", "Address": 12}], accessories=rows)

    hits = accessory_address_reserved.hits(scope_of([made]))

    checked = {
        hit.place.row: ((hit.severity or accessory_address_reserved.severity), hit.message) for hit in hits
    }
    for row, number in enumerate(numbers, 2):
        faults = decoded({1: number % 2048 % 256, 9: number % 2048 // 256, 29: 192}).faults
        assert [(fault.severity, fault.message) for fault in faults] == [
            said for at, said in checked.items() if at == row
        ]
    assert len(checked) == 8
