"""Splices changed cells into the rows of a worksheet; each byte of every other cell stays as it is."""

from collections import deque
from collections.abc import Mapping

from rosterkit.xlsx.patch.cell_writer import CellSplices, CellWriter, RowChanges, StyleOf
from rosterkit.xlsx.patch.splices import opened
from rosterkit.xlsx.patch.stored_cells import StoredCells, Texts
from rosterkit.xlsx.patch.worksheet import SheetText


def cell_splices(
    sheet: SheetText, changes: Mapping[int, RowChanges], style_of: StyleOf, texts: Texts
) -> CellSplices:
    """Work out the splices for all changed cells of a sheet.

    Args:
        sheet: The worksheet.
        changes: The changes by row and column.
        style_of: Gives the style of a written cell.
        texts: Gives the shared texts; called only if a cell to be written holds one of them.

    Raises:
        OutOfOrderError: the rows, or the cells of a row to be changed, do not stand in order.
        EditRefused: a cell holds an image or a formula that others are derived from.
    """
    stored = StoredCells(sheet, texts)
    freed: set[tuple[int, int]] = set()
    while True:
        writer = CellWriter(sheet, style_of, stored, changes, freed)
        _write(writer, sheet, changes)
        if writer.freed <= freed:
            return writer.out
        # Cells that stayed as they were took their formula from one that has another now.
        freed |= writer.freed


def _write(writer: CellWriter, sheet: SheetText, changes: Mapping[int, RowChanges]) -> None:
    waiting = sorted(changes, reverse=True)
    rows = sheet.rows()
    for row in rows:
        while waiting and waiting[-1] < row.number:
            number = waiting.pop()
            writer.insert(row.start, writer.new_row(number, changes[number]))
        if waiting and waiting[-1] == row.number:
            writer.change(row, changes[waiting.pop()])
        if not waiting:
            if not sheet.in_order_after(row):
                deque(rows, maxlen=0)
            break
    rest = b"".join(writer.new_row(number, changes[number]) for number in reversed(waiting))
    element = sheet.sheet_data
    if rest and element.empty:
        writer.replace(element.start, element.end, opened(sheet.data[element.start : element.end], rest))
    else:
        writer.insert(element.outside, rest)
