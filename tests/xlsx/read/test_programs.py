"""Files as XlsxWriter, openpyxl, LibreOffice and Gnumeric write them, compared with what was put in."""

import subprocess
from collections.abc import Callable
from datetime import date, datetime, time, timedelta
from pathlib import Path

import openpyxl
import pytest
import xlsxwriter

from rosterkit.xlsx.grid import CellError, MergedRange, NoStoredValue, Raw, ScientificNumber
from rosterkit.xlsx.package.opening import opened
from rosterkit.xlsx.read.workbook import _Reading, read_workbook


def written(folder: Path, *, date1904: bool = False) -> Path:
    """A workbook with a cell of each kind, by XlsxWriter."""
    path = folder / "club.xlsx"
    book = xlsxwriter.Workbook(str(path), {"date_1904": date1904})
    day, moment, clock, elapsed, scientific, bold = (
        book.add_format(properties)
        for properties in (
            {"num_format": "yyyy-mm-dd"},
            {"num_format": "d.m.yy hh:mm"},
            {"num_format": "hh:mm"},
            {"num_format": "[h]:mm"},
            {"num_format": "0.00E+00"},
            {"bold": True},
        )
    )
    sheet = book.add_worksheet("Locomotives")
    sheet.write_row("A1", ["Näme <&>", 3, 0.1, True, False, "two\nlines", "  blanks  "])
    sheet.write_datetime("A2", datetime(2024, 2, 29), day)
    sheet.write_datetime("B2", datetime(2024, 2, 29, 13, 45), moment)
    sheet.write_datetime("C2", time(12, 30), clock)
    sheet.write_datetime("D2", timedelta(hours=36), elapsed)
    sheet.write_number("E2", 400, scientific)
    sheet.write_formula("A3", "=B1*2", None, 6)
    sheet.write_formula("B3", '="a"&"b"', None, "ab")
    sheet.write_formula("C3", "=1/0", None, "#DIV/0!")
    sheet.write_formula("D3", "=1=1", None, True)
    sheet.write_blank("F4", None, bold)
    sheet.write_rich_string("A5", bold, "bold", " and plain")
    sheet.merge_range("A6:C7", "merged", bold)
    sheet.write_string("A8", "=1+1")
    book.add_worksheet("Notes").write("B2", "note")
    book.add_worksheet("Secrets").hide()
    book.close()
    return path


VALUES: list[list[Raw]] = [
    ["Näme <&>", 3.0, 0.1, True, False, "two\nlines", "  blanks  "],
    [
        date(2024, 2, 29),
        datetime(2024, 2, 29, 13, 45),
        time(12, 30),
        timedelta(hours=36),
        ScientificNumber(400.0),
    ],
    [6.0, "ab", CellError("#DIV/0!"), True],
    [],
    ["bold and plain"],
    ["merged"],
    [],
    ["=1+1"],
]
NO_RESULTS: list[Raw] = [
    NoStoredValue("B1*2"),
    NoStoredValue('"a"&"b"'),
    NoStoredValue("1/0"),
    NoStoredValue("1=1"),
]


def by_xlsxwriter(path: Path) -> Path:
    return path


def by_openpyxl(path: Path) -> Path:
    """It keeps no results of formulas."""
    target = path.with_name("openpyxl.xlsx")
    openpyxl.load_workbook(path).save(target)
    return target


def by_libreoffice(path: Path) -> Path:
    folder = path.parent / "libreoffice"
    subprocess.run(
        [
            "soffice",
            f"-env:UserInstallation={(path.parent / 'profile').as_uri()}",
            "--headless",
            "--convert-to",
            "xlsx:Calc MS Excel 2007 XML",
            "--outdir",
            str(folder),
            str(path),
        ],
        check=True,
        capture_output=True,
        timeout=120,
    )
    return folder / path.name


def by_gnumeric(path: Path) -> Path:
    target = path.with_name("gnumeric.xlsx")
    subprocess.run(
        ["ssconvert", "-T", "Gnumeric_Excel:xlsx2", str(path), str(target)],
        check=True,
        capture_output=True,
        timeout=120,
    )
    return target


LIBREOFFICE = pytest.param(by_libreoffice, marks=pytest.mark.external)
GNUMERIC = pytest.param(by_gnumeric, marks=pytest.mark.external)
every_program = pytest.mark.parametrize("program", [by_xlsxwriter, by_openpyxl, LIBREOFFICE, GNUMERIC])
Program = Callable[[Path], Path]


@every_program
@pytest.mark.parametrize("date1904", [False, True], ids=["dates from 1900", "dates from 1904"])
def test_file_of_a_program_is_read_to_the_last_cell(tmp_path: Path, program: Program, date1904: bool) -> None:
    path = program(written(tmp_path, date1904=date1904))

    read = read_workbook(path, lambda _: True)

    expected = [*VALUES[:2], NO_RESULTS if program is by_openpyxl else VALUES[2], *VALUES[3:]]
    assert read.titles == ("Locomotives", "Notes", "Secrets")
    assert read.grids["Locomotives"].rows == expected
    assert read.grids["Locomotives"].merged == (MergedRange(6, 1, 7, 3),)
    assert read.grids["Notes"].rows == [[], ["", "note"]]
    assert read.grids["Secrets"].rows == []


@every_program
def test_column_of_dates_is_read_as_dates(tmp_path: Path, program: Program) -> None:
    """Gnumeric leaves the format of such cells to their column."""
    path = tmp_path / "club.xlsx"
    book = xlsxwriter.Workbook(str(path))
    day = book.add_format({"num_format": "yyyy-mm-dd"})
    sheet = book.add_worksheet("Locomotives")
    sheet.set_column("B:B", 12, day)
    for row in range(8):
        sheet.write_row(row, 0, [f"Engine {row}"])
        sheet.write_datetime(row, 1, datetime(2024, 2, 29), day)
        sheet.write_number(row, 2, row)
    book.close()

    read = read_workbook(program(path), lambda _: True)

    assert read.grids["Locomotives"].rows == [[f"Engine {row}", date(2024, 2, 29), row] for row in range(8)]


@pytest.mark.parametrize("program", [by_xlsxwriter, by_openpyxl, LIBREOFFICE])
def test_hidden_sheet_of_a_program_is_known(tmp_path: Path, program: Program) -> None:
    """Gnumeric does not write that a sheet is hidden."""
    path = program(written(tmp_path))

    read = read_workbook(path, lambda _: True)

    assert [grid.hidden for grid in read.grids.values()] == [False, False, True]


@every_program
def test_file_of_a_program_is_left_to_the_fast_reader(tmp_path: Path, program: Program) -> None:
    """All but cells of two fonts that stand in the sheet itself, as Gnumeric writes them."""
    path = tmp_path / "club.xlsx"
    book = xlsxwriter.Workbook(str(path))
    sheet = book.add_worksheet()
    day = book.add_format({"num_format": "yyyy-mm-dd"})
    for row in range(50):
        sheet.write_row(row, 0, [f"Engine {row} & Co", row, row / 7, row % 2 == 0, f" {row} "])
        sheet.write_datetime(row, 5, datetime(2024, 1, 1) + timedelta(days=row), day)
        sheet.write_formula(row, 6, f"=B{row + 1}*2", None, row * 2)
    book.close()

    package = opened(program(path))
    scanned = _Reading(package)._scanned(package.sheets[0])

    assert scanned is not None
    assert scanned.scan.cells == 350
