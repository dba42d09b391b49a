"""Before a reset: what to read of a decoder. After it: what puts the newest readings back."""

import json
from collections.abc import Mapping, Sequence
from pathlib import Path
from typing import Any

import pytest
from hypothesis import given
from hypothesis import strategies as st
from jsonschema import Draft202012Validator
from openpyxl import load_workbook

from rosterkit.cards.card import Card, CardOptions, cards_of
from rosterkit.cards.read_out import read_out_cards
from rosterkit.cards.report import cards_text
from rosterkit.cards.restore import restore_cards
from rosterkit.cards.steps import KEY_IN, READ, READ_OUT
from rosterkit.cards.write_modes import WriteMode
from rosterkit.cv.to_read import never_written
from rosterkit.errors import CannotRunError
from rosterkit.roster.schema import schema_file
from rosterkit.standards.cv_names import named_cvs
from rosterkit.template.new_workbook import new_workbook
from tests.command_line import run
from tests.rosters import roster

ENGINE: dict[str, object] = {"Loco": "A", "Address": 12}
FIRST = [8, 7, 1, 17, 18, 29, 19, 20, 21, 22, 2, 5, 6, 3, 4]
OPTIONAL = [*range(9, 15), 23, 24, 25, 27, 28, *range(33, 47), 65, 66, 95, 96, 105, 106]
BASICS = [*FIRST, *OPTIONAL]
"""NMRA S-9.2.2 (Jul 2012), Table 1, and RCN-225 (27.07.2025), section 2: what has a name and can be set."""
TABLE = [*range(67, 95)]


def _cvs(card: Card) -> list[int]:
    return [step.cv for step in card.steps]


def _extra(cv: int, value: int = 1, high: int | None = None, low: int | None = None) -> dict[str, Any]:
    index = {} if high is None else {"Index high": high, "Index low": low}
    return {"Loco": "A", "CV": cv, "Value": value, **index}


def _reading(cv: int, value: int | str, high: int | str = "", low: int | str = "") -> dict[str, Any]:
    return {"Loco": "A", "CV": cv, "Value": value, "Index high": high, "Index low": low}


@pytest.mark.parametrize(
    ("engine", "others", "cvs"),
    [
        pytest.param({}, {}, BASICS, id="a decoder of which nothing is known"),
        pytest.param(
            {"Decoder": "D"},
            {"decoders": [{"Decoder": "D", "Long address": "no", "CV20": "no"}]},
            [cv for cv in BASICS if cv not in (17, 18, 20)],
            id="without what its kind lacks",
        ),
        pytest.param(
            {"Decoder": "D"},
            {"decoders": [{"Decoder": "D", "CV20": "no"}], "readings": [_reading(20, 0)]},
            [*(cv for cv in BASICS if cv != 20), 20],
            id="with what was read of it all the same",
        ),
        pytest.param(
            {"Speed curve": "table"}, {}, [*FIRST, *TABLE, *OPTIONAL], id="with the speed table in use"
        ),
        pytest.param(
            {},
            {"readings": [_reading(29, 18)]},
            [*FIRST, *TABLE, *OPTIONAL],
            id="with one that CV29 turns to",
        ),
        pytest.param(
            {}, {"extras": [_extra(120), _extra(49), _extra(35)]}, [*BASICS, 49, 120], id="extra values"
        ),
        pytest.param(
            {},
            {"extras": [_extra(49), _extra(300, 5, 16, 1), _extra(300, 5, 16, 0), _extra(299, 5, 16, 1)]},
            [*BASICS, 49, 31, 32, 300, 31, 32, 299, 300],
            id="CVs of an index, index by index",
        ),
        pytest.param(
            {},
            {"readings": [_reading(300, 5)]},
            [*BASICS, 31, 32, 300],
            id="a CV of an index that nobody noted, after the index",
        ),
        pytest.param({}, {"readings": [_reading(112, "")]}, [*BASICS, 112], id="what gave no acknowledgment"),
        pytest.param({"Lock": 2}, {}, [15, *BASICS, 15, 16], id="a decoder behind a lock, opened first"),
    ],
)
def test_the_list_before_a_reset_has(
    engine: Mapping[str, object], others: Mapping[str, Any], cvs: Sequence[int]
) -> None:
    (card,) = read_out_cards(roster([{**ENGINE, **engine}], **others))

    assert _cvs(card) == cvs


