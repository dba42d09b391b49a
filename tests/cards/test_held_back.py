"""Nothing is silently missing on a card, and a card that must not be keyed in has no lines."""

from collections.abc import Mapping
from pathlib import Path

import pytest

from rosterkit.cards.card import Card, CardOptions, MeetPhase, cards_of
from rosterkit.cards.meet_cards import away_of, meet_cards
from rosterkit.cards.report import cards_text
from rosterkit.cards.sheet import cards_sheet
from rosterkit.cards.steps import HELD_BACK, KEY_IN, READ
from rosterkit.cards.write_modes import WriteMode
from rosterkit.checks import findings_in
from rosterkit.checks.card_errors import errors_by_row
from rosterkit.checks.framework import scope_of
from rosterkit.commands.cards import cards
from rosterkit.commands.fill import fill
from rosterkit.cv.engine import cvs_of
from tests.command_line import run, written
from tests.rosters import Rows, enrolled, roster, workbook

_ENGINE: dict[str, object] = {"Loco": "A", "Address": 12}
_TABLE = {"Table": "Even"} | {str(step): 9 * step for step in range(1, 29)}
_BY_TABLE = _ENGINE | {"Speed curve": "table", "Speed table": "Even"}
_GUEST = _ENGINE | {"Meet address": 300, "At meet": "yes"}
_CONSIST = {"Consist": "X", "Address": 85, "Position": 1, "Loco": "A", "Facing": "forward"}
_ALL_READ = [{"Loco": "A", "CV": cv, "Value": value} for cv, value in ((1, 12), (29, 2), (19, 0))]


def _cards(
    engines: Rows,
    options: CardOptions | None = None,
    layout: Mapping[str, object] | None = None,
    sheets: Mapping[str, Rows] | None = None,
) -> list[Card]:
    given = dict(sheets or {})
    decoders = given.pop("decoders", ())
    made = enrolled(
        workbook(engines, layout=layout, decoders=decoders, name="club.xlsx", filled=False, **given)
    )
    errors = errors_by_row(made, findings_in(scope_of([made])))
    return cards_of(made, options=options, errors=errors)


def _read(pairs: str) -> list[dict[str, object]]:
    return [{"Loco": "A", "CV": int(p.split("=")[0]), "Value": int(p.split("=")[1])} for p in pairs.split()]


def _held(card: Card) -> dict[int, str]:
    return {
        one.cv: one.state.removeprefix(HELD_BACK) for one in card.steps if one.state.startswith(HELD_BACK)
    }


def _keyed(card: Card) -> list[tuple[int, int | None]]:
    return [(step.cv, step.value) for step in card.steps if step.state == KEY_IN]


