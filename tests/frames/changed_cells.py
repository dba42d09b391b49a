"""What differs between two workbooks, as readers see it that know nothing of frames."""

import zipfile
from pathlib import Path
from typing import Any

import openpyxl


def changed_cells(before: Path, after: Path) -> dict[tuple[str, str], Any]:
    """Return the new contents, by openpyxl, of the cells that differ, by sheet and name.

    Fails if a cell that held something has another number format.
    """
    old, new = openpyxl.load_workbook(before), openpyxl.load_workbook(after)
    assert old.sheetnames == new.sheetnames
    found: dict[tuple[str, str], Any] = {}
    for sheet in new.worksheets:
        other = old[sheet.title]
        rows, columns = (
            max(sheet.max_row, other.max_row),
            max(sheet.max_column, other.max_column),
        )
        for row in sheet.iter_rows(max_row=rows, max_col=columns):
            for cell in row:
                was = other[cell.coordinate]
                assert was.value is None or was.number_format == cell.number_format
                if (was.value, was.data_type) != (cell.value, cell.data_type):
                    found[sheet.title, cell.coordinate] = cell.value
    return found


def changed_parts(before: Path, after: Path) -> set[str]:
    """Return the names of the parts that differ, came or went."""
    old, new = (_parts(path) for path in (before, after))
    return {name for name in old.keys() | new.keys() if old.get(name) != new.get(name)}


def _parts(path: Path) -> dict[str, bytes]:
    with zipfile.ZipFile(path) as archive:
        return {name: archive.read(name) for name in archive.namelist()}