def test_the_list_has_values_only_to_know_the_engine_and_to_reach_cvs() -> None:
    made = roster(
        [ENGINE | {"Decoder": "D"}],
        decoders=[{"Decoder": "D", "Manufacturer ID": 13}],
        extras=[_extra(300, 5, 16, 1)],
        readings=[_reading(1, 12)],
    )

    (card,) = read_out_cards(made)

    valued = [(step.cv, step.value, step.state) for step in card.steps if step.value is not None]
    assert valued == [(8, 13, READ_OUT), (31, 16, KEY_IN), (32, 1, KEY_IN)]
    assert [step.last_read for step in card.steps if step.cv == 1] == [12]
    assert "the maker's instructions say which. What was not written down before is lost." in " ".join(
        cards_text([card]).split()
    )
    assert "its maker's instructions say; they come first." in " ".join(cards_text([card]).split())
    assert "read first" not in cards_text([card])


@pytest.mark.parametrize(
    ("readings", "said"),
    [
        pytest.param([], True, id="where CV29 was never read"),
        pytest.param([_reading(29, 2)], False, id="not where it was read without bit 4"),
    ],
)
def test_the_list_says_when_the_speed_table_is_to_be_read_too(readings: Any, *, said: bool) -> None:
    (card,) = read_out_cards(roster([ENGINE], readings=readings))

    assert any("read CV67 to CV94 too" in text for text in card.cautions) is said


@pytest.mark.parametrize(
    ("mode", "said"),
    [
        pytest.param(WriteMode.DIRECT, True, id="where they are on the list"),
        pytest.param(WriteMode.REGISTER, False, id="not where the mode reaches none of them"),
    ],
)
def test_the_list_says_which_cvs_a_decoder_need_not_have_and_what_it_leaves_out(
    mode: WriteMode, *, said: bool
) -> None:
    (card,) = read_out_cards(roster([ENGINE]), (), CardOptions(mode=mode))

    optional = "CV9 to CV14, CV23 to CV25, CV27, CV28, CV33 to CV46, CV65, CV66, CV95, CV96, CV105, CV106."
    assert (f"Only where the decoder has them, as it need not: {optional}" in card.before) is said
    assert any("leaves out CV67 to CV94" in text and "those of an index" in text for text in card.before)


def test_the_list_has_every_cv_with_a_name_that_can_be_put_back_but_an_unused_table() -> None:
    (card,) = read_out_cards(roster([ENGINE]))

    left_out = set(named_cvs()) - set(_cvs(card))
    assert left_out == {*TABLE, 15, 16, 30, 31, 32, *range(107, 112)}
    assert all(never_written(cv) for cv in left_out - set(TABLE))


@pytest.mark.parametrize(
    ("make", "mode", "said"),
    [
        pytest.param(
            read_out_cards, WriteMode.OPERATIONS, "CVs are not read one by one", id="which does not read"
        ),
        pytest.param(
            read_out_cards, WriteMode.ADDRESS_ONLY, "CVs are not read one by one", id="which reads no CVs"
        ),
        pytest.param(
            restore_cards, WriteMode.OPERATIONS, "addresses are not written", id="which writes no address"
        ),
        pytest.param(
            restore_cards, WriteMode.ADDRESS_ONLY, "only the short address is", id="which writes little else"
        ),
    ],
)
def test_a_mode_is_refused(make: Any, mode: WriteMode, said: str) -> None:
    with pytest.raises(CannotRunError, match=f"in {mode.value} mode {said}"):
        make(roster([ENGINE]), (), CardOptions(mode=mode))


def test_in_register_mode_the_list_has_what_it_reaches_and_names_the_rest() -> None:
    (card,) = read_out_cards(roster([ENGINE]), (), CardOptions(mode=WriteMode.REGISTER))

    assert _cvs(card) == [8, 7, 1, 29, 2, 3, 4]
    assert any("to be read by another: CV5, CV6, CV9 to CV14, CV17" in text for text in card.cautions)


def _restored(readings: Sequence[Mapping[str, object]], **engine: object) -> Card:
    (card,) = restore_cards(roster([{**ENGINE, **engine}], readings=readings), ["A"])
    return card


def _keyed(card: Card) -> list[tuple[int, int | None]]:
    return [(step.cv, step.value) for step in card.steps if step.state == KEY_IN]


READ_BEFORE = {8: 13, 7: 4, 5: 200, 2: 8, 67: 3, 94: 255, 19: 85, 29: 50, 18: 54, 17: 200, 1: 3}
READ_BEFORE |= {21: 1, 49: 7, 35: 4, 31: 16, 32: 0, 30: 1, 107: 1, 15: 0, 16: 0}


