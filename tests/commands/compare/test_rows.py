"""Two workbooks compared in the rows of all sheets but Locomotives, and in what is the members' own."""

import csv
import io
import json
from collections.abc import Sequence
from datetime import datetime
from pathlib import Path

import openpyxl
import pytest
from jsonschema import Draft202012Validator

from rosterkit.commands.compare.command import compare
from rosterkit.commands.compare.engines import Comparison, comparison
from rosterkit.commands.compare.report import compare_csv, compare_json, compare_text
from rosterkit.roster.schema import schema_file
from rosterkit.template.new_workbook import new_workbook
from rosterkit.versions.rows import Difference
from rosterkit.xlsx.grid import Grid, NoStoredValue
from tests.command_line import run
from tests.rosters import Rows, enrolled, grid, roster, sheet_of, workbook_of

_ENGINE = {"Loco": "Z", "Address": 12}
"""No row of the other sheets is about it, so that no CV of it changes."""
_CONSIST = {"Consist": "Hill", "Address": 85, "Position": 1, "Loco": "A"}
_EXTRA = {"Loco": "A", "CV": 49, "Value": 7}
_PAGED = {"Loco": "A", "CV": 257, "Value": 1, "Index high": 16, "Index low": 0}
_RUN = {"Loco": "A", "Drive level": 40, "Distance": 1000, "Time": 21.5}
_READING = {"Date": "2026-05-01", "Loco": "A", "CV": 29, "Value": 6}
_RANGE = {"Kind": "short", "From": 1, "To": 79, "Use": "engines"}


def between(sheet: str, old: Rows, new: Rows) -> Comparison:
    engines = sheet_of("Locomotives", [_ENGINE])
    books = [workbook_of(engines, *([sheet_of(sheet, rows)] if rows else [])) for rows in (old, new)]
    return comparison(enrolled(books[0]), enrolled(books[1]))


def lines(found: Comparison) -> list[str]:
    """Return the text without its sums."""
    return compare_text(found).splitlines()[:-1]


@pytest.mark.parametrize(
    ("sheet", "old", "new", "expected"),
    [
        pytest.param(
            "Address ranges",
            _RANGE,
            _RANGE | {"To": 89, "Member": "M01"},
            [
                "Address ranges: 1 changed",
                "    short, From 1, To 89 changed: To: 79 -> 89, Member: blank -> 'M01'",
            ],
            id="an address range by where it begins, if it ends elsewhere",
        ),
        pytest.param(
            "Address ranges",
            _RANGE,
            _RANGE | {"From": 2, "To": 80},
            [
                "Address ranges: 1 added, 1 gone",
                "    short, From 2, To 80 added: Use = 'engines'",
                "    short, From 1, To 79 gone: Use = 'engines'",
            ],
            id="an address range not at all, if it begins and ends elsewhere",
        ),
        pytest.param(
            "Decoder types",
            {"Decoder": "Plain", "Manufacturer ID": 13},
            {"Decoder": "plain", "Manufacturer ID": 14},
            [
                "Decoder types: 1 changed",
                "    plain changed: Decoder: 'Plain' -> 'plain', Manufacturer ID: 13 -> 14",
            ],
            id="a kind of decoder by its label",
        ),
        pytest.param(
            "Consists",
            _CONSIST,
            _CONSIST | {"Position": 2, "Facing": "reverse"},
            ["Consists: 1 changed", "    Hill, A changed: Position: 1 -> 2, Facing: 'forward' -> 'reverse'"],
            id="a place in a consist by consist and engine",
        ),
        pytest.param(
            "Accessories",
            {"Accessory": "T1", "Address": 17},
            {"Accessory": "T1", "Address": 18, "Kind": "turnout"},
            ["Accessories: 1 changed", "    T1 changed: Address: 17 -> 18"],
            id="a device by its label, and a default written out is no change",
        ),
        pytest.param(
            "Extra values",
            _PAGED,
            _PAGED | {"Index low": 1},
            [
                "Extra values: 1 added, 1 gone",
                "    A, CV 257, Index high 16, Index low 1 added: Value = 1",
                "    A, CV 257, Index high 16, Index low 0 gone: Value = 1",
            ],
            id="a CV by its page too",
        ),
        pytest.param(
            "Extra values",
            _EXTRA,
            _EXTRA | {"Value": 9},
            ["Extra values: 1 changed", "    A, CV 49 changed: Value: 7 -> 9"],
            id="a CV without a page by its engine and number",
        ),
        pytest.param(
            "Speed tables",
            {"Table": "slow", "1": 4, "2": 8},
            {"Table": "slow", "1": 5, "2": ""},
            ["Speed tables: 1 changed", "    slow changed: 1: 4 -> 5, 2: 8 -> blank"],
            id="a speed table by its name",
        ),
        pytest.param(
            "Speed runs",
            _RUN,
            _RUN | {"Time": 22},
            ["Speed runs: 1 changed", "    A, forward, Drive level 40, 28 changed: Time: 21.5 -> 22"],
            id="a timed run by its engine, way and drive",
        ),
        pytest.param(
            "Speed goals",
            {"Loco": "A", "Top speed": 80},
            {"Loco": "A", "Top speed": 90},
            ["Speed goals: 1 changed", "    A changed: Top speed: 80 -> 90"],
            id="a speed goal by its engine",
        ),
        pytest.param(
            "Readings",
            _READING | {"Date": datetime(2026, 5, 1)},
            _READING | {"Value": ""},
            ["Readings: 1 changed", "    2026-05-01, A, CV 29 changed: Value: 6 -> blank"],
            id="a reading by its day, engine and CV",
        ),
    ],
)
def test_a_row_is_recognised(
    sheet: str, old: dict[str, object], new: dict[str, object], expected: list[str]
) -> None:
    assert lines(between(sheet, [old], [new])) == expected


