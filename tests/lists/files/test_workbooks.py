"""Workbooks (.xlsx): what their cells show, hold and have lost."""

import io
import re
import zipfile
from datetime import date, datetime, time, timedelta
from pathlib import Path
from typing import Any

import openpyxl
import pytest
import xlsxwriter
from openpyxl.comments import Comment
from openpyxl.styles import PatternFill
from openpyxl.workbook.defined_name import DefinedName

from rosterkit.lists.files.number_formats import shown_number
from rosterkit.lists.files.opening import read_list
from rosterkit.lists.plain import PlainArea, PlainCell, PlainSheet, PlainValue

YELLOW = PatternFill("solid", fgColor="FFFF99")


def sheet_of(folder: Path, book: openpyxl.Workbook, name: str = "list.xlsx") -> PlainSheet:
    path = folder / name
    book.save(path)
    return read_list(path).sheets[0]


@pytest.mark.parametrize(
    ("typed", "code", "text", "value"),
    [
        pytest.param("007", "General", "007", "007", id="a text with zeros before it"),
        pytest.param(7, "000", "007", 7, id="a number that its format shows with zeros"),
        pytest.param(5210, "General", "5210", 5210, id="a whole number"),
        pytest.param(182.5, "General", "182.5", 182.5, id="a number with decimals"),
        pytest.param(5210, "#,##0", "5210", 5210, id="a grouped number, whose comma could be a decimal one"),
        pytest.param(182.46, "0", "182.46", 182.46, id="a number that its format rounds"),
        pytest.param(0.5, "0%", "50%", 0.5, id="a percentage"),
        pytest.param(5201, '"NE "0', "NE 5201", 5201, id="a number with a text before it"),
        pytest.param(182, '0" mm"', "182 mm", 182, id="a number with its unit behind it"),
        pytest.param(
            "  two\nlines ", "General", "two\nlines", "  two\nlines ", id="a text with blanks around it"
        ),
        pytest.param(True, "General", "TRUE", True, id="a truth value"),
        pytest.param(date(2019, 3, 2), "dd.mm.yyyy", "2019-03-02", date(2019, 3, 2), id="a date"),
        pytest.param(
            datetime(2019, 3, 2, 4, 5),
            "yyyy-mm-dd hh:mm",
            "2019-03-02 04:05",
            datetime(2019, 3, 2, 4, 5),
            id="a date with a time",
        ),
        pytest.param(
            "TRUE", "General", "TRUE", "TRUE", id="a text that a reader could take for a truth value"
        ),
        pytest.param("=not a formula", "@", "=not a formula", "=not a formula", id="a text like a formula"),
    ],
)
def test_what_a_cell_shows_and_holds(
    typed: Any, code: str, text: str, value: PlainValue, tmp_path: Path
) -> None:
    book = openpyxl.Workbook()
    cell = book.worksheets[0]["B2"]
    cell.value = typed
    if isinstance(typed, str):
        cell.data_type = "s"
    cell.number_format = code

    found = sheet_of(tmp_path, book).cells

    assert found == {(2, 2): PlainCell(text, value)}


@pytest.mark.parametrize(
    ("typed", "code", "text", "loss"),
    [
        pytest.param(
            date(2024, 1, 2),
            "d-mmm",
            "2024-01-02",
            "a date shown without its year, as programs make it of a typed 1-2 or 2-1",
            id="a date without its year",
        ),
        pytest.param(date(2024, 1, 2), "mm-dd-yy", "2024-01-02", "", id="a date with its year lost nothing"),
        pytest.param(
            time(2, 27),
            "h:mm",
            "02:27",
            "a time of day, as programs make it of a typed ratio such as 1:87",
            id="a time, which 1:87 becomes",
        ),
        pytest.param(
            timedelta(hours=30),
            "[h]:mm",
            "30:00",
            "a length of time, as programs make it of a typed ratio such as 1:87",
            id="a length of time",
        ),
        pytest.param(
            400,
            "0.00E+00",
            "4E+02",
            "a number in scientific notation, as programs make it of a typed 4E2",
            id="a number in scientific notation",
        ),
        pytest.param(
            "=B1*2",
            "General",
            "=B1*2",
            "a formula whose result is not stored in the file",
            id="a formula without its result",
        ),
    ],
)
def test_what_a_cell_has_lost(typed: Any, code: str, text: str, loss: str, tmp_path: Path) -> None:
    book = openpyxl.Workbook()
    book.worksheets[0]["A1"] = typed
    book.worksheets[0]["A1"].number_format = code

    cell = sheet_of(tmp_path, book).cells[1, 1]

    assert (cell.text, cell.loss) == (text, loss)


