"""An engine's row as the values of its CVs, in the order for keying in."""

from itertools import product

import pytest

from rosterkit.cv.addresses import Address, Space
from rosterkit.cv.engine import EngineCvs, cvs_of
from tests.rosters import roster


def _cvs(
    engine: dict[str, object], layout: dict[str, object] | None = None, *, meet: bool = False
) -> EngineCvs:
    made = roster([{"Loco": "A", **engine}], layout=layout)
    return cvs_of(made.engines[0], made, meet=meet)


def _values(cvs: EngineCvs) -> list[tuple[int, int]]:
    return [(cv_value.cv, cv_value.value) for cv_value in cvs.values]


@pytest.mark.parametrize(
    ("engine", "values"),
    [
        pytest.param({"Address": 3}, [(1, 3), (29, 2), (19, 0)], id="short 3: CV1 before CV29"),
        pytest.param({"Address": 127}, [(1, 127), (29, 2), (19, 0)], id="short 127 is the last short one"),
        pytest.param({"Address": 128}, [(17, 192), (18, 128), (29, 34), (19, 0)], id="128 is long"),
        pytest.param(
            {"Address": 1000}, [(17, 195), (18, 232), (29, 34), (19, 0)], id="long 1000: CV17 before CV18"
        ),
        pytest.param(
            {"Address": 256}, [(17, 193), (18, 0), (29, 34), (19, 0)], id="long 256: CV18 is 0, and written"
        ),
        pytest.param(
            {"Address": 10239}, [(17, 231), (18, 255), (29, 34), (19, 0)], id="long 10239 is the last one"
        ),
        pytest.param(
            {"Address": 3, "Address kind": "long"},
            [(17, 192), (18, 3), (29, 34), (19, 0)],
            id="long 3 by its kind",
        ),
        pytest.param(
            {"Address": 44, "Speed steps": 14},
            [(1, 44), (29, 0), (19, 0)],
            id="14 steps: CV29 is 0, and written",
        ),
        pytest.param(
            {"Address": 44, "Vstart": 5, "Acceleration": 4, "Deceleration": 3, "Vhigh": 200, "Vmid": 90},
            [(1, 44), (29, 2), (19, 0), (2, 5), (3, 4), (4, 3), (5, 200), (6, 90)],
            id="the motor comes after the configuration",
        ),
        pytest.param(
            {"Address": 44, "Acceleration": 0}, [(1, 44), (29, 2), (19, 0), (3, 0)], id="a 0 is keyed in too"
        ),
        pytest.param(
            {"Address": 44, "Vstart": "fast", "Vhigh": 200},
            [(1, 44), (29, 2), (19, 0), (5, 200)],
            id="a motor value that cannot be used is left out",
        ),
        pytest.param(
            {"Address": 44, "Meet address": 1000},
            [(1, 44), (29, 2), (19, 0)],
            id="at home the home address counts",
        ),
    ],
)
def test_cvs_are(engine: dict[str, object], values: list[tuple[int, int]]) -> None:
    """NMRA S-9.2.2 (Jul 2012), CV1, CV17/18 and CV29; the order by S-9.2.3 (Jul 2012), section E, derived."""
    cvs = _cvs(engine)

    assert _values(cvs) == values
    assert cvs.blocking_columns == ()


# NMRA S-9.2.2 (Jul 2012), CV29: what each column adds.
_DIRECTION = {"normal": 0, "reversed": 1}
_STEPS = {"14": 0, "28/128": 2}
_DC = {"off": 0, "on": 4}
_BIDI = {"off": 0, "on": 8}
_CURVE = {"3-point": 0, "table": 16}
_KIND = {"short": 0, "long": 32}


@pytest.mark.parametrize(
    ("direction", "steps", "dc", "bidi", "curve", "kind"),
    list(product(_DIRECTION, _STEPS, _DC, _BIDI, _CURVE, _KIND)),
    ids=" ".join,
)
def test_cv29_is_the_sum_of_what_its_columns_add(
    direction: str, steps: str, dc: str, bidi: str, curve: str, kind: str
) -> None:
    engine = {
        "Address": 77,
        "Address kind": kind,
        "Direction": direction,
        "Speed steps": steps,
        "DC operation": dc,
        "BiDi": bidi,
        "Speed curve": curve,
    }

    value = _cvs(engine).value(29)

    added = _DIRECTION[direction] + _STEPS[steps] + _DC[dc] + _BIDI[bidi] + _CURVE[curve] + _KIND[kind]
    assert value == added


def test_blank_speed_steps_are_as_the_layout_sends_them() -> None:
    assert _cvs({"Address": 44}, {"Speed steps": 14}).value(29) == 0
    assert _cvs({"Address": 44, "Speed steps": 128}, {"Speed steps": 14}).value(29) == 2


