"""Where new columns and rows go in a member's sheet: where nothing of theirs stands; and what joins them."""

from collections.abc import Callable
from pathlib import Path
from typing import Any

import openpyxl
import pytest
import xlsxwriter

from rosterkit.commands.cards import record
from rosterkit.commands.fill import fill
from rosterkit.errors import CannotRunError
from tests.xlsx.packages import parts

HEADINGS = ("Date", "Loco", "CV", "Value", "Mine")
READ = ("2026-04-18", "A", 1, 11, "first try")


def _club(path: Path, lay_out: Callable[[Any, Any], None]) -> None:
    """Make a workbook with an engine and the sheet Readings, with two readings in rows 2 and 3."""
    book = xlsxwriter.Workbook(str(path))
    book.add_worksheet("Locomotives").write_row("A1", ("Loco", "Address"))
    book.get_worksheet_by_name("Locomotives").write_row("A2", ("A", 12))
    readings = book.add_worksheet("Readings")
    readings.write_row("A1", HEADINGS)
    for row in (1, 2):
        readings.write_row(row, 0, READ)
    lay_out(book, readings)
    book.close()


def _nothing(_: Any, __: Any) -> None:
    """Leave the sheet as it is."""


def _remark_in_an_own_column(_: Any, readings: Any) -> None:
    readings.write("E5", "ask M02 about these")


def _remark_beyond(_: Any, readings: Any) -> None:
    readings.write("K4", "read again")


def _blank_table_below(_: Any, readings: Any) -> None:
    readings.add_table("A5:C9", {"header_row": False})


def _merged_below(book: Any, readings: Any) -> None:
    readings.merge_range("B4:C6", "", book.add_format({"bold": True}))


def _merged_beside(book: Any, readings: Any) -> None:
    readings.merge_range("K4:L6", "", book.add_format({"bold": True}))


@pytest.mark.parametrize(
    ("lay_out", "rows"),
    [
        pytest.param(_nothing, [4, 5], id="directly below the readings"),
        pytest.param(_remark_in_an_own_column, [6, 7], id="below a remark in a column of the member's"),
        pytest.param(_remark_beyond, [5, 6], id="below a remark beyond the headings"),
        pytest.param(_blank_table_below, [10, 11], id="below another table, be it empty"),
        pytest.param(_merged_below, [7, 8], id="below merged cells"),
        pytest.param(_merged_beside, [4, 5], id="beside what lies beyond the headings"),
    ],
)
def test_readings_go_where_nothing_of_the_member_stands(
    tmp_path: Path, lay_out: Callable[[Any, Any], None], rows: list[int]
) -> None:
    path = tmp_path / "club.xlsx"
    _club(path, lay_out)

    record(path, ["A"], ["1=12 29=2"], "2026-04-19")

    sheet = openpyxl.load_workbook(path)["Readings"]
    written = [cell.row for cell in sheet["A"] if cell.value == "2026-04-19"]
    assert written == rows
    assert [sheet.cell(row, 3).value for row in rows] == [1, 29]


def _in_a_table(_: Any, readings: Any) -> None:
    readings.add_table("A1:E3", {"name": "Read", "columns": [{"header": one} for one in HEADINGS]})


def _in_a_long_table(_: Any, readings: Any) -> None:
    readings.add_table("A1:E40", {"name": "Read", "columns": [{"header": one} for one in HEADINGS]})


def _in_a_table_with_a_remark_beside(book: Any, readings: Any) -> None:
    _in_a_table(book, readings)
    readings.write("H4", "read again")


@pytest.mark.parametrize(
    ("lay_out", "ref", "rows"),
    [
        pytest.param(_in_a_table, "A1:E5", [4, 5], id="a table grows"),
        pytest.param(_in_a_long_table, "A1:E40", [4, 5], id="a table with free rows takes them in there"),
        pytest.param(_in_a_table_with_a_remark_beside, "A1:E6", [5, 6], id="a table grows past a remark"),
    ],
)
def test_readings_join_the_table_of_the_readings(
    tmp_path: Path, lay_out: Callable[[Any, Any], None], ref: str, rows: list[int]
) -> None:
    path = tmp_path / "club.xlsx"
    _club(path, lay_out)

    record(path, ["A"], ["1=12 29=2"], "2026-04-19")

    sheet = openpyxl.load_workbook(path)["Readings"]
    assert (sheet.tables["Read"].ref, sheet.tables["Read"].autoFilter.ref) == (ref, ref)
    assert [cell.row for cell in sheet["A"] if cell.value == "2026-04-19"] == rows


def test_readings_come_under_the_filter_of_the_readings(tmp_path: Path) -> None:
    path = tmp_path / "club.xlsx"
    _club(path, lambda _, readings: readings.autofilter("A1:E3"))

    record(path, ["A"], ["1=12 29=2"], "2026-04-19")

    book = openpyxl.load_workbook(path)
    assert book["Readings"].auto_filter.ref == "A1:E5"
    assert b"Readings!$A$1:$E$5" in parts(path)["xl/workbook.xml"]


def _narrow_table_and_more_below(_: Any, readings: Any) -> None:
    readings.add_table("A1:C3", {"name": "Read", "columns": [{"header": one} for one in HEADINGS[:3]]})
    readings.write("B9", "the end")


def test_a_table_that_cannot_take_readings_is_named(tmp_path: Path) -> None:
    path = tmp_path / "club.xlsx"
    _club(path, _narrow_table_and_more_below)
    before = path.read_bytes()

    with pytest.raises(
        CannotRunError, match="the cell B9 of its sheet 'Readings' stands below the table 'Read'"
    ):
        record(path, ["A"], ["1=12"], "2026-04-19")

    assert path.read_bytes() == before


def _engines(path: Path, lay_out: Callable[[Any, Any], None]) -> None:
    book = xlsxwriter.Workbook(str(path))
    sheet = book.add_worksheet("Locomotives")
    for row, cells in enumerate((("Loco", "Address"), ("A", 12), ("B", 1000))):
        sheet.write_row(row, 0, cells)
    lay_out(book, sheet)
    book.close()


def _wagons(_: Any, sheet: Any) -> None:
    sheet.add_table("D1:E4", {"name": "Wagons", "columns": [{"header": "Wagon"}, {"header": "Colour"}]})


def _blank_wagons(_: Any, sheet: Any) -> None:
    sheet.add_table("D2:E4", {"name": "Wagons", "header_row": False})


def _wide_line_below(book: Any, sheet: Any) -> None:
    sheet.merge_range("A5:Z5", "", book.add_format({"bottom": 1}))


def _wide_heading(book: Any, sheet: Any) -> None:
    sheet.merge_range("D1:F1", "Remarks of the keeper", book.add_format({"bold": True}))


@pytest.mark.parametrize(
    ("lay_out", "first"),
    [
        pytest.param(_wagons, "F1", id="beside a table that is not of the engines"),
        pytest.param(_blank_wagons, "F1", id="beside an empty table without headings"),
        pytest.param(_wide_heading, "G1", id="beside a heading of merged cells"),
        pytest.param(_wide_line_below, "C1", id="above merged cells in a row without an engine"),
    ],
)
def test_computed_columns_go_beside_what_is_not_of_the_engines(
    tmp_path: Path, lay_out: Callable[[Any, Any], None], first: str
) -> None:
    path = tmp_path / "club.xlsx"
    _engines(path, lay_out)
    tables = {name: data for name, data in parts(path).items() if name.startswith("xl/tables/")}

    fill(path)

    after = parts(path)
    assert openpyxl.load_workbook(path)["Locomotives"][first].value == "Answers"
    assert {name: after[name] for name in tables} == tables
