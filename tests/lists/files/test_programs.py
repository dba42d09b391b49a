"""Lists as LibreOffice and Gnumeric save them, compared cell by cell with what was put in."""

import subprocess
from collections.abc import Callable
from datetime import date, datetime, time
from pathlib import Path
from typing import Any

import openpyxl
import pytest
from openpyxl.comments import Comment
from openpyxl.styles import PatternFill

from rosterkit.lists.files.opening import read_list
from rosterkit.lists.plain import PlainArea, PlainCell

pytestmark = pytest.mark.external

MOMENT = datetime(2019, 3, 2, 4, 5)
RATIO = "a time of day, as programs make it of a typed ratio such as 1:87"
TYPED: dict[str, tuple[Any, str, PlainCell]] = {
    "A1": ("Road", "General", PlainCell("Road", "Road")),
    "B1": ("Länge ü. P.", "General", PlainCell("Länge ü. P.", "Länge ü. P.")),
    "A2": ("007", "@", PlainCell("007", "007")),
    "B2": (7, "000", PlainCell("007", 7)),
    "C2": (5210, "General", PlainCell("5210", 5210)),
    "D2": (182.5, "General", PlainCell("182.5", 182.5)),
    "E2": (date(2019, 3, 2), "yyyy-mm-dd", PlainCell("2019-03-02", date(2019, 3, 2))),
    "F2": (MOMENT, "yyyy-mm-dd hh:mm", PlainCell("2019-03-02 04:05", MOMENT)),
    "G2": (time(2, 27), "hh:mm", PlainCell("02:27", time(2, 27), loss=RATIO)),
    "A3": ("two\nlines", "General", PlainCell("two\nlines", "two\nlines")),
    "B3": (0.5, "0%", PlainCell("50%", 0.5)),
    "C3": (-3, "General", PlainCell("-3", -3)),
    "D3": (1234567, "General", PlainCell("1234567", 1234567)),
    "E3": ("4E2", "@", PlainCell("4E2", "4E2")),
    "F3": ("1-2", "@", PlainCell("1-2", "1-2")),
    "G3": ("NA", "General", PlainCell("NA", "NA")),
    "A4": ("=C2*2", "General", PlainCell("10420", 10420)),
    "B4": ("=A1&\"!\"", "General", PlainCell("Road!", "Road!")),
    "C4": (
        "=1/0", "General",
        PlainCell("#DIV/0!", "#DIV/0!", loss="the error value #DIV/0! in place of a value"),
    ),
    "D4": (
        400, "0.00E+00",
        PlainCell("4E+02", 400.0, loss="a number in scientific notation, as programs make it of a typed 4E2"),
    ),
    "A6": ("merged", "General", PlainCell("merged", "merged")),
}  # fmt: skip
"""What is put in, its number format, and what is to come out."""
NOTED = PlainCell("5210", 5210, note="tried 9, answers 3", fill="FFFF99")


def written(folder: Path) -> Path:
    book = openpyxl.Workbook()
    sheet = book.worksheets[0]
    sheet.title = "Engines"
    for name, (value, code, _) in TYPED.items():
        sheet[name] = value
        sheet[name].number_format = code
    sheet["C2"].fill = PatternFill("solid", fgColor="FFFF99")
    sheet["C2"].comment = Comment("tried 9, answers 3", "M01")
    sheet.merge_cells("A6:B7")
    book.create_sheet("Secret").sheet_state = "hidden"
    book["Secret"]["B2"] = "x"
    path = folder / "list.xlsx"
    book.save(path)
    return path


def by_libreoffice(path: Path, kind: str) -> Path:
    profile = f"-env:UserInstallation={(path.parent / 'profile').as_uri()}"
    folder = path.parent / "libreoffice"
    words = ["soffice", profile, "--headless", "--convert-to", kind, "--outdir", str(folder), str(path)]
    subprocess.run(words, check=True, capture_output=True, timeout=120)
    return folder / f"list.{kind.partition(':')[0]}"


def by_gnumeric(path: Path, kind: str) -> Path:
    target = path.with_name(f"gnumeric.{'ods' if 'Calc' in kind else 'xls'}")
    words = ["ssconvert", "-T", kind, str(path), str(target)]
    subprocess.run(words, check=True, capture_output=True, timeout=120)
    return target


