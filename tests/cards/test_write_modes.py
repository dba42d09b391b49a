"""What each mode reaches and what it calls a CV, and the order of a card's lines."""

from collections.abc import Sequence

import pytest

from rosterkit.cards.card import Card, CardOptions, cards_of
from rosterkit.cards.steps import AGREES, KEY_IN, READ
from rosterkit.cards.write_modes import WriteMode
from tests.rosters import Rows, roster

_CONSIST = {"Consist": "X", "Address": 1234, "Position": 1, "Loco": "A", "Facing": "reverse"}
_TABLE = {"Table": "Even"} | {str(step): 9 * step for step in range(1, 29)}


def _card(engine: dict[str, object], options: CardOptions | None = None, **sheets: Rows) -> Card:
    made = roster([{"Loco": "A", **engine}], layout={}, name="club.xlsx", **sheets)
    (card,) = cards_of(made, options=options)
    return card


def _read(pairs: str) -> list[dict[str, object]]:
    return [{"Loco": "A", "CV": int(p.split("=")[0]), "Value": int(p.split("=")[1])} for p in pairs.split()]


def _lines(card: Card, *states: str) -> list[tuple[int, int | None]]:
    return [(step.cv, step.value) for step in card.steps if step.state in (states or (KEY_IN,))]


def test_a_full_card_goes_from_what_to_look_at_to_the_pages() -> None:
    card = _card(
        {"Address": 1000, "Decoder": "Sound", "Vstart": 5, "Speed curve": "table", "Speed table": "Even"},
        decoders=[{"Decoder": "Sound", "Manufacturer ID": 13, "Version": 21}],
        consists=[_CONSIST | {"Functions": "F0f F0r F1 F8"}],
        tables=[_TABLE],
        extras=[
            {"Loco": "A", "CV": 300, "Value": 3, "Index high": 16, "Index low": 1},
            {"Loco": "A", "CV": 49, "Value": 1},
            {"Loco": "A", "CV": 260, "Value": 2, "Index high": 16, "Index low": 0},
            {"Loco": "A", "CV": 258, "Value": 4, "Index high": 16, "Index low": 1},
            {"Loco": "A", "CV": 35, "Value": 8},
        ],
    )

    assert _lines(card, READ) == [(8, 13), (7, 21), (29, None)]
    assert _lines(card) == [
        *[(17, 195), (18, 232), (29, 50), (19, 162), (20, 12), (21, 129), (22, 3), (2, 5)],
        *[(66 + step, 9 * step) for step in range(1, 29)],
        *[(35, 8), (49, 1)],
        *[(31, 16), (32, 0), (260, 2)],
        *[(31, 16), (32, 1), (258, 4), (300, 3)],
    ]


def test_an_engine_in_no_consist_is_taken_out_of_an_old_one_first() -> None:
    """NMRA S-9.2.1 (Jul 2012), Consist Control; the digits in CV20: RCN-225 (27.07.2025), CV19/20."""
    card = _card({"Address": 12}, readings=_read("19=38 20=12"))

    assert _lines(card) == [(19, 0), (20, 0), (1, 12), (29, 2)]


def test_old_digits_in_cv20_are_cleared_beside_a_consist_up_to_127() -> None:
    card = _card({"Address": 12}, consists=[_CONSIST | {"Address": 85}], readings=_read("20=12"))

    assert _lines(card) == [(1, 12), (29, 2), (19, 213), (20, 0)]


def test_a_table_with_a_gap_is_not_keyed_in_by_halves() -> None:
    card = _card({"Address": 12, "Speed curve": "table", "Speed table": "Even"}, tables=[_TABLE | {"5": ""}])

    assert _lines(card) == [(19, 0), (1, 12), (29, 2)]


@pytest.mark.parametrize(
    ("readings", "options", "lines"),
    [
        pytest.param("", CardOptions(), [(15, 2)], id="CV15 takes the decoder's number"),
        pytest.param("15=2 16=2", CardOptions(), [(15, 2)], id="also where it is open now"),
        pytest.param(
            "16=1",
            CardOptions(),
            [(15, 1), (16, 2), (15, 2)],
            id="a decoder that has another number gets its own",
        ),
        pytest.param(
            "16=2", CardOptions(after_reset=True), [(16, 2), (15, 2)], id="after a reset it has none"
        ),
    ],
)
def test_the_lock_is_opened_before_anything_else(
    readings: str, options: CardOptions, lines: Sequence[tuple[int, int]]
) -> None:
    """NMRA S-9.2.2 (Jul 2012), CV15/16."""
    card = _card({"Address": 12, "Lock": 2}, options, readings=_read(readings))

    assert _lines(card)[: len(lines) + 1] == [*lines, (19, 0)]