def test_readings_are_put_back_in_the_safe_order_and_what_is_never_written_is_named() -> None:
    readings = [_reading(cv, value) for cv, value in READ_BEFORE.items()]
    readings += [_reading(300, 9, 16, 1), _reading(299, 8, 16, 1), _reading(300, 7, 16, 0), _reading(301, 6)]

    card = _restored(readings)

    assert _keyed(card) == [
        *[(1, 3), (17, 200), (18, 54), (29, 34), (19, 85), (21, 1), (2, 8), (5, 200), (67, 3), (94, 255)],
        *[(35, 4), (49, 7), (31, 16), (32, 0), (300, 7), (31, 16), (32, 1), (299, 8), (300, 9)],
    ]
    assert [(step.cv, step.value) for step in card.steps if step.state == READ] == [(8, 13), (7, 4), (107, 1)]
    assert str(card.address) == "long 2102"
    assert card.cautions[1:] == [
        "Not put back, the decoder's identity, never written: CV7, CV8, CV107.",
        "Not put back, the lock, which the column Lock sets: CV15, CV16.",
        "Not put back, what went wrong, as the decoder notes it: CV30.",
        "Not put back, the index, written before the CVs that it is for: CV31, CV32.",
        "Not put back, read without the index (CV31 and CV32): CV301.",
        "Not put back, as no value was read, so that what the reset left stays: CV3, CV4, CV6, "
        "CV9 to CV14, CV20, CV22 to CV25, CV27, CV28, CV33, CV34, CV36 to CV46, CV65, CV66, CV68 to CV93, "
        "CV95, CV96, CV105, CV106.",
    ]


@pytest.mark.parametrize(
    ("read", "held", "keyed"),
    [
        pytest.param({1: 12, 29: 2}, [], [(1, 12), (29, 2)], id="nothing of a short address"),
        pytest.param(
            {17: 200, 29: 34, 1: 3},
            [(29, "CV17 and CV18"), (17, "CV18 was not read")],
            [(1, 3)],
            id="half a pair",
        ),
        pytest.param({17: 0, 18: 5, 1: 3}, [(17, "not a long address")], [(1, 3)], id="a pair that is none"),
        pytest.param(
            {1: 0, 29: 2}, [(1, "0 is not a short"), (29, "in CV1, which is not known")], [], id="no address"
        ),
        pytest.param({29: 34}, [(29, "CV17 and CV18, which is not known")], [], id="CV29 alone, long"),
        pytest.param({1: 3, 29: 192}, [(29, "an accessory decoder's")], [(1, 3)], id="an accessory's CV29"),
    ],
)
def test_what_would_leave_an_engine_on_an_address_nobody_knows_is_held_back(
    read: Mapping[int, int], held: Sequence[tuple[int, str]], keyed: Sequence[tuple[int, int]]
) -> None:
    card = _restored([_reading(cv, value) for cv, value in read.items()])

    found = [(step.cv, step.state) for step in card.steps if step.state.startswith("held back: ")]
    assert _keyed(card) == keyed
    assert sorted(cv for cv, _ in found) == sorted(cv for cv, _ in held)
    for cv, reason in held:
        assert any(one == cv and reason in state for one, state in found)


def test_the_newest_reading_is_put_back_and_one_without_a_value_is_not() -> None:
    card = _restored(
        [
            {"Date": "2026-05-01", **_reading(2, 8)},
            {"Date": "2026-04-01", **_reading(2, 7)},
            {"Date": "2026-04-01", **_reading(3, 7)},
            {"Date": "2026-05-01", **_reading(3, "")},
            {"Date": "2026-04-01", **_reading(4, 7)},
            {"Date": "2026-05-01", **_reading(4, "high")},
        ]
    )

    assert _keyed(card) == [(2, 8)]
    assert "CV1, CV3 to CV6," in card.cautions[-1]


@pytest.mark.parametrize(
    ("readings", "caution"),
    [
        pytest.param([], "there is no reading of this engine", id="there are none"),
        pytest.param(
            [_reading(1, 255), _reading(29, "")], "probably nothing was read", id="nothing was read"
        ),
    ],
)
def test_without_readings_a_card_says_so_and_keys_nothing_in(readings: Any, caution: str) -> None:
    card = _restored(readings)

    assert (card.steps, any(caution in text for text in card.cautions)) == ([], True)