def test_results_of_formulas_are_read_and_error_values_are_losses(tmp_path: Path) -> None:
    book = xlsxwriter.Workbook(str(tmp_path / "list.xlsx"))
    sheet = book.add_worksheet()
    sheet.write_formula("A1", "=2*21", None, 42)
    sheet.write_formula("A2", '="a"&"b"', None, "ab")
    sheet.write_formula("A3", "=1/0", None, "#DIV/0!")
    book.close()

    cells = read_list(tmp_path / "list.xlsx").sheets[0].cells

    assert cells == {
        (1, 1): PlainCell("42", 42),
        (2, 1): PlainCell("ab", "ab"),
        (3, 1): PlainCell("#DIV/0!", "#DIV/0!", loss="the error value #DIV/0! in place of a value"),
    }


def test_notes_colours_merged_and_hidden(tmp_path: Path) -> None:
    book = openpyxl.Workbook()
    sheet = book.worksheets[0]
    sheet.title = "Engines"
    sheet["B2"] = "5201"
    sheet["B2"].comment = Comment("tried 9 and 3,\nanswers 3", "M01")
    sheet["C2"].fill = YELLOW
    sheet["C2"] = 3
    sheet["B4"].fill = YELLOW
    sheet["C4"] = "to be wired"
    sheet["A6"].comment = Comment("nothing here", "M01")
    sheet.merge_cells("B2:B3")
    sheet["Z99"].fill = YELLOW
    book.create_sheet("Secret").sheet_state = "hidden"
    book["Secret"]["A1"] = "x"

    path = tmp_path / "list.xlsx"
    book.save(path)
    first, second = read_list(path).sheets

    assert first == PlainSheet(
        title="Engines",
        cells={
            (2, 2): PlainCell("5201", "5201", note="tried 9 and 3, answers 3"),
            (2, 3): PlainCell("3", 3, fill="FFFF99"),
            (4, 2): PlainCell("", "", fill="FFFF99"),
            (4, 3): PlainCell("to be wired", "to be wired"),
            (6, 1): PlainCell("", "", note="nothing here"),
        },
        merged=(PlainArea(2, 2, 3, 2),),
    )
    assert (second.title, second.hidden) == ("Secret", True)


def test_a_column_coloured_down_to_the_last_row_costs_nothing(tmp_path: Path) -> None:
    book = xlsxwriter.Workbook(str(tmp_path / "list.xlsx"))
    sheet = book.add_worksheet()
    sheet.set_column("A:XFD", None, book.add_format({"bg_color": "#FFFF99"}))
    sheet.write("B2", "5201")
    book.close()

    cells = read_list(tmp_path / "list.xlsx").sheets[0].cells

    assert sorted(cells) == [(row, column) for row in (1, 2, 3) for column in (1, 2, 3)]
    assert {cell.fill for at, cell in cells.items() if at != (2, 2)} == {"FFFF99"}


@pytest.mark.parametrize(
    ("marker", "own"),
    [
        pytest.param("_rosterkit_made", "Findings", id="a sheet that rosterkit makes, by its title"),
        pytest.param("_rosterkit_copied", "Copy", id="a copy of a list that was adopted"),
        pytest.param("_rosterkit_locked", "", id="a member's sheet"),
    ],
)
def test_sheets_of_rosterkit_are_known_by_their_hidden_marker(marker: str, own: str, tmp_path: Path) -> None:
    book = openpyxl.Workbook()
    sheet = book.worksheets[0]
    sheet.title = "Findings"
    sheet["A1"] = "x"
    sheet.defined_names.add(DefinedName(marker, attr_text="1", hidden=True))

    assert sheet_of(tmp_path, book).own == own


