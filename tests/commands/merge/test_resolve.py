"""The column Keep: what somebody chose comes into the workbook, into the right row, once."""

import json
from collections.abc import Sequence
from datetime import date, datetime
from pathlib import Path

import openpyxl
import pytest
from jsonschema import Draft202012Validator
from openpyxl.workbook.workbook import Workbook

from rosterkit.roster.schema import schema_file
from tests.command_line import Ran, run
from tests.commands.merge.workbooks import (
    Edit,
    added,
    cells,
    chosen,
    club,
    copied,
    deleted,
    merge_lines,
    sorted_by,
    table,
)


def conflicting(folder: Path, *edits: Sequence[Edit]) -> Path:
    """Merge copies of the club's workbook, each with its edits, and return the merged workbook."""
    base, out = club(folder / "sent.xlsx"), folder / "out.xlsx"
    copies = [copied(base, f"M{number:02}.xlsx", *some) for number, some in enumerate(edits, 1)]
    assert run("merge", "--base", base, *copies, "-o", out).status == 1
    return out


def resolved(out: Path, *words: object) -> Ran:
    return run("merge", "--resolve", out, *words)


def what(out: Path) -> list[object]:
    """Return whether each conflict is still one, in the order of the sheet."""
    return [line["What"] for line in merge_lines(out) if line["What"] in ("conflict", "resolved")]


@pytest.mark.parametrize(
    ("choice", "expected"),
    [
        pytest.param("M01", 99, id="one side"),
        pytest.param("m02", "x98", id="another in small letters, with a text"),
        pytest.param(" M03 ", None, id="one that wants the cell blank, with blanks around"),
        pytest.param("base", 12, id="the base"),
    ],
)
def test_the_side_that_was_chosen_is_kept(tmp_path: Path, choice: str, expected: object) -> None:
    out = conflicting(tmp_path, [cells(E2=99)], [cells(E2="x98")], [cells(E2=None)])
    chosen(out, {2: choice})

    ran = resolved(out)

    assert ran.status == 0
    assert (table(out)["A"]["Address"], what(out)) == (expected, ["resolved"])
    assert (tmp_path / "out.earlier.xlsx").is_file()


def test_values_keep_their_types(tmp_path: Path) -> None:
    day = date(2026, 5, 31)
    out = conflicting(
        tmp_path, [cells(F2=day, D2="007")], [cells(F2=date(2026, 6, 1), D2=8, G4="long " * 9000)],
        [cells(G4="short")],
    )  # fmt: skip
    chosen(out, dict.fromkeys((2, 3, 4), "M01") | {_line_of(out, "Notes"): "M02"})

    assert resolved(out).status == 0
    row = table(out)["A"]
    assert (row["Checked on"], row["Number"]) == (datetime(2026, 5, 31), "007")
    assert table(out)["C"]["Notes"] == ("long " * 9000)[:32_767].strip()


def _line_of(out: Path, column: str) -> int:
    return next(n for n, line in enumerate(merge_lines(out), 2) if line.get("Column") == column)


def test_resolving_twice_changes_nothing_the_second_time(tmp_path: Path) -> None:
    out = conflicting(tmp_path, [cells(E2=99)], [cells(E2=98)])
    chosen(out, {2: "M01"})
    resolved(out)
    once = out.read_bytes()

    ran = resolved(out)

    assert ran.status == 0
    assert out.read_bytes() == once
    assert "nothing was written" in ran.err


def test_another_choice_can_be_made_afterwards(tmp_path: Path) -> None:
    out = conflicting(tmp_path, [cells(E2=99)], [cells(E2=98)])
    for choice, expected in (("M01", 99), ("M02", 98), ("base", 12)):
        chosen(out, {2: choice})

        assert resolved(out).status == 0
        assert table(out)["A"]["Address"] == expected


def test_what_is_not_chosen_stays_open(tmp_path: Path) -> None:
    out = conflicting(tmp_path, [cells(E2=99, E3=77)], [cells(E2=98, E3=76)])
    chosen(out, {3: "M02"})

    ran = resolved(out)

    assert ran.status == 1
    assert (table(out)["A"]["Address"], table(out)["B"]["Address"]) == (12, 76)
    assert what(out) == ["conflict", "resolved"]
    assert "1 conflict resolved, 1 open: nothing stands under Keep" in ran.out


