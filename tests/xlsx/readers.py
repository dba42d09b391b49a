"""Workbooks as other programs read them: the values of all cells by sheet, row and column."""

import csv
import subprocess
from collections.abc import Iterable
from pathlib import Path

import openpyxl
from python_calamine import CalamineWorkbook, SheetTypeEnum

Values = dict[str, dict[tuple[int, int], str]]
"""Values as text, by the sheet's title and by row and column from 1; blank cells are left out."""

_ALL_SHEETS = "csv:Text - txt - csv (StarCalc):44,34,76,1,,0,false,true,false,false,false,-1"


def as_text(value: object) -> str:
    """Write a value alike whatever reader it is from."""
    if isinstance(value, bool):
        return str(value).upper()
    if isinstance(value, int | float):
        return f"{value:.15g}"
    return str(value)


def by_openpyxl(path: Path) -> Values:
    """Read the stored values with openpyxl."""
    book = openpyxl.load_workbook(path, data_only=True)
    return {
        sheet.title: {
            (cell.row, cell.column): as_text(cell.value)
            for row in sheet.iter_rows()
            for cell in row
            if cell.value is not None and cell.value != "" and cell.column is not None
        }
        for sheet in book.worksheets
    }


def by_calamine(path: Path) -> Values:
    """Read the stored values with calamine."""
    book = CalamineWorkbook.from_path(path)
    titles = [sheet.name for sheet in book.sheets_metadata if sheet.typ is SheetTypeEnum.WorkSheet]
    sheets = {title: book.get_sheet_by_name(title) for title in titles}
    return {title: _of_rows(sheet.to_python(skip_empty_area=False)) for title, sheet in sheets.items()}


def by_gnumeric(path: Path, folder: Path) -> Values:
    """Have Gnumeric write the sheets as text, and read that."""
    command = ["ssconvert", "--export-file-per-sheet", str(path), str(folder / f"{path.stem}@%s.csv")]
    subprocess.run(command, check=True, timeout=60, capture_output=True)
    return {file.stem.partition("@")[2]: _of_csv(file) for file in folder.glob(f"{path.stem}@*.csv")}


def by_libreoffice(paths: Iterable[Path], folder: Path) -> dict[Path, Values]:
    """Have LibreOffice write the sheets of many workbooks as text, and read that."""
    wanted = list(paths)
    profile = f"-env:UserInstallation={(folder / 'profile').as_uri()}"
    command = ["soffice", profile, "--headless", "--convert-to", _ALL_SHEETS, "--outdir", str(folder)]
    subprocess.run([*command, *map(str, wanted)], check=True, timeout=300, capture_output=True)
    return {
        path: {file.stem[len(path.stem) + 1 :]: _of_csv(file) for file in folder.glob(f"{path.stem}-*.csv")}
        for path in wanted
    }


def _of_csv(path: Path) -> dict[tuple[int, int], str]:
    with path.open(encoding="utf-8", newline="") as file:
        return _of_rows(csv.reader(file))


def _of_rows(rows: Iterable[Iterable[object]]) -> dict[tuple[int, int], str]:
    return {
        (row, column): as_text(value)
        for row, cells in enumerate(rows, start=1)
        for column, value in enumerate(cells, start=1)
        if value not in {"", None}
    }
