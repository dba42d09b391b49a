"""A meet from everybody's workbooks to the plan, the cards and the meet workbook."""

import json
from collections.abc import Iterable, Mapping, Sequence
from pathlib import Path

import pandas as pd
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from jsonschema import Draft202012Validator
from openpyxl import load_workbook
from typer.testing import CliRunner

from rosterkit.cards.card import Card, CardOptions, MeetPhase
from rosterkit.cards.meet_cards import Away, away_of, cvs_at_meet, meet_cards
from rosterkit.cards.steps import KEY_IN
from rosterkit.cli.app import app
from rosterkit.commands.cards import cards
from rosterkit.commands.meet.attendance import attendance_of
from rosterkit.commands.meet.command import make_meet_workbook, plan_meet
from rosterkit.commands.meet.meet import Meet, away_in, cards_for
from rosterkit.commands.meet.report import meet_json
from rosterkit.commands.meet.sheets import meet_sheets, number_of_sheets
from rosterkit.cv.addresses import Address, Space
from rosterkit.cv.engine import cvs_of
from rosterkit.errors import CannotRunError
from rosterkit.planning.addresses import plan_moves
from rosterkit.roster.schema import schema_file
from rosterkit.template.new_workbook import new_workbook
from tests.rosters import Rows, grid, roster, sheet_of, workbook_of
from tests.rosters import enrolled as made
from tests.samples.meet import meet_books


@pytest.fixture(scope="module")
def books(tmp_path_factory: pytest.TempPathFactory) -> list[Path]:
    folder = tmp_path_factory.mktemp("meet")
    for name, records in meet_books().items():
        (folder / name).write_bytes(new_workbook(records))
    return sorted(folder.glob("*.xlsx"))


@pytest.fixture(scope="module")
def meet(books: list[Path]) -> Meet:
    return plan_meet(books)


@pytest.mark.parametrize(
    ("engines", "expected"),
    [
        pytest.param(("M01: JV 12", "M02: NE 12"), {"M02: NE 12": "long 5212"}, id="two shorts"),
        pytest.param(("M01: JV 41", "M02: NE 5204"), {"M01: JV 41": "short 41"}, id="a short and a consist"),
        pytest.param(("M00: JV 2107", "M03: KC 2107"), {"M03: KC 2107": "long 217"}, id="two longs"),
        pytest.param(
            ("M01: JV 600", "M02: NE 600", "M03: KC 600"),
            {"M01: JV 600": "short 60", "M02: NE 600": "long 5222"},
            id="a triple",
        ),
        pytest.param(
            ("M02: Unit 66 motor", "M02: Unit 66 sound", "M03: SM 6640"),
            {"M03: SM 6640": "long 664"},
            id="a set that shares on purpose, and one outside it",
        ),
        pytest.param(("M03: KC 50",), {"M03: KC 50": "short 50"}, id="an address from another's range"),
        pytest.param(("M03: KC 14",), {"M03: KC 14": "short 14"}, id="an engine left at 3"),
        pytest.param(
            ("M02: NE 5201", "M03: NE 5201 again"),
            {"M03: NE 5201 again": "long 521"},
            id="one engine entered by two owners",
        ),
    ],
)
def test_each_kind_of_clash_is_resolved_by_the_fewest_moves(
    meet: Meet, engines: Sequence[str], expected: Mapping[str, str]
) -> None:
    moved = {key: str(address) for key, address in meet.new_addresses.items()}

    assert {key: moved[key] for key in engines if key in moved} == expected


def test_nothing_else_moves_and_nothing_is_left_over(meet: Meet) -> None:
    assert meet.plan.cost.moved == 9
    assert len(meet.plan.moves) == 9
    assert meet.plan.unresolved == ()


def test_a_move_of_an_engine_entered_twice_says_that_it_may_not_be_needed(meet: Meet) -> None:
    because = {move.party.name: move.because for move in meet.plan.moves}

    assert because["M03: NE 5201 again"].endswith(
        "if it is the same engine as M02: NE 5201, remove one row and it stays"
    )