def test_a_workbook_with_the_ending_of_another_kind_is_read_as_what_it_is(tmp_path: Path) -> None:
    book = openpyxl.Workbook()
    book.worksheets[0]["A1"] = "Address"
    book.save(tmp_path / "list.xlsx")
    path = (tmp_path / "list.xlsx").rename(tmp_path / "list.csv")

    found = read_list(path)

    assert found.sheets[0].cells == {(1, 1): PlainCell("Address", "Address")}
    assert found.remarks == ("It is read as an .xlsx workbook, for that is what it holds.",)


@pytest.mark.parametrize(
    ("number", "code", "shown"),
    [
        (7, "000", "007"),
        (5201, "000", "5201"),
        (-7, "000", "-007"),
        (0, "000", "000"),
        (0, "#", "0"),
        (12.5, "0.00", "12.50"),
        (12.0, "0.00", "12"),
        (12.345, "0.0", "12.345"),
        (1234, "00-00", "12-34"),
        (123456, "00-00", "1234-56"),
        (5, "0;(0)", "5"),
        (-5, "0;(0)", "(5)"),
        (-5, "0;-0;0", "-5"),
        (0, '0;-0;"none"', "0"),
        (45, '"#"0', "#45"),
        (12.5, '#,##0.00 "€"', "12.50 €"),
        (12.5, "[$€-407] 0.00", "€ 12.50"),
        (7, "[Red]000", "007"),
        (5201, "0,", "5201"),
        (0.25, "# ?/?", "0.25"),
        (400, "0.00E+00", "400"),
        (7, "[>5]000", "7"),
        (7, "@", "7"),
        (7, "\\N0", "N7"),
        (1e-7, "General", "0.0000001"),
        (5210, '"broken', "5210"),
        (5210, "", "5210"),
    ],
)
def test_a_format_shows_a_number_with_every_digit(number: float, code: str, shown: str) -> None:
    assert shown_number(number, code) == shown


def edited(raw: bytes, part: str, old: bytes, new: bytes) -> bytes:
    target = io.BytesIO()
    with zipfile.ZipFile(io.BytesIO(raw)) as before, zipfile.ZipFile(target, "w") as after:
        for name in before.namelist():
            content = before.read(name)
            if name.endswith(part):
                content, count = re.subn(old, new, content)
                assert count
            after.writestr(name, content)
    return target.getvalue()


@pytest.mark.parametrize(
    ("old", "new"),
    [
        pytest.param(rb'<col [^>]*max="\d+"', b'<col min="1" max="99999999999"', id="columns without end"),
        pytest.param(rb'max="\d+"', b'max="' + b"9" * 5000 + b'"', id="a column's number of 5,000 digits"),
        pytest.param(rb'<row r="2"', b'<row r="2" customFormat="1" s="x"', id="a row's format is no number"),
        pytest.param(rb'<row r="2"', b'<row customFormat="1" s="x" r="2"', id="the same before its number"),
        pytest.param(rb'ref="D4:E5"', b'ref="A1:XFD1048576"', id="all cells merged"),
    ],
)
def test_a_sheet_that_states_what_no_sheet_has_is_read_all_the_same(
    old: bytes, new: bytes, tmp_path: Path
) -> None:
    book = openpyxl.Workbook()
    sheet = book.worksheets[0]
    sheet["B2"] = "5201"
    sheet["B2"].fill = YELLOW
    sheet.column_dimensions["A"].fill = YELLOW
    sheet.merge_cells("D4:E5")
    target = io.BytesIO()
    book.save(target)
    path = tmp_path / "list.xlsx"
    path.write_bytes(edited(target.getvalue(), "sheet1.xml", old, new))

    found = read_list(path).sheets[0]

    assert found.cells[2, 2] == PlainCell("5201", "5201", fill="FFFF99")
    assert len(found.cells) < 20
    assert all(area.bottom <= 5 and area.right <= 5 for area in found.merged)