def test_the_same_rows_in_another_order_are_no_change() -> None:
    found = between("Extra values", [_EXTRA, _PAGED], [_PAGED, _EXTRA])

    assert found.rows == ()


def test_readings_of_one_day_in_another_order_are_no_change() -> None:
    early, late = _READING | {"Time": "20:15"}, _READING | {"Time": "21:15", "Value": 34}

    found = between("Readings", [early, late], [late, early])

    assert found.rows == ()


def test_a_pass_timed_again_is_added_and_the_others_are_not_taken_for_changed() -> None:
    slow, fast = _RUN | {"Time": 22}, _RUN | {"Time": 20}

    found = between("Speed runs", [_RUN, slow], [fast, _RUN, slow])

    assert lines(found) == [
        "Speed runs: 1 added",
        "    A, forward, Drive level 40, 28 added: Distance = 1000, Time = 20",
    ]


def test_what_stands_several_times_under_one_name_is_paired_in_the_order_of_the_sheet() -> None:
    found = between(
        "Extra values",
        [_EXTRA, _EXTRA | {"Value": 8}],
        [_EXTRA | {"Value": 1}, _EXTRA | {"Value": 2}, _EXTRA],
    )

    assert lines(found) == [
        "Extra values: 1 changed, 1 added",
        "    A, CV 49 changed: Value: 8 -> 1",
        "    A, CV 49 added: Value = 2",
    ]


def test_a_row_without_what_names_it_is_named_by_its_place() -> None:
    found = between("Accessories", [], [{"Accessory": "", "Address": 5}])

    assert lines(found) == ["Accessories: 1 added", "    row 2 added: Address = 5"]


def test_the_rows_of_a_sheet_that_only_one_workbook_has_are_all_added_or_gone() -> None:
    gone = between("Consists", [_CONSIST, _CONSIST | {"Loco": "B", "Position": 2}], [])
    added = between("Consists", [], [_CONSIST])

    assert lines(gone) == [
        "Consists: 2 gone",
        "    Hill, A gone: Address = 85, Position = 1",
        "    Hill, B gone: Address = 85, Position = 2",
    ]
    assert lines(added) == ["Consists: 1 added", "    Hill, A added: Address = 85, Position = 1"]


