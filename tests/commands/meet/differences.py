"""What differs between two workbooks, seen by openpyxl and in the zip archive; clubs of a few rows."""

import zipfile
from collections.abc import Mapping, Sequence
from pathlib import Path

import openpyxl

from tests.command_line import written
from tests.rosters import sheet_of, workbook_of

Cells = Mapping[tuple[str, str], object]


def cells(path: Path) -> Cells:
    """Return every cell that is not blank, by sheet and name; a formula as its text."""
    return {
        (sheet.title, cell.coordinate): cell.value
        for sheet in openpyxl.load_workbook(path).worksheets
        for row in sheet.iter_rows()
        for cell in row
        if cell.value is not None
    }


def changed_columns(before: Path, after: Path) -> set[tuple[str, str]]:
    """Return sheet and heading, in row 1 of the later one, of the columns in which a cell differs."""
    old, new = cells(before), cells(after)
    differing = {at for at in old.keys() | new.keys() if old.get(at) != new.get(at)}
    return {(sheet, str(new[sheet, name.rstrip("0123456789") + "1"])) for sheet, name in differing}


def added_headings(before: Path, after: Path) -> set[tuple[str, str]]:
    """Return sheet and name of cells in row 1 where something stands only in the later one."""
    return {at for at in cells(after).keys() - cells(before).keys() if at[1].rstrip("1").isalpha()}


def changed_parts(before: Path, after: Path) -> set[str]:
    """Return the parts of which the bytes differ."""
    with zipfile.ZipFile(before) as old, zipfile.ZipFile(after) as new:
        parts = [{name: file.read(name) for name in file.namelist()} for file in (old, new)]
    return {name for name in parts[0].keys() | parts[1].keys() if parts[0].get(name) != parts[1].get(name)}


def sheet_parts(path: Path, *titles: str) -> set[str]:
    """Return the parts of sheets in a workbook that openpyxl wrote."""
    names = openpyxl.load_workbook(path).sheetnames
    return {f"xl/worksheets/sheet{names.index(title) + 1}.xml" for title in titles}


def club(path: Path, **sheets: Sequence[Mapping[str, object]]) -> Path:
    """Write a workbook of a few rows a sheet; a title has _ for a blank."""
    return written(
        path, workbook_of(*(sheet_of(title.replace("_", " "), rows) for title, rows in sheets.items()))
    )