@pytest.mark.parametrize(
    ("engine", "sheets", "held"),
    [
        pytest.param(
            _BY_TABLE,
            {"tables": [_TABLE | {"5": ""}]},
            {67: "step 5 of 'Even' in Speed tables F2 is blank"},
            id="a speed table that lacks a step",
        ),
        pytest.param(
            _BY_TABLE,
            {"tables": [_TABLE | {"5": "fast"}]},
            {67: "step 5 of 'Even' in Speed tables F2 cannot be used ('fast')"},
            id="a speed table with a step that is no number",
        ),
        pytest.param(
            _BY_TABLE,
            {"tables": [_TABLE | {"5": 9}]},
            {67: "'Even' falls at step 5"},
            id="a table that falls",
        ),
        pytest.param(
            _ENGINE,
            {"consists": [_CONSIST | {"Facing": "sideways"}]},
            {19: "Facing in Consists E2 cannot be used ('sideways')"},
            id="Facing sideways",
        ),
        pytest.param(
            _ENGINE,
            {"consists": [_CONSIST | {"Address": "none yet"}]},
            {19: "Address in Consists B2 cannot be used ('none yet')"},
            id="a consist address that is none",
        ),
        pytest.param(
            _ENGINE,
            {"consists": [_CONSIST | {"Address": ""}]},
            {19: "Address in Consists B2 is blank"},
            id="a consist without an address",
        ),
        pytest.param(
            _ENGINE,
            {"consists": [_CONSIST | {"Functions": "F0f horn"}]},
            {
                19: "function 'horn' is not one of F0f, F0r, F1 to F12, F13-F20, F21-F28 (Consists F2)",
                21: "function 'horn' is not one of F0f, F0r, F1 to F12, F13-F20, F21-F28 (Consists F2)",
            },
            id="Functions with a name that is none",
        ),
        pytest.param(
            _ENGINE,
            {"consists": [_CONSIST, _CONSIST | {"Consist": "Y", "Address": 86}]},
            {19: "'A' appears in 2 rows of Consists (also in D2) (Consists D3)"},
            id="a place in two consists",
        ),
        pytest.param(
            _ENGINE,
            {"extras": [{"Loco": "A", "CV": 49, "Value": "ninety"}]},
            {49: "Value in Extra values C2 cannot be used ('ninety')"},
            id="an extra value of ninety",
        ),
        pytest.param(
            _ENGINE,
            {"extras": [{"Loco": "A", "CV": 300, "Value": 1, "Index high": 16, "Index low": ""}]},
            {300: "Index low in Extra values E2 is blank"},
            id="an extra value without its index",
        ),
        pytest.param(
            _ENGINE,
            {"extras": [{"Loco": "A", "CV": 49, "Value": value} for value in (1, 2)]},
            {49: "CV49 of 'A' appears 2 times (also in B2) (Extra values B3)"},
            id="an extra value that stands twice",
        ),
        pytest.param(
            _ENGINE | {"Vstart": "slow", "Vhigh": 200},
            {},
            {2: "Vstart in Locomotives C2 cannot be used ('slow')"},
            id="a Vstart that is no number",
        ),
        pytest.param(
            _ENGINE | {"Vstart": 60, "Vmid": 40, "Acceleration": 3},
            {},
            {2: "Vstart 60 is not below Vmid 40", 6: "Vstart 60 is not below Vmid 40"},
            id="a curve that does not rise",
        ),
        pytest.param(_ENGINE | {"Vstart": 5}, {"consists": [_CONSIST]}, {}, id="nothing is wrong"),
    ],
)
def test_what_depends_on_it_is_held_back_with_the_reason_in_its_place(
    engine: dict[str, object], sheets: dict[str, Rows], held: dict[int, str]
) -> None:
    (card,) = _cards([engine], sheets=sheets)

    assert _held(card) == held
    assert [step.value for step in card.steps if step.state.startswith(HELD_BACK)] == [None] * len(held)
    assert bool(card.cautions) is bool(held)
    assert not card.blocked


@pytest.mark.parametrize(
    "sheets",
    [
        pytest.param({"consists": [_CONSIST | {"Facing": "sideways"}]}, id="Consists"),
        pytest.param({"extras": [{"Loco": "A", "CV": 49, "Value": "ninety"}]}, id="Extra values"),
        pytest.param({"extras": [{"Loco": "A", "CV": "lamp", "Value": 1}]}, id="an extra value for no CV"),
        pytest.param({"decoders": [{"Decoder": "Sound", "Manufacturer ID": "new"}]}, id="Decoder types"),
        pytest.param(
            {"readings": [*_ALL_READ, {"Loco": "A", "CV": 1, "Value": "twelve"}]}, id="a reading that is none"
        ),
    ],
)
def test_changes_never_say_nothing_to_do_while_something_of_the_engine_cannot_be_read(
    sheets: dict[str, Rows],
) -> None:
    engine = _ENGINE | {"Decoder": "Sound"}
    (card,) = _cards([engine], CardOptions(changes=True), {}, {"readings": _ALL_READ, **sheets})

    assert not card.nothing_to_do
    assert any(line.startswith("Error in ") for line in card.cautions)
    assert "Nothing to do" not in cards_text([card])


