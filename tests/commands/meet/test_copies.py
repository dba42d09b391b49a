"""A meet's plan goes into copies of the members' workbooks, and out of them again; nothing else changes.

What changed is looked at by openpyxl, and in the zip archive part by part.
"""

from collections.abc import Callable, Sequence
from pathlib import Path

import openpyxl
import pytest

from rosterkit.cards.card import MeetPhase
from rosterkit.cards.meet_cards import away_of, meet_cards
from rosterkit.commands.check import check
from rosterkit.commands.fill import fill
from rosterkit.commands.meet.clear import clear_meet_addresses
from rosterkit.commands.meet.command import make_meet_workbook, plan_meet
from rosterkit.commands.meet.copies import make_copies
from rosterkit.errors import CannotRunError
from rosterkit.roster.load import roster_at
from rosterkit.template.new_workbook import new_workbook
from tests.command_line import run
from tests.commands.meet.differences import cells, changed_columns, changed_parts, club, sheet_parts
from tests.samples.__main__ import FOLDER
from tests.samples.meet import meet_books

_FOR_A_MEET = ("Meet address", "Meet kind")


@pytest.fixture
def folder(tmp_path: Path) -> Path:
    for name, records in meet_books().items():
        (tmp_path / name).write_bytes(new_workbook(records))
    return tmp_path


def paths_in(folder: Path) -> list[Path]:
    return sorted(folder.glob("*.xlsx"))


def files_in(folder: Path) -> dict[Path, bytes]:
    return {path: path.read_bytes() for path in folder.rglob("*") if path.is_file()}


def test_the_command_writes_copies_and_the_plan_and_says_so(folder: Path) -> None:
    spring = folder / "spring"

    done = run("meet", *paths_in(folder), "--apply", spring, "-o", spring / "MEET.xlsx")

    made = f"made {spring / 'MEET.xlsx'} and 3 copies in {spring}: 9 Meet addresses entered"
    assert (done.status, done.err.splitlines()[-1]) == (1, made)
    assert [path.name for path in paths_in(spring)] == ["M01.xlsx", "M02.xlsx", "M03.xlsx", "MEET.xlsx"]
    again = run("meet", *paths_in(spring), "-o", folder / "again.xlsx")
    sums = "20 engines from 3 workbooks: 0 clashes, 0 engines to readdress"
    assert again.out.splitlines()[-2].startswith(sums)


@pytest.mark.parametrize("name", ["M01.xlsx", "M02.xlsx", "M03.xlsx"])
def test_of_a_workbook_with_formulas_only_the_cells_for_the_meet_change(folder: Path, name: str) -> None:
    members = paths_in(folder)
    fill(folder / name)

    make_meet_workbook(members, None, copies_to=folder / "spring")

    before, copy = folder / name, folder / "spring" / name
    assert changed_columns(before, copy) == {("Locomotives", "Meet address")}
    assert changed_parts(before, copy) == sheet_parts(before, "Locomotives")
    mended = {"computed-stale", "formula-missing", "formula-damaged"}
    assert [finding.rule for finding in check([copy]).findings if finding.rule in mended] == []


@pytest.mark.filterwarnings("ignore:Workbook contains no default style")
@pytest.mark.parametrize("name", ["demo_club_libreoffice.xlsx", "demo_club_gnumeric.xlsx"])
def test_a_workbook_that_a_spreadsheet_program_saved_is_applied_and_cleared(folder: Path, name: str) -> None:
    source, copy = FOLDER / name, folder / "spring" / name

    meet = make_meet_workbook([source, *paths_in(folder)], None, copies_to=folder / "spring")

    assert meet.copies[copy] > 0
    assert changed_columns(source, copy) <= {("Locomotives", heading) for heading in _FOR_A_MEET}
    clear_meet_addresses([copy])
    assert cells(copy) == cells(source)


