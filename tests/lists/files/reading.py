"""Lists read from files in a temporary folder, as tables that tests compare."""

from pathlib import Path

from rosterkit.lists.files.opening import read_list
from rosterkit.lists.plain import PlainList, PlainSheet


def read(folder: Path, raw: bytes, name: str = "list.csv") -> PlainList:
    """Write a file, and read it."""
    path = folder / name
    path.write_bytes(raw)
    return read_list(path)


def rows_of(sheet: PlainSheet) -> list[list[str]]:
    """Return the texts of a sheet, row by row, blank ones at the ends left out."""
    last = max((row for row, _ in sheet.cells), default=0)
    found = []
    for row in range(1, last + 1):
        columns = [column for at, column in sheet.cells if at == row and sheet.cells[at, column].text]
        filled = range(1, max(columns, default=0) + 1)
        found.append([sheet.cells[row, one].text if one in columns else "" for one in filled])
    return found


def rows(folder: Path, raw: bytes, name: str = "list.csv") -> list[list[str]]:
    """Return the texts of a file that has one sheet."""
    (sheet,) = read(folder, raw, name).sheets
    return rows_of(sheet)