@pytest.mark.parametrize(
    ("lock", "keyed", "said", "left"),
    [
        pytest.param("", [], None, True, id="none, where the column Lock is blank"),
        pytest.param(3, [(16, 3), (15, 3)], "nothing before CV16 and CV15 = 3", False, id="that column"),
    ],
)
def test_the_lock_that_a_card_sets_is_spoken_of_once(
    lock: object, keyed: Sequence[tuple[int, int]], said: str | None, *, left: bool
) -> None:
    """A reset may leave the maker's default in CV16, and a CV15 that differs shuts the decoder.

    NMRA S-9.2.2 (Jul 2012), CV15/16; RCN-226 (2014), section 2.1.
    """
    card = _restored([_reading(1, 12), _reading(15, 3), _reading(16, 3)], Lock=lock)

    assert _keyed(card) == [*keyed, (1, 12)]
    assert [text for text in card.cautions if said and said in text] == [
        "Several decoders in this engine: nothing before CV16 and CV15 = 3, as the column Lock says. After a "
        "reset CV16 may hold the maker's default, and CV15 alone would then shut the lock."
    ] * (said is not None)
    assert any("Not put back, the lock" in text for text in card.cautions) is left


@pytest.mark.parametrize(
    ("read", "said"),
    [
        pytest.param({}, "nothing before CV15 = 3.", id="CV15 where nothing else is known"),
        pytest.param({16: 3}, "nothing before CV15 = 3.", id="CV15 where CV16 was read as it should be"),
        pytest.param({16: 2}, "nothing before CV16 and CV15 = 3: another number", id="else CV16 too"),
    ],
)
def test_what_comes_first_with_several_decoders_is(read: Mapping[int, int], said: str) -> None:
    readings = [_reading(cv, value) for cv, value in read.items()]

    (card,) = cards_of(roster([ENGINE | {"Lock": 3}], readings=readings))

    assert any(said in text for text in card.cautions)


@pytest.mark.parametrize(
    ("table", "keyed", "state"),
    [
        pytest.param([67], 42, "of its 28 CVs (CV67 to CV94) 1 was read with a value", id="one of it"),
        pytest.param(TABLE[:-1], 42, "27 were read with a value", id="all but one"),
        pytest.param([], 42, "none was read with a value", id="nothing of it"),
        pytest.param(TABLE, 58, None, id="put back where all of it was read"),
    ],
)
def test_bit_4_of_cv29_waits_for_a_whole_speed_table(
    table: Sequence[int], keyed: int, state: str | None
) -> None:
    """RCN-225 (27.07.2025), CV29 bit 4: CV67 to CV94."""
    readings = [_reading(17, 200), _reading(18, 54), _reading(29, 58), *(_reading(cv, 9) for cv in table)]

    card = _restored(readings)

    assert (29, keyed) in _keyed(card)
    assert [cv for cv, _ in _keyed(card) if cv in TABLE] == list(table)
    held = [step for step in card.steps if step.state.startswith("held back: ")]
    assert [(step.cv, "speed table in use (bit 4)" in step.meaning) for step in held] == [(29, True)] * (
        state is not None
    )
    assert all(state in step.state for step in held if state)


def test_a_card_says_of_a_reset_only_what_is_sure() -> None:
    """CV1 = 3 is the default where a decoder was not made for an engine (NMRA S-9.2.2 (Jul 2012), CV1).

    Resets of a part: RCN-226 (2014), section 2.2.
    """
    assert _restored([_reading(1, 12)]).cautions[0] == (
        "As after a reset to factory values: as a rule the engine answers short 3 until it has its address; "
        "the maker's instructions say what a reset sets."
    )


def test_without_labels_only_engines_with_readings_have_a_card() -> None:
    made = roster([ENGINE, {"Loco": "B", "Address": 13}], readings=[_reading(1, 12)])

    assert [card.loco for card in restore_cards(made)] == ["A"]


_PLAIN = st.sampled_from([*range(1, 7), *range(17, 25), 29, 33, 46, 49, *TABLE, 112, 120])
_INDEXED = st.tuples(st.integers(257, 512), st.integers(16, 18), st.integers(0, 2))
_CVS = st.dictionaries(st.one_of(_PLAIN.map(lambda cv: (cv, "", "")), _INDEXED), st.integers(0, 255))