def test_a_choice_that_names_no_side_is_named_with_its_cell_and_nothing_is_done(tmp_path: Path) -> None:
    out = conflicting(tmp_path, [cells(E2=99)], [cells(E2=98)], [cells(G2="x")])
    chosen(out, {2: "M03"})
    before = out.read_bytes()

    ran = resolved(out)

    assert ran.status == 1
    assert "Merge I2 'M03' was not carried out: it is none of M01, M02, base" in ran.out
    assert out.read_bytes() == before


@pytest.mark.parametrize(
    ("choice", "there"),
    [
        pytest.param("M01", False, id="removed"),
        pytest.param("M02", True, id="changed"),
    ],
)
def test_a_row_is_removed_or_stays(tmp_path: Path, choice: str, *, there: bool) -> None:
    out = conflicting(tmp_path, [deleted(5)], [cells(E5=1501)])
    chosen(out, {2: choice})

    assert resolved(out).status == 0
    assert ("D" in table(out)) is there
    assert openpyxl.load_workbook(out)["Locomotives"].max_row == 5


def test_no_cell_is_written_into_a_row_that_is_removed_with_it(tmp_path: Path) -> None:
    out = conflicting(tmp_path, [deleted(5)], [cells(E5=1501)], [cells(E5=1502)])
    rows = {number: "M01" if "Column" not in line else "M02" for number, line in _conflicts(out)}
    chosen(out, rows)

    ran = resolved(out)

    assert ran.status == 1
    assert "its row is removed by another choice" in ran.out
    assert "D" not in table(out)
    assert openpyxl.load_workbook(out)["Locomotives"]["E5"].value is None


def _conflicts(out: Path) -> list[tuple[int, dict[object, object]]]:
    return [(n, line) for n, line in enumerate(merge_lines(out), 2) if line["What"] == "conflict"]


def _engines_sorted(book: Workbook) -> None:
    sorted_by(1)(book)


def _row_put_in(book: Workbook) -> None:
    book["Locomotives"].insert_rows(2)
    book["Locomotives"]["A2"], book["Locomotives"]["E2"] = "Z", 1


def _column_put_in(book: Workbook) -> None:
    book["Locomotives"].insert_cols(1)


def _merge_sorted(book: Workbook) -> None:
    """Sort the rows of the sheet Merge, the hidden columns with them, the last first."""
    sheet = book["Merge"]
    rows = [list(row) for row in sheet.iter_rows(min_row=2, values_only=True)]
    for number, row in enumerate(reversed(rows), 2):
        for place, value in enumerate(row, 1):
            sheet.cell(number, place).value = value


@pytest.mark.parametrize(
    "edit",
    [
        pytest.param(_engines_sorted, id="sorted"),
        pytest.param(_row_put_in, id="a row put in above"),
        pytest.param(_column_put_in, id="a column put in"),
        pytest.param(_merge_sorted, id="the sheet Merge sorted"),
    ],
)
def test_the_right_engine_is_found_when_rows_or_columns_moved(tmp_path: Path, edit: Edit) -> None:
    out = conflicting(tmp_path, [cells(E2=99, E5=1777)], [cells(E2=98, E5=1888)])
    chosen(out, {2: "M01", 3: "M02"}, edit)

    ran = resolved(out)
    book = openpyxl.load_workbook(out)
    found = {
        str(label): row
        for row in book["Locomotives"].iter_rows(min_row=2, values_only=True)
        for label in row[:2]
        if label in ("A", "D")
    }

    assert ran.status == 0
    assert (99 in found["A"], 1888 in found["D"], 1777 in found["D"]) == (True, True, False)