def test_an_unreadable_reading_is_not_passed_over_for_an_older_one() -> None:
    readings = [*_ALL_READ, {"Loco": "A", "CV": 1, "Value": "twelve"}]
    (card,) = _cards([_ENGINE], CardOptions(changes=True), {}, {"readings": readings})

    assert (1, 12) in _keyed(card)
    assert next(step.last_read for step in card.steps if step.cv == 1) is None


def test_changes_say_nothing_to_do_where_nothing_is_wrong() -> None:
    (card,) = _cards([_ENGINE], CardOptions(changes=True), sheets={"readings": _ALL_READ})

    assert card.nothing_to_do


def test_bit_4_of_cv29_is_held_back_with_the_table_in_the_column_too() -> None:
    made = roster([_BY_TABLE], tables=[_TABLE | {"5": ""}])
    cvs = cvs_of(made.engines[0], made)

    assert cvs.value(29) == 2
    assert [one.meaning for one in cvs.withheld] == [
        "speed table (CV67 to CV94), and bit 4 of CV29 that turns to it"
    ]


_BASIC = [{"Decoder": "Basic", "Long address": "no", "Speed table": "no", "BiDi": "no", "Lock": "no"}]


@pytest.mark.parametrize(
    ("engines", "layout", "sheets", "blocked"),
    [
        pytest.param([_ENGINE], {}, {}, [False], id="nothing is wrong"),
        pytest.param(
            [_ENGINE, {"Loco": "B", "Address": 12}], {}, {}, [True, True], id="an address that is shared"
        ),
        pytest.param([_ENGINE | {"Address": ""}], {}, {}, [True], id="no address"),
        pytest.param([_BY_TABLE | {"Speed table": "Odd"}], {}, {}, [True], id="a table that is not there"),
        pytest.param([_BY_TABLE | {"Speed table": ""}], {}, {}, [True], id="no table named"),
        pytest.param(
            [_ENGINE | {"Address": 1000, "Decoder": "Basic"}],
            {},
            {"decoders": _BASIC},
            [True],
            id="a decoder that cannot take a long address",
        ),
        pytest.param(
            [_ENGINE | {"BiDi": "on", "Decoder": "Basic"}],
            {},
            {"decoders": _BASIC},
            [True],
            id="a decoder that cannot take BiDi",
        ),
        pytest.param(
            [_ENGINE | {"Length": 400}], {"Programming track length": 300}, {}, [True], id="too long"
        ),
        pytest.param(
            [
                _ENGINE | {"Railway": "JV", "Number": "7", "Lock": 1, "Length": 400},
                {"Loco": "A sound", "Address": 12, "Railway": "JV", "Number": "7", "Lock": 2},
                {"Loco": "B", "Address": 13, "Railway": "JV", "Number": "8", "Lock": 2},
            ],
            {"Programming track length": 300},
            {},
            [True, True, False],
            id="the other decoder of an engine that is too long",
        ),
        pytest.param(
            [
                _ENGINE | {"Railway": "JV", "Number": "7", "Lock": 1, "BiDi": "on", "Decoder": "Mute"},
                {"Loco": "A sound", "Address": 12, "Railway": "JV", "Number": "7", "Lock": 2},
            ],
            {},
            {"decoders": [{"Decoder": "Mute", "BiDi": "no"}]},
            [True, True],
            id="the other decoder of an engine that cannot take what is asked",
        ),
        pytest.param(
            [_ENGINE, _ENGINE | {"Address": 13}], {}, {}, [True, True], id="a label that stands twice"
        ),
        pytest.param([_ENGINE | {"Lock": "sound"}], {}, {}, [True], id="a lock that cannot be read"),
    ],
)
def test_a_card_that_must_not_be_keyed_in_has_no_boxes_and_no_values(
    engines: Rows, layout: dict[str, object], sheets: dict[str, Rows], blocked: list[bool]
) -> None:
    cards = _cards(engines, None, layout, sheets)

    assert [card.blocked for card in cards] == blocked
    for card in cards:
        assert bool(card.steps) is not card.blocked
        text = cards_text([card]).split("\n\n")[1]
        assert ("[ ]" in text or "____" in text) is not card.blocked
        if card.blocked:
            assert "Nothing to key in" in text or "Do not key anything in" in text.replace("\n    ", " ")
            boxes = [cell for row in cards_sheet([card]).rows for cell in row if cell.look.value == "box"]
            assert boxes == []