def test_a_lock_that_was_read_as_closed_is_opened() -> None:
    card = _card({"Address": 12}, readings=_read("15=3 16=5"))

    assert _lines(card)[0] == (15, 5)


def test_changes_are_what_differs_or_was_never_read() -> None:
    card = _card(
        {"Address": 12, "DC operation": "off", "Vstart": 5, "Vhigh": 200},
        CardOptions(changes=True),
        readings=_read("1=12 29=6 19=0 2=5"),
    )

    assert _lines(card, KEY_IN, AGREES) == [(29, 2), (5, 200)]
    assert [step.last_read for step in card.steps if step.state == KEY_IN] == [6, None]


@pytest.mark.parametrize(
    ("readings", "lines"),
    [
        pytest.param("17=195 18=3 29=34 19=0", [(17, 195), (18, 232)], id="CV18 alone differs"),
        pytest.param("17=192 18=232 29=34 19=0", [(17, 195), (18, 232)], id="CV17 alone differs"),
        pytest.param("17=195 18=232 29=34 19=0", [], id="neither differs"),
    ],
)
def test_the_pair_is_keyed_in_whole(readings: str, lines: list[tuple[int, int]]) -> None:
    """NMRA S-9.2.1 (Jul 2012), long form, footnote 8."""
    card = _card({"Address": 1000}, CardOptions(changes=True), readings=_read(readings))

    assert _lines(card) == lines
    assert card.nothing_to_do is not bool(lines)


def test_a_new_short_address_clears_the_consist_which_is_keyed_in_again() -> None:
    """NMRA S-9.2.3 (Jul 2012), section E."""
    card = _card(
        {"Address": 12},
        CardOptions(changes=True),
        consists=[_CONSIST | {"Address": 85}],
        readings=_read("1=3 29=2 19=213"),
    )

    assert _lines(card) == [(1, 12), (19, 213)]


def test_an_index_is_keyed_in_only_before_what_is_left_of_it() -> None:
    index_0, index_1 = ({"Loco": "A", "Index high": 16, "Index low": low} for low in (0, 1))
    card = _card(
        {"Address": 12},
        CardOptions(changes=True),
        extras=[index_0 | {"CV": 257, "Value": 1}, index_1 | {"CV": 257, "Value": 2}],
        readings=[*_read("1=12 29=2 19=0"), index_0 | {"CV": 257, "Value": 1}],
    )

    assert _lines(card) == [(31, 16), (32, 1), (257, 2)]
    assert card.steps[-1].index == (16, 1)
    assert "index 16/1, manufacturer unique" in card.steps[-1].meaning


def test_after_a_reset_everything_is_keyed_in_whatever_was_read() -> None:
    card = _card(
        {"Address": 12}, CardOptions(after_reset=True, changes=True), readings=_read("1=12 29=2 19=0")
    )

    assert _lines(card) == [(19, 0), (1, 12), (29, 2)]
    assert any("factory values" in caution for caution in card.cautions)


@pytest.mark.parametrize(
    ("mode", "entries"),
    [
        pytest.param(WriteMode.DIRECT, ["CV8", "CV7", "CV29", "CV19", "CV1", "CV29", "CV3"], id="direct"),
        pytest.param(WriteMode.PAGED, ["CV8", "CV7", "CV29", "CV19", "CV1", "CV29", "CV3"], id="paged"),
        pytest.param(WriteMode.REGISTER, ["R8", "R7", "R5", "R1", "R5", "R3"], id="register"),
        pytest.param(WriteMode.ADDRESS_ONLY, ["address"], id="address-only"),
        pytest.param(WriteMode.OPERATIONS, ["CV19", "CV1", "CV29", "CV3"], id="operations"),
    ],
)
def test_a_mode_calls_cvs(mode: WriteMode, entries: list[str]) -> None:
    """NMRA S-9.2.3 (Jul 2012), table of registers."""
    card = _card({"Address": 12, "Acceleration": 4}, CardOptions(mode=mode))

    assert [step.entry for step in card.steps] == entries
    assert {step.mode for step in card.steps} == {mode.value}