def test_the_clashes_are_those_that_a_plain_script_finds(books: list[Path], meet: Meet) -> None:
    frames = [
        pd.read_excel(book, sheet_name="Locomotives", dtype=object, engine="openpyxl") for book in books
    ]
    frame = pd.concat(frames, ignore_index=True)
    frame["kind"] = ["short" if address < 128 else "long" for address in frame["Address"]]
    frame["engine"] = frame["Number"].where(frame["Lock"].notna(), frame["Loco"])
    consist = pd.DataFrame([{"kind": "short", "Address": 84, "engine": "consist"}])
    together = pd.concat([frame[["kind", "Address", "engine"]], consist]).drop_duplicates()
    together["address"] = together["kind"] + " " + together["Address"].astype(str)
    counts = together.groupby("address").size()

    expected = set(counts[counts > 1].index)
    assert {str(clash.address) for clash in meet.plan.clashes} == expected


def test_the_json_form_is_as_its_schema_says(meet: Meet) -> None:
    document = json.loads(meet_json(meet))

    Draft202012Validator(schema_file("outputs/meet.json")).validate(document)
    assert [move["owner"] for move in document["moves"]] == ["M01"] * 2 + ["M02"] * 2 + ["M03"] * 5
    assert document["moves"][4] == {
        "workbook": meet.workbooks[2][0],
        "loco": "KC 2107",
        "owner": "M03",
        "consist": None,
        "from": {"kind": "long", "address": 2107},
        "to": {"kind": "long", "address": 217},
        "because": "long 2107 is also the address of M00: JV 2107; 217: 2107 with one digit dropped",
    }


def test_a_workbook_that_cannot_be_read_is_a_finding_and_the_others_go_on(
    books: list[Path], tmp_path: Path
) -> None:
    broken = tmp_path / "broken.xlsx"
    broken.write_bytes(b"PK\x03\x04 and no more")

    found = plan_meet([*books, broken])

    assert [f.place.workbook for f in found.findings if f.rule == "workbook-unread"] == [str(broken)]
    assert found.plan.cost.moved == 9


def test_a_meet_to_which_nobody_comes_is_refused(tmp_path: Path) -> None:
    path = tmp_path / "home.xlsx"
    path.write_bytes(new_workbook({"Locomotives": [{"loco": "A", "address": 12}]}))

    with pytest.raises(CannotRunError, match="no engine comes to the meet"):
        plan_meet([path])


def test_many_workbooks_are_read_side_by_side_with_the_same_result(tmp_path: Path) -> None:
    many = []
    for number in range(5):
        for name, records in meet_books().items():
            engines = [{**one, "railway": f"Line {number}"} for one in records["Locomotives"]]
            many.append(tmp_path / f"{number} {name}")
            many[-1].write_bytes(new_workbook({**records, "Locomotives": engines}))

    alone, together = plan_meet(many, processes=1), plan_meet(many, processes=2)

    assert together.workbooks == alone.workbooks
    assert [(m.party.name, m.after) for m in together.plan.moves] == [
        (m.party.name, m.after) for m in alone.plan.moves
    ]
    assert together.findings == alone.findings


def test_the_meet_workbook_has_a_sheet_for_the_keeper_and_for_each_member(
    books: list[Path], tmp_path: Path
) -> None:
    out = tmp_path / "MEET.xlsx"

    make_meet_workbook(books, out)

    workbook = load_workbook(out)
    assert workbook.sheetnames == [
        "Meet",
        "Moves",
        "Clashes",
        "Findings",
        "By owner",
        "By address",
        "Address map",
        "M00",
        "M01",
        "M02",
        "M03",
    ]
    moves = [[cell.value for cell in row][:5] for row in workbook["Moves"].iter_rows(min_row=2)]
    assert [row[0] for row in moves] == ["M01"] * 2 + ["M02"] * 2 + ["M03"] * 5
    assert moves[6] == ["M03", "KC 14", "Kettle Creek Lumber 14", "short 3", "short 14"]
    assert [
        cell.hyperlink.location for row in workbook["Meet"].iter_rows() for cell in row if cell.hyperlink
    ][-1] == "'M03'!A1"


def test_the_bar_over_the_sheets_counts_as_many_as_there_are(meet: Meet) -> None:
    assert number_of_sheets(meet) == len(list(meet_sheets(meet)))


