"""Workbooks as spreadsheet programs save them, through the whole path from file to findings."""

import shutil
import subprocess
import zipfile
from collections.abc import Sequence
from datetime import date, datetime
from pathlib import Path

import openpyxl
import pytest
import xlsxwriter
from openpyxl.utils import get_column_letter

from rosterkit.commands.check import check as check_workbooks
from rosterkit.commands.fill import fill as fill_workbook
from rosterkit.commands.new.command import make_workbook
from rosterkit.findings import Finding
from rosterkit.roster.load import roster_at
from tests.rosters import brief

pytestmark = [pytest.mark.external, pytest.mark.xdist_group("real files")]


def _saved_by_libreoffice(paths: Sequence[Path], folder: Path) -> None:
    """Open and save workbooks headless, all in one go, with a profile of their own."""
    command = [
        "soffice",
        f"-env:UserInstallation={(folder / 'profile').as_uri()}",
        "--headless",
        "--convert-to",
        "xlsx:Calc MS Excel 2007 XML",
        "--outdir",
        str(folder),
    ]
    subprocess.run([*command, *map(str, paths)], check=True, timeout=180, capture_output=True)


def _saved_by_gnumeric(path: Path, target: Path) -> None:
    command = ["ssconvert", "-T", "Gnumeric_Excel:xlsx2", str(path), str(target)]
    subprocess.run(command, check=True, timeout=60, capture_output=True)


def _demo_with_odd_things(path: Path, demo: Path) -> None:
    """Hide rows and a column, move the sheets, and let formulas make an address and a length."""
    book = openpyxl.load_workbook(demo)
    engines = book["Locomotives"]
    columns = {cell.value: get_column_letter(n) for n, cell in enumerate(engines[1], 1)}
    for row in (5, 9, 10):
        engines.row_dimensions[row].hidden = True
    engines.column_dimensions[columns["Owner"]].hidden = True
    engines[f"{columns['Address']}2"] = "=2000+101"
    engines[f"{columns['Length']}15"] = f"={columns['Length']}2*2+8"
    book.move_sheet("Locomotives", -book.index(engines))
    book.save(path)


def _dates_from_1904(path: Path) -> None:
    """A workbook whose days count from 1904, with a date for a number and one where a date belongs."""
    book = xlsxwriter.Workbook(str(path), {"date_1904": True})
    day = book.add_format({"num_format": "yyyy-mm-dd"})
    sheet = book.add_worksheet("Locomotives")
    sheet.write_row(
        "A1", ["Loco", "Address", "At meet", "Owner", "Checked by", "Checked on", "Number", "Model"]
    )
    sheet.write_row("A2", ["A", 12, "yes", "M01", "M02"])
    sheet.write_datetime("F2", datetime(2026, 4, 11), day)
    sheet.write_datetime("G2", datetime(2026, 2, 1), day)
    sheet.write_datetime("H2", datetime(1904, 1, 2), day)
    book.close()