_TRAIN = [
    {"Loco": "A", "Owner": "M01", "Number": "2101", "Address": 2101, "At meet": "yes"},
    {"Loco": "B", "Owner": "M01", "Number": "2102", "Address": 2102, "At meet": "yes"},
    {"Loco": "C", "Owner": "M01", "Number": "2103", "Address": 2103, "At meet": "no"},
]
_CONSIST = [
    {"Consist": "Coal", "Address": 84, "Position": 1, "Loco": "A", "Facing": "forward"},
    {"Consist": "coal ", "Address": 84, "Position": 2, "Loco": "B", "Facing": "reverse"},
    {"Consist": "Coal", "Address": 84, "Position": 3, "Loco": "C", "Facing": "forward"},
    {"Consist": "Ore", "Address": 83, "Position": 1, "Loco": "D", "Facing": "forward"},
]
_RIVALS = [
    {"Loco": f"R{n}", "Owner": "M02", "Number": "7", "Address": 84, "At meet": "yes", "Lock": n}
    for n in (1, 2, 3)
]
"""Three decoders of one engine: more than the two engines of the consist that come."""


@pytest.mark.parametrize("more", [{}, {"Meet address": ""}], ids=["without the column", "with it"])
def test_a_consist_moves_on_all_its_rows_and_cards_key_its_cv19_in_and_restore_it(
    tmp_path: Path, more: dict[str, object]
) -> None:
    train = club(tmp_path / "train.xlsx", Locomotives=_TRAIN, Consists=[row | more for row in _CONSIST])
    rival = club(tmp_path / "rival.xlsx", Locomotives=_RIVALS)

    make_meet_workbook([train, rival], None, copies_to=tmp_path / "copies")

    copy = tmp_path / "copies" / "train.xlsx"
    found = roster_at(copy)
    assert [(row.loco, row.address, row.meet_address) for row in found.consist_members] == [
        ("A", 84, 85),
        ("B", 84, 85),
        ("C", 84, 85),
        ("D", 83, None),
    ]
    cv19 = [
        [
            [step.value for step in card.steps if step.cv == 19][-1]
            for card in meet_cards(found, away_of(found), phase)
        ]
        for phase in (MeetPhase.BEFORE, MeetPhase.AFTER)
    ]
    source = "NMRA S-9.2.2 (Jul 2012), CV19: 128 more where the engine runs in reverse"
    assert cv19 == [[85, 85 + 128], [84, 84 + 128]], source
    assert changed_columns(train, copy) == {("Consists", "Meet address")}
    assert plan_meet([copy, rival]).plan.moves == ()


@pytest.mark.parametrize(
    ("typed", "kind"),
    [
        pytest.param("", "", id="the number says the kind"),
        pytest.param("short", "short", id="the kind stands there already"),
        pytest.param("long", "short", id="another kind stands there"),
        pytest.param("middle", "short", id="something else stands there"),
    ],
)
def test_meet_kind_is_entered_where_it_is_needed(tmp_path: Path, typed: str, kind: str) -> None:
    engine = {"Loco": "A", "Owner": "M01", "Number": "12", "Address": 3, "At meet": "yes"}
    path = club(tmp_path / "a.xlsx", Locomotives=[engine | {"Meet address": "", "Meet kind": typed}])

    make_meet_workbook([path], None, copies_to=tmp_path / "copies")

    sheet = openpyxl.load_workbook(tmp_path / "copies" / "a.xlsx")["Locomotives"]
    assert [sheet["F2"].value, sheet["G2"].value or ""] == [12, kind]


def test_a_kind_that_the_number_does_not_say_is_entered(tmp_path: Path) -> None:
    engines = [{"Loco": f"{n}", "Number": "50", "Address": 90, "At meet": "yes"} for n in range(2)]
    path = club(
        tmp_path / "a.xlsx",
        Layout=[{"Setting": "Short address range", "Value": "90-90"}],
        Address_ranges=[{"Kind": "long", "From": 50, "To": 60, "Use": "engines"}],
        Locomotives=engines,
    )

    make_meet_workbook([path], None, copies_to=tmp_path / "copies")

    found = roster_at(tmp_path / "copies" / "a.xlsx")
    assert [(one.meet_address, one.meet_kind) for one in found.engines] == [(None, None), (50, "long")]