def test_a_member_s_sheet_has_what_to_key_in_before_and_what_puts_it_back(
    books: list[Path], tmp_path: Path
) -> None:
    out = tmp_path / "MEET.xlsx"

    make_meet_workbook(books, out)

    rows = [[cell.value for cell in row] for row in load_workbook(out)["M01"].iter_rows()]
    titles = [row[0] for row in rows if row[0] and str(row[0]).startswith("M01")]
    assert titles == [
        "M01: Autumn meet at the old goods shed",
        "M01: key in before the meet",
        "M01: restore the home addresses after the meet",
    ]
    values = [(row[1], row[2]) for row in rows if row[1] in ("CV1", "CV17", "CV18")]
    assert values == [
        ("CV1", 41),
        ("CV1", 60),
        ("CV17", 194),
        ("CV18", 88),
    ], "long 600 is 192 + 2 and 88 (NMRA S-9.2.2 (Jul 2012), CV17/18; derived)"
    assert [row[0] for row in rows].count("Nothing to key in before this is put right:") == 1
    assert any(str(row[0]).startswith("Error in Address: short 84 is reserved for consists") for row in rows)


@pytest.mark.parametrize("form", ["text", "json"])
def test_the_command_prints_the_plan_and_ends_with_1_while_there_are_clashes(
    books: list[Path], tmp_path: Path, form: str
) -> None:
    out = tmp_path / "MEET.xlsx"

    result = CliRunner().invoke(app, ["meet", *map(str, books), "-o", str(out), "--format", form])

    assert result.exit_code == 1
    assert "KC 2107" in result.stdout
    assert f"made {out}" in result.stderr
    assert out.exists()


def test_the_meet_workbook_never_replaces_a_member_s(books: list[Path]) -> None:
    before = books[0].read_bytes()

    with pytest.raises(CannotRunError, match="is there already"):
        make_meet_workbook(books, books[0])
    with pytest.raises(CannotRunError, match="is one of the members' workbooks"):
        make_meet_workbook(books, books[0], force=True)

    assert books[0].read_bytes() == before


def test_addresses_that_were_keyed_in_as_meet_addresses_leave_nothing_to_plan(tmp_path: Path) -> None:
    paths = []
    moved = {"JV 41": 41, "JV 600": 60, "NE 12": 5212, "NE 600": 5222, "KC 2107": 217, "KC 50": 50}
    moved |= {"KC 14": 14, "SM 6640": 664, "NE 5201 again": 521}
    for name, records in meet_books().items():
        engines = [
            {**engine, "meet_address": moved.get(str(engine["loco"]))} for engine in records["Locomotives"]
        ]
        paths.append(tmp_path / name)
        paths[-1].write_bytes(new_workbook({**records, "Locomotives": engines}))

    found = plan_meet(paths)

    assert found.plan.moves == ()
    assert [f.rule for f in found.findings if f.severity == "error"] == []


def test_a_consist_that_moves_is_keyed_in_at_each_of_its_engines() -> None:
    rows: Rows = [{"Loco": "A", "Address": 2101, "At meet": "yes"}]
    consists: Rows = [
        {"Consist": "Coal", "Address": 84, "Position": 1, "Loco": "A", "Facing": "reverse"},
    ]
    club = made(workbook_of(sheet_of("Locomotives", rows), sheet_of("Consists", consists)))
    away = Away(address=Address(Space.LONG, 2101), consist=Address(Space.SHORT, 86))

    cvs = cvs_at_meet(club.engines[0], club, away)

    assert cvs.value(19) == 86 + 128, "NMRA S-9.2.2 (Jul 2012), CV19, derived"


def test_a_meet_address_in_the_sheet_consists_is_keyed_in_before_the_meet_and_goes_after_it() -> None:
    rows: Rows = [
        {"Loco": "A", "Address": 2101, "At meet": "yes"},
        {"Loco": "B", "Address": 2102, "At meet": "yes"},
        {"Loco": "C", "Address": 2103, "At meet": "no"},
    ]
    consists: Rows = [
        {"Consist": "Coal", "Address": 84, "Loco": "A", "Facing": "reverse", "Meet address": 86},
        {"Consist": "Coal", "Address": 84, "Loco": "C", "Meet address": 86},
        {"Consist": "Ore", "Address": 85, "Loco": "B", "Meet address": 85},
    ]
    club = made(workbook_of(sheet_of("Locomotives", rows), sheet_of("Consists", consists)))

    away = away_of(club)
    cv19 = [
        [step.value for card in meet_cards(club, away, phase) for step in card.steps if step.cv == 19]
        for phase in (MeetPhase.BEFORE, MeetPhase.AFTER)
    ]

    source = "NMRA S-9.2.2 (Jul 2012), CV19: 128 more where the engine runs in reverse"
    assert away == {0: Away(consist=Address(Space.SHORT, 86))}
    assert [values[-1] for values in cv19] == [86 + 128, 84 + 128], source