def test_an_engine_too_long_for_the_section_is_keyed_in_on_the_running_track() -> None:
    options = CardOptions(mode=WriteMode.OPERATIONS)
    (card,) = _cards([_ENGINE | {"Length": 400}], options, {"Programming track length": 300})

    assert (card.blocked, bool(card.steps)) == (False, True)


def test_the_cards_that_fill_writes_and_those_that_are_printed_are_the_same(tmp_path: Path) -> None:
    path = tmp_path / "club.xlsx"
    written(path, workbook([_ENGINE, {"Loco": "B", "Address": 12}], consists=[_CONSIST | {"Facing": "up"}]))

    printed = run("cards", path).out
    fill(path)

    assert "[ ]" not in printed
    assert printed.count("Nothing to key in before this is put right:") == 2
    assert "Error in Consists E2 (Facing): 'up'" in printed


@pytest.mark.parametrize(
    ("mode", "readings", "first"),
    [
        pytest.param(WriteMode.DIRECT, "", [15, 8, 7], id="before CV8 and CV7"),
        pytest.param(WriteMode.PAGED, "", [15, 8, 7], id="in paged mode too"),
        pytest.param(WriteMode.OPERATIONS, "", [15, 19, 1], id="in operations mode as well"),
        pytest.param(WriteMode.DIRECT, "16=1", [15, 16, 15, 8, 7], id="with the number it still has to get"),
    ],
)
def test_cv15_comes_first(mode: WriteMode, readings: str, first: list[int]) -> None:
    """RCN-225 (27.07.2025), CV15/16: a closed lock blocks reading too; CV15 is writable in both modes."""
    rows = [
        {"Loco": "A", "CV": int(p.split("=")[0]), "Value": int(p.split("=")[1])} for p in readings.split()
    ]
    (card,) = _cards([_ENGINE | {"Lock": 2}], CardOptions(mode=mode), sheets={"readings": rows})

    assert [step.cv for step in card.steps][: len(first)] == first
    assert card.steps[0].state == KEY_IN


@pytest.mark.parametrize(
    ("mode", "engine", "readings", "said"),
    [
        pytest.param(
            WriteMode.REGISTER, {"Lock": 2}, "", "register mode does not reach CV15", id="register mode"
        ),
        pytest.param(
            WriteMode.ADDRESS_ONLY,
            {"Lock": 2},
            "",
            "address-only mode does not reach CV15",
            id="address-only",
        ),
        pytest.param(
            WriteMode.REGISTER, {}, "15=3 16=5", "the lock was read as closed", id="a lock read as closed"
        ),
        pytest.param(
            WriteMode.OPERATIONS,
            {"Lock": 2},
            "16=1",
            "on the programming track",
            id="no number yet",
        ),
        pytest.param(WriteMode.REGISTER, {}, "15=5 16=5", None, id="a lock read as open"),
        pytest.param(WriteMode.REGISTER, {}, "", None, id="no lock"),
    ],
)
def test_nothing_is_listed_where_the_lock_cannot_be_opened(
    mode: WriteMode, engine: dict[str, object], readings: str, said: str | None
) -> None:
    """NMRA S-9.2.3 (Jul 2012), section E: registers R1 to R8 reach no CV15."""
    rows = [
        {"Loco": "A", "CV": int(p.split("=")[0]), "Value": int(p.split("=")[1])} for p in readings.split()
    ]
    (card,) = _cards([_ENGINE | engine], CardOptions(mode=mode), sheets={"readings": rows})

    assert bool(card.steps) is (said is None)
    assert said is None or said in card.cautions[0]
    assert all(step.value is None or step.state != READ for step in card.steps)