@pytest.fixture(scope="module")
def files(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """The demo club and two odd workbooks as made, and each as LibreOffice and Gnumeric save it."""
    folder = tmp_path_factory.mktemp("made")
    make_workbook(folder / "demo.xlsx", sample=True)
    _demo_with_odd_things(folder / "odd.xlsx", folder / "demo.xlsx")
    _dates_from_1904(folder / "dates.xlsx")
    made = [folder / f"{name}.xlsx" for name in ("demo", "odd", "dates")]
    (folder / "libreoffice").mkdir()
    _saved_by_libreoffice(made, folder / "libreoffice")
    (folder / "gnumeric").mkdir()
    for path in made:
        _saved_by_gnumeric(path, folder / "gnumeric" / path.name)
    return folder


PROGRAMS = pytest.mark.parametrize("program", ["libreoffice", "gnumeric"])

DEMO_FINDINGS = [
    ("engine-too-long", "F15", "error"),
    ("decoder-overloaded", "G24", "error"),
    ("address-shared", "I9", "error"),
    ("address-off-rule", "I11", "note"),
    ("address-shared", "I11", "error"),
    ("address-default", "I14", "warning"),
    ("address-not-for-engines", "I14", "error"),
    ("decoder-lacks-feature", "I25", "error"),
    ("address-in-another-range", "I33", "warning"),
    ("address-missing", "I34", "error"),
    ("decoder-lacks-feature", "L25", "error"),
    ("dc-operation-on", "M19", "warning"),
    ("braking-too-long", "R30", "warning"),
    ("curve-not-rising", "T18", "error"),
    ("value-not-allowed", "K36", "error"),
    ("tag-open", "AD37", "note"),
]


def _findings(path: Path) -> list[Finding]:
    return list(check_workbooks([path]).findings)


def _said(path: Path) -> list[tuple[str, str | None, str | None, str, str]]:
    return [(f.rule, f.place.sheet, f.place.cell, f.message, f.fix) for f in _findings(path)]


def test_the_demo_club_has_the_faults_that_it_is_to_show(files: Path) -> None:
    engines = [f for f in _findings(files / "demo.xlsx") if f.place.sheet == "Locomotives"]

    assert set(DEMO_FINDINGS) <= set(brief(engines))


@PROGRAMS
def test_a_program_s_saving_changes_no_finding(files: Path, program: str) -> None:
    assert _said(files / program / "demo.xlsx") == _said(files / "demo.xlsx")


@PROGRAMS
def test_hidden_rows_sheet_order_and_calculated_values_change_no_finding(files: Path, program: str) -> None:
    assert sorted(_said(files / program / "odd.xlsx")) == sorted(_said(files / "demo.xlsx"))


def test_formulas_that_were_never_calculated_are_found_at_their_cells(files: Path) -> None:
    found = [(f.place.cell, f.rule) for f in _findings(files / "odd.xlsx")]

    assert ("I2", "formula-without-value") in found
    assert ("F15", "formula-without-value") in found
    assert ("F15", "engine-too-long") not in found


@pytest.mark.parametrize("folder", [".", "libreoffice", "gnumeric"])
def test_days_that_count_from_1904_are_the_days_that_were_entered(files: Path, folder: str) -> None:
    path = files / folder / "dates.xlsx"
    (engine,) = roster_at(path).engines

    assert (engine.checked_on, engine.model) == ("2026-04-11", "1904-01-02")
    assert [(f.rule, f.place.cell, f.message) for f in _findings(path)] == [
        (
            "number-became-date",
            "G2",
            "the spreadsheet turned what was typed here into a date or time (2026-02-01)",
        )
    ]


@pytest.mark.parametrize("folder", [".", "libreoffice", "gnumeric"])
def test_filling_twice_writes_the_same_values_and_the_findings_stay(
    files: Path, folder: str, tmp_path: Path
) -> None:
    path = Path(shutil.copy(files / folder / "demo.xlsx", tmp_path))
    before = _said(path)

    first = fill_workbook(path)
    second = fill_workbook(path)

    assert (first.written, second.written, second.kept) == (True, False, None)
    assert [said for said in _said(path) if said[0] != "computed-stale"] == before


@pytest.fixture(scope="module")
def odd(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """A sheet that a member made by hand, with all that happens to such sheets."""
    path = tmp_path_factory.mktemp("odd") / "club.xlsx"
    book = xlsxwriter.Workbook(str(path))
    day, framed, plain = (
        book.add_format({"num_format": form, "border": border})
        for form, border in (("d. mmm", 0), ("General", 1), ("0", 0))
    )
    scientific = book.add_format({"num_format": "0.00E+00"})
    notes = book.add_worksheet("Photos")
    notes.write("A1", "the green one")
    sheet = book.add_worksheet("LOCOMOTIVES")
    sheet.merge_range("A1:H1", "Our engines, spring 2026")
    sheet.write_row(
        "A4", ["notes", "DCC\naddress", "Colour", "LOCO", "Adress kind", "Number", "Stall A", "Steps"]
    )
    sheet.write_row("A5", ["", "１２", "green", " KC 12 ", "", "12", "1,5", 28.0], plain)
    sheet.write_row("A7", ["", 13.0, "", "KC 13", "", "", 2, "14"])
    sheet.write_datetime("F7", date(2026, 2, 1), day)
    sheet.write_row("A8", ["", "", "", "KC 14"])
    sheet.write_formula("B8", "=#REF!+1", None, "#REF!")
    sheet.write_row("A9", ["see photo", "15 ", "", "KC 15", "", "", "", ""])
    sheet.write_number("F9", 400, scientific)
    sheet.merge_range("G9:G10", 1)
    sheet.write_row("A10", ["", 16, "", "KC 16"])
    sheet.write_formula("B11", "=B10+1", None, 17)
    sheet.write_string("D11", "KC 17")
    sheet.set_row(10, None, None, {"hidden": True})
    for row in range(11, 1000):
        for column in range(8):
            sheet.write_blank(row, column, None, framed)
    book.close()
    return path


def test_a_sheet_with_all_that_happens_to_sheets_comes_through(odd: Path) -> None:
    engines = roster_at(odd).engines

    assert [(e.loco, e.address, e.number, e.stall, e.speed_steps) for e in engines] == [
        ("KC 12", 12, "12", 1.5, "28/128"),
        ("KC 13", 13, None, 2, "14"),
        ("KC 14", None, None, None, None),
        ("KC 15", 15, None, 1, None),
        ("KC 16", 16, None, None, None),
        ("KC 17", 17, None, None, None),
    ]


def test_what_does_not_come_through_is_found_at_its_cell(odd: Path) -> None:
    assert brief(_findings(odd)) == [
        ("heading-unknown", "E4", "note"),
        ("number-became-date", "F7", "error"),
        ("steps-mismatch", "H7", "warning"),
        ("value-is-error", "B8", "error"),
        ("number-became-float", "F9", "error"),
        ("cells-merged", "G9", "warning"),
    ]


def test_filling_it_leaves_every_other_part_of_the_file_as_it_was(odd: Path, tmp_path: Path) -> None:
    path = Path(shutil.copy(odd, tmp_path))

    fill_workbook(path)

    before, after = zipfile.ZipFile(odd), zipfile.ZipFile(path)
    assert set(before.namelist()) <= set(after.namelist())
    assert after.read("xl/worksheets/sheet1.xml") == before.read("xl/worksheets/sheet1.xml")
    sheet = openpyxl.load_workbook(path, data_only=True)["LOCOMOTIVES"]
    assert [cell.value for cell in sheet[4]][:8] == [
        "notes",
        "DCC\naddress",
        "Colour",
        "LOCO",
        "Adress kind",
        "Number",
        "Stall A",
        "Steps",
    ]
    assert [sheet.cell(5, column).value for column in range(1, 9)] == [
        None,
        "１２",
        "green",
        " KC 12 ",
        None,
        "12",
        "1,5",
        28,
    ]
