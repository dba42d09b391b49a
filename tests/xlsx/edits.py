"""Small edits of the club's sheet, made in the file at once."""

from pathlib import Path

from rosterkit.xlsx.changes import CellChange, CellStyle, SheetChange, WorkbookChange
from rosterkit.xlsx.package.opening import opened
from rosterkit.xlsx.save.edit import Edited, edited
from tests.xlsx.clubs import TITLE

Value = str | int | float | None


def changed(
    path: Path, *new: tuple[int, int, Value], look: CellStyle | None = None, last_row: int = 0
) -> Edited:
    """Write cells (row, column, value) into the sheet with the engines, the list of which begins in B1."""
    cells = tuple(CellChange(row=row, column=column, value=value, look=look) for row, column, value in new)
    sheet = SheetChange(title=TITLE, cells=cells, heading=(1, 2), last_row=last_row)
    return made(path, WorkbookChange(sheets=(sheet,)))


def made(path: Path, change: WorkbookChange) -> Edited:
    """Make a change in a file."""
    result = edited(opened(path), change)
    path.write_bytes(result.data)
    return result