@pytest.mark.parametrize(
    ("program", "kind"),
    [
        pytest.param(by_libreoffice, "ods", id="LibreOffice, .ods"),
        pytest.param(by_libreoffice, "fods", id="LibreOffice, .fods"),
        pytest.param(by_libreoffice, "xls", id="LibreOffice, .xls"),
        pytest.param(by_libreoffice, "xlsx", id="LibreOffice, .xlsx"),
        pytest.param(by_gnumeric, "Gnumeric_OpenCalc:openoffice", id="Gnumeric, .ods"),
        pytest.param(by_gnumeric, "Gnumeric_Excel:excel_biff8", id="Gnumeric, .xls"),
        pytest.param(by_gnumeric, "Gnumeric_Excel:excel_biff7", id="Gnumeric, .xls of 1995"),
    ],
)
def test_what_a_program_saves_is_read_to_the_last_cell(
    program: Callable[[Path, str], Path], kind: str, tmp_path: Path
) -> None:
    first, second = read_list(program(written(tmp_path), kind)).sheets

    named = {name: (cell.row, cell.column) for name, cell in _places().items()}
    expected = {named[name]: cell for name, (_, _, cell) in TYPED.items()} | {named["C2"]: NOTED}
    assert dict(first.cells) == expected
    assert {at: type(cell.value) for at, cell in first.cells.items()} == {
        at: type(cell.value) for at, cell in expected.items()
    }
    assert (first.title, first.merged, first.hidden) == ("Engines", (PlainArea(6, 1, 7, 2),), False)
    assert (second.title, second.hidden, dict(second.cells)) == (
        "Secret",
        True,
        {(2, 2): PlainCell("x", "x")},
    )


def _places() -> dict[str, "openpyxl.cell.Cell"]:
    sheet = openpyxl.Workbook().worksheets[0]
    return {name: sheet[name] for name in TYPED}


@pytest.mark.parametrize(
    ("filter_options", "remarks"),
    [
        pytest.param("44,34,76", (), id="commas, UTF-8"),
        pytest.param("59,34,76", (), id="semicolons, UTF-8"),
        pytest.param("9,34,65535", (), id="tabs, UTF-16"),
        pytest.param(
            "59,34,1",
            (
                "Its encoding is a guess: code page windows-1252, in which it says 'Länge', 'ü'; if that is "
                "wrong, save it as .csv in UTF-8.",
            ),
            id="semicolons, windows-1252",
        ),
    ],
)
def test_what_a_program_exports_as_text(
    filter_options: str, remarks: tuple[str, ...], tmp_path: Path
) -> None:
    path = by_libreoffice(written(tmp_path), f"csv:Text - txt - csv (StarCalc):{filter_options}")

    found = read_list(path)

    texts = {(row, column): cell.text for (row, column), cell in found.sheets[0].cells.items()}
    assert found.remarks == remarks
    assert [texts.get((2, column), "") for column in range(1, 8)] == [
        "007", "007", "5210", "182.5", "2019-03-02", "2019-03-02 04:05", "02:27"
    ]  # fmt: skip
    assert [texts.get((3, column), "") for column in range(1, 8)] == [
        "two\nlines", "50%", "-3", "1234567", "4E2", "1-2", "NA"
    ]  # fmt: skip
    assert (texts[1, 2], texts[6, 1]) == ("Länge ü. P.", "merged")


def test_a_workbook_that_is_a_web_page_is_read(tmp_path: Path) -> None:
    path = by_libreoffice(written(tmp_path), "html").rename(tmp_path / "list.xls")

    found = read_list(path)

    cells = found.sheets[0].cells
    assert found.remarks == ("It is read as a web page (HTML), for that is what it holds.",)
    assert (cells[2, 1].text, cells[2, 2].text, cells[2, 3]) == (
        "007",
        "007",
        PlainCell("5210", "5210", "tried 9, answers 3", "FFFF99"),
    )
    assert PlainArea(6, 1, 7, 2) in found.sheets[0].merged