def test_paged_mode_says_page_and_register() -> None:
    """NMRA S-9.2.3 (Jul 2012), paged mode: CV65 is page 17, data register 0; they count from 1 here."""
    card = _card(
        {"Address": 12}, CardOptions(mode=WriteMode.PAGED), extras=[{"Loco": "A", "CV": 65, "Value": 1}]
    )

    assert card.steps[-1].meaning == "kick start (page 17, R1)"


@pytest.mark.parametrize(
    ("readings", "state"),
    [
        pytest.param("", "not in operations mode unless bit 5", id="nobody knows bit 5"),
        pytest.param("29=34", "not in operations mode unless bit 5", id="bit 5 would change"),
        pytest.param("29=6", KEY_IN, id="bit 5 stays"),
        pytest.param("29=2", AGREES, id="nothing changes"),
    ],
)
def test_operations_mode_leaves_the_choice_of_the_address_alone(readings: str, state: str) -> None:
    """Common practice, no source: S-9.2.1 (Jul 2012) forbids none of it."""
    engine = {"Address": 12, "DC operation": "off"}
    card = _card(engine, CardOptions(mode=WriteMode.OPERATIONS), readings=_read(readings))

    states = {step.cv: step.state for step in card.steps}
    assert states[1] == "not in operations mode: use the programming track"
    assert states[29].startswith(state)
    assert states[19] == KEY_IN


@pytest.mark.parametrize(
    "mode", [WriteMode.REGISTER, WriteMode.ADDRESS_ONLY, WriteMode.OPERATIONS, WriteMode.PAGED]
)
def test_the_list_before_says_clearly_what_a_mode_cannot_do(mode: WriteMode) -> None:
    card = _card({"Address": 12}, CardOptions(mode=mode))

    words = {
        WriteMode.REGISTER: "Register mode reaches CV1 to CV4, CV7, CV8 and CV29 only",
        WriteMode.ADDRESS_ONLY: "Address-only mode writes the short address and nothing else",
        WriteMode.OPERATIONS: "In operations mode the address (CV1, CV17, CV18)",
        WriteMode.PAGED: "Paged mode ends at CV1020",
    }
    assert any(line.startswith(words[mode]) for line in card.before)


def test_the_list_before_names_no_pair_of_cvs_that_operations_mode_leaves_alone() -> None:
    before = _card({"Address": 1012}, CardOptions(mode=WriteMode.OPERATIONS)).before

    assert [line for line in before if "directly one after the other" in line] == []
    assert "Key in from top to bottom, CV31 and CV32 directly before the CVs of their index." in before


def test_the_list_before_speaks_of_registers_in_register_mode_and_of_no_lock() -> None:
    before = _card({"Address": 12}, CardOptions(mode=WriteMode.REGISTER)).before

    assert any(line.startswith("Read R8 and R7 first: if") for line in before)
    assert any(line.startswith("Where R5 (CV29) is read first") for line in before)
    assert [line for line in before if "CV15" in line] == []


def test_the_list_before_asks_for_nothing_that_address_only_mode_cannot_do() -> None:
    before = _card({"Address": 12}, CardOptions(mode=WriteMode.ADDRESS_ONLY)).before

    assert [line for line in before if "Read CV8" in line or "CV17 and CV18" in line] == []
    assert any(line.startswith("Read each back") for line in before)


def test_an_engine_too_long_for_the_section_is_not_to_be_keyed_in_there() -> None:
    made = roster(
        [{"Loco": "A", "Address": 12, "Length": 15}],
        layout={"Length unit": "in", "Programming track length": 16.5, "Clearance": 1},
    )

    (card,) = cards_of(made)
    (on_the_running_track,) = cards_of(made, options=CardOptions(mode=WriteMode.OPERATIONS))

    assert card.cautions == [
        "Too long for the section: 15 in, and there is room for 14.5 in. Do not key anything in here."
    ]
    assert on_the_running_track.cautions == []