@pytest.mark.parametrize(
    ("phase", "engines", "blocked"),
    [
        pytest.param("before", [_GUEST], ["A", False], id="before the meet, nothing is wrong"),
        pytest.param(
            "before",
            [_GUEST, {"Loco": "B", "Address": 300, "At meet": "yes"}],
            ["A", True],
            id="before the meet, an address that another engine has there",
        ),
        pytest.param(
            "after",
            [_GUEST, {"Loco": "B", "Address": 300, "At meet": "yes"}],
            ["A", False],
            id="after the meet that address counts no longer",
        ),
        pytest.param(
            "after", [_GUEST, {"Loco": "B", "Address": 12}], ["A", True], id="after the meet, a home address"
        ),
    ],
)
def test_for_a_meet_the_address_of_that_side_must_be_right(
    tmp_path: Path, phase: str, engines: Rows, blocked: list[object]
) -> None:
    path = tmp_path / "club.xlsx"
    written(path, workbook(engines))

    (card,) = cards(path, options=CardOptions(phase=MeetPhase(phase)))

    assert [card.loco, card.blocked] == blocked
    assert bool(card.steps) is not card.blocked


@pytest.mark.parametrize(
    ("phase", "address", "meet_address", "cv19"),
    [
        pytest.param("before", 84, 86, [86], id="both are right, before the meet"),
        pytest.param("after", 84, 86, [84], id="both are right, after it"),
        pytest.param("before", 84, 20000, [], id="before the meet its Meet address must be right"),
        pytest.param("after", 84, 20000, [84], id="after the meet a wrong Meet address counts no longer"),
        pytest.param("before", 20000, 86, [86], id="before the meet a wrong address does not count"),
        pytest.param("after", 20000, 86, [], id="after the meet its address must be right"),
    ],
)
def test_for_a_meet_the_consist_s_address_of_that_side_must_be_right(
    tmp_path: Path, phase: str, address: int, meet_address: int, cv19: list[int]
) -> None:
    row = {"Consist": "X", "Address": address, "Position": 1, "Loco": "A", "Meet address": meet_address}
    path = written(tmp_path / "club.xlsx", workbook([_GUEST], consists=[row]))

    (card,) = cards(path, options=CardOptions(phase=MeetPhase(phase)))

    # The card clears CV19 first where an old consist is not ruled out.
    assert [value for cv, value in _keyed(card) if cv == 19 and value] == cv19


def test_after_a_meet_settings_that_are_blank_come_back_as_they_were_read() -> None:
    made = roster([_GUEST], readings=_read("1=12 29=15 19=0"))

    (card,) = meet_cards(made, away_of(made), MeetPhase.AFTER)

    assert [(step.cv, step.value) for step in card.steps if step.state == KEY_IN] == [
        (19, 0),
        (1, 12),
        (29, 15),
    ]


def test_a_lock_is_never_opened_with_a_value_that_is_a_command() -> None:
    """RCN-225 (27.07.2025), CV15/16: 240 to 255 are commands to CV15, and 255 opens every lock."""
    readings = [{"Loco": "A", "CV": cv, "Value": value} for cv, value in ((15, 3), (16, 240))]

    (card,) = cards_of(roster([{"Loco": "A", "Address": 25}], readings=readings))

    assert [step.value for step in card.steps if step.cv == 15] == [255]


@pytest.mark.parametrize(("cv12", "warned"), [(1, True), (4, False)])
def test_a_card_warns_of_dc_operation_only_where_cv12_permits_direct_current(cv12: int, warned: bool) -> None:
    """NMRA S-9.2.2 (Jul 2012), CV12; RCN-225 (27.07.2025), CV12."""
    engine = {"Loco": "A", "Address": 25, "DC operation": "on"}

    (card,) = cards_of(roster([engine], extras=[{"Loco": "A", "CV": 12, "Value": cv12}]))

    assert any("DC operation is on" in caution for caution in card.cautions) is warned