def test_a_meet_address_of_a_consist_that_no_address_can_be_is_held_back_at_the_meet_only() -> None:
    rows: Rows = [{"Loco": "A", "Address": 2101, "At meet": "yes"}]
    consists: Rows = [{"Consist": "Coal", "Address": 84, "Loco": "A", "Meet address": "long"}]
    club = made(workbook_of(sheet_of("Locomotives", rows), sheet_of("Consists", consists)))

    home, there = cvs_of(club.engines[0], club), cvs_of(club.engines[0], club, meet=True)

    assert (home.value(19), home.withheld) == (84, ())
    assert (there.value(19), [one.cv for one in there.withheld]) == (None, [19])


_ENGINES = st.fixed_dictionaries(
    {
        "address": st.one_of(st.integers(1, 127), st.integers(128, 10239)),
        "direction": st.sampled_from(["normal", "reversed"]),
        "consist": st.sampled_from([0, 5, 99]),
        "meet": st.one_of(st.integers(1, 127), st.integers(128, 10239)),
    }
)


def _keyed_in(decoder: Mapping[int, int], cards: Iterable[Card]) -> dict[int, int]:
    """Write a card into a decoder; CV1 clears CV29 bit 5 and CV19 (NMRA S-9.2.3 (Jul 2012), section E)."""
    held = dict(decoder)
    for step in (step for card in cards for step in card.steps if step.state == KEY_IN):
        assert step.value is not None
        held[step.cv] = step.value
        if step.cv == 1:
            held[29] = held.get(29, 0) & ~32
            held[19] = 0
    return held


@settings(max_examples=80, deadline=None)
@given(_ENGINES)
def test_the_cards_for_after_the_meet_restore_every_cv(engine: Mapping[str, object]) -> None:
    rows: Rows = [
        {
            "Loco": "A",
            "Address": engine["address"],
            "Direction": engine["direction"],
            "At meet": "yes",
        }
    ]
    consists: Rows = [
        {"Consist": "C", "Address": engine["consist"], "Position": 1, "Loco": "A", "Facing": "reverse"}
    ]
    sheets = [sheet_of("Locomotives", rows)] + ([sheet_of("Consists", consists)] if engine["consist"] else [])
    club = made(workbook_of(*sheets, grid("Notes", ("mine",))))
    number = int(str(engine["meet"]))
    away = {0: Away(address=Address(Space.SHORT if number < 128 else Space.LONG, number))}
    home = {cv_value.cv: cv_value.value for cv_value in cvs_of(club.engines[0], club).values}

    there = _keyed_in(home, meet_cards(club, away, MeetPhase.BEFORE))
    back = _keyed_in(there, meet_cards(club, away, MeetPhase.AFTER))

    answers = there[1] if not there[29] & 32 else (there[17] - 192) * 256 + there[18]
    assert answers == number
    assert there[19] == home[19]
    assert {cv: back[cv] for cv in home} == home


def test_readings_from_before_the_meet_do_not_shorten_the_cards_for_after_it() -> None:
    rows: Rows = [{"Loco": "A", "Address": 12, "At meet": "yes", "Meet address": 45}]
    readings: Rows = [{"Date": "2026-05-01", "Loco": "A", "CV": 1, "Value": 12}]
    club = made(workbook_of(sheet_of("Locomotives", rows), sheet_of("Readings", readings)))

    cards = meet_cards(club, {0: Away(address=Address(Space.SHORT, 45))}, MeetPhase.AFTER)

    assert [(step.cv, step.value, step.state) for step in cards[0].steps if step.cv == 1] == [(1, 12, KEY_IN)]