@pytest.mark.parametrize(
    ("address", "layout", "kind"),
    [
        pytest.param(
            99, {"Short address range": "1-99"}, "short", id="up to the layout's last short address"
        ),
        pytest.param(
            100, {"Short address range": "1-99"}, "long", id="beyond the layout's last short address"
        ),
        pytest.param(99, {"Long addresses from": 100}, "short", id="below Long addresses from"),
        pytest.param(100, {"Long addresses from": 100}, "long", id="from Long addresses from on"),
        pytest.param(127, {}, "short", id="127 without settings"),
        pytest.param(128, {}, "long", id="128 without settings"),
        pytest.param(50, {"Short address range": "99-1"}, "short", id="an impossible range sets no limit"),
        pytest.param(
            50, {"Long addresses from": "soon"}, "short", id="a setting that cannot be used is the default"
        ),
    ],
)
def test_a_blank_address_kind_is(address: int, layout: dict[str, object], kind: str) -> None:
    cvs = _cvs({"Address": address}, layout)

    assert cvs.address == Address(Space(kind), address)


def test_at_a_meet_the_meet_address_is_keyed_in() -> None:
    cvs = _cvs({"Address": 44, "Meet address": 1000}, meet=True)

    assert _values(cvs) == [(17, 195), (18, 232), (29, 34), (19, 0)]


def test_at_a_meet_an_engine_without_meet_address_keeps_its_own() -> None:
    assert _values(_cvs({"Address": 44}, meet=True)) == [(1, 44), (29, 2), (19, 0)]


@pytest.mark.parametrize(
    ("engine", "meet", "blocking_columns"),
    [
        pytest.param({"Address": ""}, False, ("address",), id="no address"),
        pytest.param({"Address": 0}, False, ("address",), id="an address that is none"),
        pytest.param({"Address": 128, "Address kind": "short"}, False, ("address",), id="short 128"),
        pytest.param(
            {"Address": 9, "Address kind": "tall"},
            False,
            ("address", "address_kind"),
            id="a kind that is none",
        ),
        pytest.param({"Address": 9, "Direction": "up"}, False, ("direction",), id="a direction that is none"),
        pytest.param({"Address": 9, "Lock": "sound"}, False, ("lock",), id="a lock that is none"),
        pytest.param(
            {"Address": 9, "BiDi": "?", "DC operation": "?", "Speed curve": "?", "Speed steps": 27},
            False,
            ("speed_steps", "dc_operation", "bidi", "speed_curve"),
            id="several, in the order of the bits",
        ),
        pytest.param(
            {"Address": 9, "Meet address": "?"}, True, ("meet_address",), id="a meet address that is none"
        ),
        pytest.param(
            {"Address": 9, "Meet address": 200, "Meet kind": "short"},
            True,
            ("meet_address",),
            id="a short meet address of 200",
        ),
    ],
)
def test_nothing_is_computed_from_a_row_with(
    engine: dict[str, object], meet: bool, blocking_columns: tuple[str, ...]
) -> None:
    cvs = _cvs(engine, meet=meet)

    assert (cvs.values, cvs.blocking_columns) == ((), blocking_columns)
    assert cvs.value(29) is None


def test_each_cv_says_what_its_value_means_and_shows_its_bits() -> None:
    cvs = _cvs({"Address": 1000, "Direction": "reversed", "Deceleration": 10, "Vhigh": 255})

    assert [(cv_value.cv, cv_value.bits, cv_value.meaning) for cv_value in cvs.values] == [
        (17, "1100 0011", "long address 1000, high byte"),
        (18, "1110 1000", "long address 1000, low byte"),
        (
            29,
            "0010 0011",
            "direction reversed, long address (CV17 and CV18); assumed: 28 or 128 speed steps, "
            "DC operation off, BiDi off, 3-point curve (CV2, CV6, CV5)",
        ),
        (19, "0000 0000", "in no consist"),
        (4, "0000 1010", "deceleration: 9.0 s from top to stop"),
        (5, "1111 1111", "Vhigh: 100 % of full drive"),
    ]


@pytest.mark.slow
def test_every_long_address_comes_to_its_pair_of_cvs() -> None:
    """RCN-225 (27.07.2025), CV17/18: 192 more than the address divided by 256, and the rest."""
    made = roster([{"Loco": f"E{n}", "Address": n, "Address kind": "long"} for n in range(1, 10240)])

    values = [_values(cvs_of(engine, made)) for engine in made.engines]

    assert values == [[(17, 192 + n // 256), (18, n % 256), (29, 34), (19, 0)] for n in range(1, 10240)]