def test_the_rows_of_an_engine_that_has_another_label_now_are_recognised_by_it() -> None:
    named = {"Railway": "Elm", "Number": "7", "Address": 12}
    old = roster([{"Loco": "A", **named}], consists=[_CONSIST], extras=[_EXTRA])
    new = roster(
        [{"Loco": "Lady", **named}],
        consists=[_CONSIST | {"Loco": "Lady", "Position": 2}],
        extras=[_EXTRA | {"Loco": "Lady"}],
    )

    assert lines(comparison(old, new))[2:] == [
        "Consists: 1 changed",
        "    Hill, Lady changed: Position: 1 -> 2, Loco: 'A' -> 'Lady'",
        "Extra values: 1 changed",
        "    Lady, CV 49 changed: Loco: 'A' -> 'Lady'",
    ]


def test_a_label_that_another_engine_has_now_still_names_the_rows_that_have_it() -> None:
    named = {"Railway": "Elm", "Number": "7", "Address": 12}
    old = roster([{"Loco": "A", **named}], extras=[_EXTRA])
    new = roster([{"Loco": "Lady", **named}, {"Loco": "A", "Owner": "M02", "Address": 13}], extras=[_EXTRA])

    assert comparison(old, new).rows == ()


def test_members_own_columns_of_one_heading_are_told_apart_by_their_letters() -> None:
    old, new = (
        workbook_of(grid("Locomotives", ("Loco", "Address", "Shelf", "Shelf"), ("Z", 12, "top", shelf)))
        for shelf in ("left", "right")
    )

    found = comparison(enrolled(old), enrolled(new))

    assert lines(found) == ["Z changed", "    Shelf (D): 'left' -> 'right'"]


def test_a_members_own_column_is_compared_by_its_heading_on_every_sheet() -> None:
    old = roster([_ENGINE | {"Shelf": "top"}], extras=[_EXTRA | {"Tried": 1}])
    new = roster([_ENGINE | {"Shelf": "low", "Paint": "green"}], extras=[_EXTRA])

    assert lines(comparison(old, new)) == [
        "Z changed",
        "    Shelf: 'top' -> 'low'",
        "    Paint: blank -> 'green'",
        "Extra values: 1 changed",
        "    A, CV 49 changed: Tried: 1 -> blank",
    ]


def test_computed_columns_are_not_compared() -> None:
    found = between("Extra values", [_EXTRA | {"Check": "all well"}], [_EXTRA | {"Check": "no"}])

    assert found.rows == ()


def test_rows_of_members_own_sheets_are_told_by_their_place_and_what_was_moved_is_no_change() -> None:
    old = {
        "Shelves": grid("Shelves", ("top", 3), ("low", NoStoredValue("A1+1"))),
        "Dues": grid("Dues", ("M01", 12345.67)),
    }
    new = {
        "shelves": grid("shelves", ("new", ""), (), ("top", 3), ("low", 4.0)),
        "Jobs": grid("Jobs", ("", "paint")),
    }

    found = comparison(roster([_ENGINE]), roster([_ENGINE]), (old, new))

    assert lines(found) == [
        "shelves: 2 added, 1 gone",
        "    row 1 added: A = 'new'",
        "    row 4 added: A = 'low', B = 4",
        "    row 2 gone: A = 'low', B = '=A1+1'",
        "Jobs: 1 added",
        "    row 1 added: B = 'paint'",
        "Dues: 1 gone",
        "    row 1 gone: A = 'M01', B = 12345.67",
    ]


def test_a_row_changed_in_its_place_in_a_members_own_sheet_is_told_cell_by_cell() -> None:
    old, new = (Grid(title="Dues", rows=[["M01", 5, ""], ["M02", 5]]) for _ in range(2))
    new.rows[1] = ["M02", "", "", "left"]

    found = comparison(roster([_ENGINE]), roster([_ENGINE]), ({"Dues": old}, {"Dues": new}))

    assert [(one.row, one.columns) for one in found.rows] == [
        ("row 2", (Difference(name="B", old=5, new=None), Difference(name="D", old=None, new="left")))
    ]