def _lock(folder: Path) -> None:
    (folder / "spring").mkdir()
    (folder / "spring" / ".~lock.M02.xlsx#").touch()


def _copy_there(folder: Path) -> None:
    (folder / "spring").mkdir()
    (folder / "spring" / "M03.xlsx").write_bytes(b"mine")


def _file_there(folder: Path) -> None:
    (folder / "spring").write_bytes(b"mine")


def _broken(folder: Path) -> None:
    (folder / "M04.xlsx").write_bytes(b"PK torn")


def _formula(path: Path) -> str:
    """Put a formula into the first cell of Meet address, and name the cell."""
    book = openpyxl.load_workbook(path)
    sheet = book["Locomotives"]
    cell = sheet.cell(2, next(cell.column for cell in sheet[1] if cell.value == "Meet address"))
    cell.value = "=217+0"
    book.save(path)
    return str(cell.coordinate)


def _formula_there(folder: Path) -> None:
    _formula(folder / "M03.xlsx")


def _plan_read_only(folder: Path) -> None:
    (folder / "plan.xlsx").write_bytes(b"an earlier plan")
    (folder / "plan.xlsx").chmod(0o444)


@pytest.mark.parametrize(
    ("happens", "words", "said"),
    [
        pytest.param(_lock, (), "M02.xlsx: it is open in a spreadsheet program", id="a copy is open"),
        pytest.param(_copy_there, (), "M03.xlsx' is there already", id="a file is there"),
        pytest.param(_file_there, (), "spring' is a file", id="the folder is a file"),
        pytest.param(_broken, (), "M04.xlsx", id="a workbook cannot be read"),
        pytest.param(_formula_there, (), "M03.xlsx!Locomotives!", id="a formula is there"),
        pytest.param(
            _plan_read_only, ("-o", "plan.xlsx", "--force"), "it is read-only", id="the plan is read-only"
        ),
    ],
)
def test_where_one_fails_it_is_named_and_nothing_is_written(
    folder: Path,
    monkeypatch: pytest.MonkeyPatch,
    happens: Callable[[Path], None],
    words: Sequence[str],
    said: str,
) -> None:
    happens(folder)
    members = sorted(folder.glob("M0*.xlsx"))
    before, was_there = files_in(folder), (folder / "spring").exists()
    monkeypatch.chdir(folder)

    done = run("meet", *members, "--apply", "spring", *words)

    assert (done.status, done.out) == (2, "")
    assert said in done.err
    assert files_in(folder) == before
    assert (folder / "spring").exists() is was_there


def test_with_force_copies_are_replaced_and_come_back_where_a_later_one_fails(folder: Path) -> None:
    members, spring = paths_in(folder), folder / "spring"
    make_meet_workbook(members, None, copies_to=spring)
    (spring / "M01.xlsx").write_bytes(members[0].read_bytes())
    before = files_in(spring)
    _plan_read_only(folder)

    with pytest.raises(CannotRunError, match="read-only"):
        make_meet_workbook(members, folder / "plan.xlsx", copies_to=spring, force=True)

    assert files_in(spring) == before
    make_meet_workbook(members, None, copies_to=spring, force=True)
    assert (spring / "M01.xlsx").read_bytes() != before[spring / "M01.xlsx"]
    assert (spring / "M01.earlier.xlsx").read_bytes() == before[spring / "M01.xlsx"]


def test_a_member_s_workbook_is_never_its_own_copy(folder: Path) -> None:
    before = files_in(folder)

    with pytest.raises(CannotRunError, match="is one of the members' workbooks"):
        make_meet_workbook(paths_in(folder), None, copies_to=folder, force=True)

    assert files_in(folder) == before