@given(_CVS)
def test_a_decoder_that_was_reset_holds_what_was_read_when_the_card_is_keyed_in(
    read: dict[tuple[int, Any, Any], int],
) -> None:
    """Hold it against a decoder by the letter of NMRA S-9.2.3 (Jul 2012), section E, and S-9.2.1, footnote 8.

    A new CV1 clears bit 5 of CV29 and CV19; CV17 takes effect with CV18; CVs of an index need CV31 and CV32.
    """
    card = _restored([_reading(cv, value, high, low) for (cv, high, low), value in read.items()])
    decoder: dict[tuple[int, Any, Any], int] = {(1, "", ""): 3, (29, "", ""): 6}
    waiting = None
    for cv, value in _keyed(card):
        assert value is not None
        assert cv not in (7, 8)
        assert waiting is None or cv == 18
        key = (cv, decoder[31, "", ""], decoder[32, "", ""]) if 257 <= cv <= 512 else (cv, "", "")
        waiting = value if cv == 17 else None
        decoder[key] = value
        if cv == 1:
            decoder[29, "", ""] &= ~32
            decoder[19, "", ""] = 0

    assert not decoder[29, "", ""] & 16 or all((cv, "", "") in read for cv in TABLE)
    held = {step.cv for step in card.steps if step.state.startswith("held back")}
    held |= {18} if 17 in held else set()
    put_back = {key: value for key, value in read.items() if key[0] not in held}
    if any("probably nothing was read" in text for text in card.cautions) or not read:
        return
    assert {key: decoder.get(key) for key in put_back} == put_back


@pytest.fixture
def path(tmp_path: Path) -> Path:
    path = tmp_path / "club.xlsx"
    engines: list[dict[str, str | int | float | None]] = [{"loco": "A", "address": 12, "vstart": 8}]
    devices: list[dict[str, str | int | float | None]] = [
        {"accessory": "Throat", "kind": "turnout", "address": 1}
    ]
    path.write_bytes(new_workbook({"Locomotives": engines, "Accessories": devices}))
    return path


@pytest.mark.parametrize("kind", ["--read-out", "--restore"])
def test_the_other_forms_are_those_of_cards(path: Path, kind: str) -> None:
    run("cards", path, "--loco", "A", "--record", "1=12 29=2 2=8")

    as_json = json.loads(run("cards", path, kind, "--format", "json").out)
    as_csv = run("cards", path, kind, "--format", "csv").out.splitlines()
    ran = run("cards", path, kind, "-o", path.with_name("list.xlsx"))

    Draft202012Validator(schema_file("outputs/cards.json")).validate(as_json)
    sheet = load_workbook(path.with_name("list.xlsx")).worksheets[0]
    entries = [cell.value for cell in sheet["B"] if str(cell.value).startswith("CV")][1:]
    assert entries == [step["entry"] for step in as_json["cards"][0]["steps"]]
    assert len(as_csv) == len(entries) + 1
    assert ran.err == f"made {path.with_name('list.xlsx')}\n"
    assert run("cards", path, kind, "-o", path.with_name("list.xlsx")).status == 2


@pytest.mark.parametrize(
    "words",
    [
        pytest.param(["--read-out", "--restore"], id="before and after at once"),
        pytest.param(["--read-out", "--changes"], id="only changes of a list that has no values"),
        pytest.param(["--restore", "--loco", "A", "--record", "1=3"], id="with something to record"),
        pytest.param(["--read-out", "--loco", "Throat"], id="of an accessory"),
    ],
)
def test_what_does_not_go_together_is_refused(path: Path, words: Sequence[str]) -> None:
    ran = run("cards", path, *words)

    assert (ran.status, ran.out, ran.err.count("\n")) == (2, "", 1)


def test_what_was_read_out_comes_back(path: Path) -> None:
    """Read out, record, reset, restore: nothing is left over."""
    steps = json.loads(run("cards", path, "--read-out", "--format", "json").out)["cards"][0]["steps"]
    values = {step["cv"]: (12 if step["cv"] == 1 else 200 if step["cv"] == 17 else 2) for step in steps}
    run("cards", path, "--loco", "A", "--record", " ".join(f"{cv}={value}" for cv, value in values.items()))

    card = json.loads(run("cards", path, "--restore", "--format", "json").out)["cards"][0]

    keyed = {step["cv"]: step["value"] for step in card["steps"] if step["state"] == "key in"}
    assert keyed == {cv: value for cv, value in values.items() if cv not in (7, 8)}
    assert not [text for text in card["cautions"] if "no value was read" in text]


def test_cards_of_no_engine_with_readings_are_said_to_be_none(path: Path) -> None:
    assert "no engine has a reading" in run("cards", path, "--restore").err