def test_the_cards_command_prints_both_sides_of_a_meet(tmp_path: Path) -> None:
    path = tmp_path / "club.xlsx"
    engines: list[Mapping[str, str | int | float | None]] = [
        {"loco": "A", "address": 12, "at_meet": "yes", "meet_address": 45},
        {"loco": "B", "address": 13, "at_meet": "yes"},
        {"loco": "C", "address": 14, "at_meet": "no", "meet_address": 46},
    ]
    path.write_bytes(new_workbook({"Locomotives": engines}))

    def keyed(side: str) -> list[tuple[str, int, int]]:
        result = CliRunner().invoke(app, ["cards", str(path), "--meet", side, "--format", "json"])
        return [
            (card["loco"], step["cv"], step["value"])
            for card in json.loads(result.stdout)["cards"]
            for step in card["steps"]
            if step["cv"] == 1
        ]

    assert keyed("before") == [("A", 1, 45)]
    assert keyed("after") == [("A", 1, 12)]


def test_engines_of_other_scales_with_the_same_gauge_share_rails() -> None:
    rows: Rows = [{"Loco": "A", "Address": 12, "At meet": "yes"}]
    ho, h0, n = (roster(rows, layout={"Scale": scale}, name=scale) for scale in ("HO", "H0", "N"))

    attendance = attendance_of([ho, h0, n])
    plan = plan_moves(attendance.engines, attendance.consists, attendance.rules_by_layout)

    assert [len(clash.parties) for clash in plan.clashes] == [2]


def test_a_member_has_one_sheet_however_the_code_is_spelt(tmp_path: Path) -> None:
    rows: list[dict[str, str | int | float | None]] = [
        {"loco": "A", "address": 12, "owner": "M01", "at_meet": "yes"},
        {"loco": "B", "address": 13, "owner": "m01", "at_meet": "yes"},
        {"loco": "C", "address": 14, "at_meet": "yes"},
    ]
    book = tmp_path / "club.xlsx"
    book.write_bytes(new_workbook({"Locomotives": rows}))
    meet = plan_meet([book])

    sheets = list(meet_sheets(meet))

    assert [sheet.title for sheet in sheets[-2:]] == ["No owner", "M01"]
    assert [row[0].value for row in sheets[-1].rows[3:5]] == ["A", "B"]
    assert len(sheets) == number_of_sheets(meet)


def test_findings_of_the_meet_workbook_name_files_without_their_folders(tmp_path: Path) -> None:
    books = []
    for name in ("one.xlsx", "other.xlsx"):
        row = {"loco": name, "address": 12, "owner": "M01", "at_meet": "yes", "railway": "Elm", "number": "7"}
        (tmp_path / name).write_bytes(new_workbook({"Locomotives": [row]}))
        books.append(tmp_path / name)
    (tmp_path / "torn.xlsx").write_bytes(b"PK torn")
    meet = plan_meet([*books, tmp_path / "torn.xlsx"])

    findings = next(sheet for sheet in meet_sheets(meet) if sheet.title == "Findings")

    said = [str(cell.value) for row in findings.rows for cell in row if cell.value is not None]
    assert "Elm 7 is also 'other.xlsx' (other.xlsx D2)" in said
    assert [text for text in said if str(tmp_path) in text] == []


def test_of_two_files_of_one_name_a_finding_says_which_folder(tmp_path: Path) -> None:
    for folder in ("home", "club"):
        (tmp_path / folder).mkdir()
        row = {"loco": folder, "address": 12, "at_meet": "yes"}
        (tmp_path / folder / "roster.xlsx").write_bytes(new_workbook({"Locomotives": [row]}))
    meet = plan_meet([tmp_path / "home" / "roster.xlsx", tmp_path / "club" / "roster.xlsx"])

    shared = [one.message for one in meet.findings if one.rule == "address-shared"]

    assert any(str(tmp_path / "club" / "roster.xlsx") in message for message in shared)


def test_the_sheets_for_afterwards_say_what_the_cards_of_each_workbook_say(
    books: Sequence[Path], tmp_path: Path
) -> None:
    make_meet_workbook(books, None, copies_to=tmp_path / "copies")
    copies = sorted((tmp_path / "copies").glob("*.xlsx"))
    again = plan_meet(copies)

    away = away_in(again)
    planned = cards_for([*again.attendance.attendees.values()], away, MeetPhase.AFTER, again)
    printed = [card for path in copies for card in cards(path, (), CardOptions(phase=MeetPhase.AFTER))]

    assert [_said(card) for card in planned] == [_said(card) for card in printed]
    assert {card.loco for card in planned if card.blocked}


def _said(card: Card) -> object:
    return card.workbook, card.loco, card.about, list(card.steps), list(card.cautions), card.blocked