@pytest.mark.parametrize(
    ("edit", "reason"),
    [
        pytest.param(cells(A2="Q"), "no row is 'A' any more", id="the label is another"),
        pytest.param(deleted(2), "no row is 'A' any more", id="the row is gone"),
        pytest.param(added("A", "M01"), "2 rows are like 'A': 2, 6", id="the label stands twice"),
        pytest.param(cells(E2=50), "holds '50' now, which no side has", id="somebody typed something else"),
        pytest.param(cells(E2="=1+1"), "'=1+1' now, which no side has", id="a formula came there"),
        pytest.param(cells(E1="Shelf"), "there is no 'Address'", id="the column is gone"),
        pytest.param(
            lambda book: book.remove(book["Consists"]), "there is no sheet 'Consists'", id="the sheet is gone"
        ),
    ],
)
def test_in_doubt_a_line_is_refused_in_words(tmp_path: Path, edit: Edit, reason: str) -> None:
    def position(number: int) -> Edit:
        return lambda book: book["Consists"].__setitem__("C2", number)

    consists = "Consists" in reason
    sides = [[position(5)], [position(6)]] if consists else [[cells(E2=99)], [cells(E2=98)]]
    out = conflicting(tmp_path, *sides)
    chosen(out, {2: "M01"}, edit)
    before = out.read_bytes()

    ran = resolved(out)

    assert ran.status == 1
    assert reason in ran.out
    assert out.read_bytes() == before


def test_a_line_that_was_sorted_without_its_hidden_columns_is_refused(tmp_path: Path) -> None:
    def swapped(book: Workbook) -> None:
        sheet = book["Merge"]
        for column in ("A", "B", "C", "D", "I", "J", "K", "L"):
            sheet[f"{column}2"].value, sheet[f"{column}3"].value = (
                sheet[f"{column}3"].value,
                sheet[f"{column}2"].value,
            )

    out = conflicting(tmp_path, [cells(E2=99, E5=1777)], [cells(E2=98, E5=1888)])
    chosen(out, {2: "M01", 3: "M02"}, swapped)
    before = out.read_bytes()

    ran = resolved(out)

    assert ran.status == 1
    assert ran.out.count("sorted without the hidden columns") == 2
    assert out.read_bytes() == before


def test_a_label_that_was_chosen_is_followed_in_other_sheets_and_later_choices(tmp_path: Path) -> None:
    out = conflicting(tmp_path, [cells(A2="AX", E2=99)], [cells(A2="AY", E2=98)])
    chosen(out, {_line_of(out, "Loco"): "M02"})
    assert resolved(out).status == 1
    chosen(out, {_line_of(out, "Address"): "M01"})

    assert resolved(out).status == 0
    assert table(out)["AY"]["Address"] == 99
    consists = openpyxl.load_workbook(out)["Consists"].iter_rows(min_row=2, values_only=True)
    assert [row[1] for row in consists] == ["AY", "B"]


def test_a_cell_of_an_own_sheet_is_resolved(tmp_path: Path) -> None:
    def key(text: str) -> Edit:
        return lambda book: book["Keys"].__setitem__("A1", text)

    out = conflicting(tmp_path, [key("hut")], [key("box")])
    chosen(out, {2: "M02"})

    assert resolved(out).status == 0
    assert openpyxl.load_workbook(out)["Keys"]["A1"].value == "box"


def test_fill_leaves_the_sheet_merge_and_what_was_chosen(tmp_path: Path) -> None:
    out = conflicting(tmp_path, [cells(E2=99)], [cells(E2=98)])
    chosen(out, {2: "M01"})
    lines = merge_lines(out)

    assert run("fill", out).status in (0, 1)
    assert merge_lines(out) == lines
    assert resolved(out).status == 0
    assert table(out)["A"]["Address"] == 99


def test_the_json_form_says_the_same(tmp_path: Path) -> None:
    out = conflicting(tmp_path, [cells(E2=99, E3=77, E4=1)], [cells(E2=98, E3=76, E4=2)])
    chosen(out, {2: "M01", 3: "nobody"})

    document = json.loads(resolved(out, "--format", "json").out)
    Draft202012Validator(schema_file("outputs/merge_resolve.json")).validate(document)

    assert [(one["cell"], one["kept"], one["value"]) for one in document["resolved"]] == [("E2", "M01", 99)]
    assert [(one["cell"], one["chosen"]) for one in document["refused"]] == [("I3", "nobody")]
    assert document["open"] == 1