def test_a_text_of_several_lines_stays_in_the_line_of_its_row() -> None:
    found = between("Accessories", [], [{"Accessory": "T\n1", "Address": 5, "Wire\ncolour": "red\nblue\x9b"}])

    assert lines(found) == [
        "Accessories: 1 added",
        r"    T\n1 added: Address = 5, Wire\ncolour = 'red\nblue\x9b'",
    ]


def test_every_form_says_the_same() -> None:
    found = between("Extra values", [_EXTRA, _PAGED], [_EXTRA | {"Value": 9}])

    document = json.loads(compare_json(found))
    Draft202012Validator(schema_file("outputs/compare.json")).validate(document)
    assert document["engines"] == []
    assert document["rows"] == [
        {
            "change": "changed",
            "sheet": "Extra values",
            "row": "A, CV 49",
            "columns": [{"name": "Value", "old": 7, "new": 9}],
        },
        {
            "change": "gone",
            "sheet": "Extra values",
            "row": "A, CV 257, Index high 16, Index low 0",
            "columns": [
                {"name": "Loco", "old": "A", "new": None},
                {"name": "CV", "old": 257, "new": None},
                {"name": "Value", "old": 1, "new": None},
                {"name": "Index high", "old": 16, "new": None},
                {"name": "Index low", "old": 0, "new": None},
            ],
        },
    ]
    rows = list(csv.reader(io.StringIO(compare_csv(found))))
    assert rows[1] == ["changed", "", "", "column", "Value", "7", "9", "Extra values", "A, CV 49"]
    assert len(rows) == 7


def test_the_command_compares_own_sheets_of_the_files_and_not_those_that_rosterkit_made(
    tmp_path: Path,
) -> None:
    for name, note in (("old.xlsx", "oil it"), ("new.xlsx", "oiled")):
        path = tmp_path / name
        path.write_bytes(new_workbook({"Locomotives": [{"loco": "A", "address": 12}]}))
        book = openpyxl.load_workbook(path)
        book.create_sheet("Jobs")["B3"] = note
        book.save(path)
    filled = run("fill", tmp_path / "new.xlsx")

    ran = run("compare", tmp_path / "old.xlsx", tmp_path / "new.xlsx")

    assert "filled" in filled.err
    assert ran.status == 0
    assert ran.out.splitlines() == [
        "Jobs: 1 changed",
        "    row 3 changed: B: 'oil it' -> 'oiled'",
        "engines: 0 changed, 0 added, 0 gone, 1 as before",
    ]


def test_rows_that_still_name_an_engine_by_its_earlier_label_are_no_change() -> None:
    named = {"Railway": "Elm", "Number": "7", "Address": 12}
    goals: Rows = [{"Loco": "A", "Top speed": 80}, {"Loco": "B", "Match": "A"}]
    old = roster([{"Loco": "A", **named}], consists=[_CONSIST], extras=[_EXTRA], goals=goals)
    new = roster([{"Loco": "Lady", **named}], consists=[_CONSIST], extras=[_EXTRA], goals=goals)

    assert comparison(old, new).rows == ()


def _saved(path: Path, *rows: Sequence[object]) -> Path:
    book = openpyxl.Workbook()
    page = book.active
    assert page is not None
    page.title = "Locomotives"
    for row in rows:
        page.append(list(row))
    book.save(path)
    return path


def test_cells_outside_any_table_are_seen(tmp_path: Path) -> None:
    headings, engines = ("Loco", "Address", "CV1"), (("A", 12, 12), ("B", 13, 13))
    old = _saved(tmp_path / "old.xlsx", ("Club of 2025",), headings, *engines, (), ("", "", "", "Sum: 2"))
    new = _saved(
        tmp_path / "new.xlsx", ("Club of 2026",), headings, (*engines[1], "mine"), engines[0], ("", "", 5)
    )

    found = compare(old, new)

    assert lines(found) == [
        "Locomotives: 1 changed, 1 added, 1 gone",
        "    row 1 changed: A: 'Club of 2025' -> 'Club of 2026'",
        "    row 3 added: D = 'mine'",
        "    row 6 gone: D = 'Sum: 2'",
    ]