def test_two_workbooks_of_one_name_have_no_copies_of_one_name(folder: Path) -> None:
    other = folder / "other" / "m01.xlsx"
    other.parent.mkdir()
    (folder / "M03.xlsx").rename(other)

    with pytest.raises(CannotRunError, match="would be copied to one file of the same name"):
        make_meet_workbook([*paths_in(folder), other], None, copies_to=folder / "spring")

    assert not (folder / "spring").exists()


def test_the_plan_is_never_written_over_a_copy(folder: Path) -> None:
    spring = folder / "spring"

    with pytest.raises(CannotRunError, match="is where the copy of a workbook goes"):
        make_meet_workbook(paths_in(folder), spring / "m01.xlsx", copies_to=spring)

    assert not spring.exists()


def test_a_workbook_that_was_changed_since_it_was_planned_has_no_copy(folder: Path) -> None:
    meet = plan_meet(paths_in(folder))
    (folder / "M03.xlsx").write_bytes(new_workbook(meet_books()["M03.xlsx"] | {"Consists": ()}) + b" ")
    (folder / "spring").mkdir()

    with pytest.raises(CannotRunError, match="another program has changed it since it was read"):
        make_copies(meet, folder / "spring")

    assert list((folder / "spring").iterdir()) == []


@pytest.mark.parametrize(
    ("words", "said"),
    [
        pytest.param((), "nothing is said about where the plan goes", id="no place for the plan"),
        pytest.param(("--clear", "-o", "x.xlsx"), "--clear empties Meet addresses", id="a plan and none"),
        pytest.param(("--clear", "--apply", "x"), "--clear empties Meet addresses", id="in and out at once"),
    ],
)
def test_what_is_asked_for_has_to_be_one_thing(folder: Path, words: Sequence[str], said: str) -> None:
    done = run("meet", *paths_in(folder), *words)

    assert done.status == 2
    assert said in done.err


def test_clearing_says_how_many_and_leaves_formulas_earlier_files_and_plans_alone(folder: Path) -> None:
    spring = folder / "spring"
    make_meet_workbook(paths_in(folder), spring / "MEET.xlsx", copies_to=spring)
    cell = _formula(spring / "M01.xlsx")
    fill(spring / "M02.xlsx")
    kept = (spring / "M02.earlier.xlsx").read_bytes()

    done = run("meet", "--clear", spring / "M02.earlier.xlsx", *(spring / f"M0{n}.xlsx" for n in (1, 2, 3)))

    def emptied(name: str, count: int) -> str:
        path = spring / f"{name}.xlsx"
        earlier = path.with_stem(f"{name}.earlier")
        return f"emptied the Meet address of {count} engines in {path}; the earlier file is {earlier}"

    assert (done.status, done.out) == (0, "")
    assert done.err.splitlines() == [
        f"left out: {spring / 'M02.earlier.xlsx'}: it is the earlier state of another workbook",
        emptied("M01", 2),
        f"left: {spring / 'M01.xlsx'}!Locomotives!{cell} holds a formula",
        emptied("M02", 2),
        emptied("M03", 5),
    ]
    assert (spring / "M02.earlier.xlsx").read_bytes() != kept, "the newest earlier state"
    plan = (spring / "MEET.xlsx").read_bytes()
    done = run("meet", "--clear", spring / "MEET.xlsx", spring / "M03.xlsx")
    assert done.err.splitlines() == [
        f"left out: {spring / 'MEET.xlsx'}: it is a plan of a meet",
        f"{spring / 'M03.xlsx'} has no Meet address to empty; nothing was written",
    ]
    assert (spring / "MEET.xlsx").read_bytes() == plan


def test_where_one_workbook_cannot_be_cleared_none_is(folder: Path) -> None:
    spring = folder / "spring"
    make_meet_workbook(paths_in(folder), None, copies_to=spring)
    (spring / ".~lock.M03.xlsx#").touch()
    before = files_in(spring)

    with pytest.raises(CannotRunError, match=r"M03\.xlsx: it is open"):
        clear_meet_addresses(paths_in(spring))

    assert files_in(spring) == before
