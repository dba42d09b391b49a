"""Single cells and rows of a master: given a value, or emptied of what members filled in."""

from collections.abc import Iterator, Sequence

from rosterkit.roster.tables import Table
from rosterkit.writeback.computed_columns import may_be_ours
from rosterkit.writeback.merge_places import SheetPlaces
from rosterkit.writeback.raw_values import UnwritableError, written_as
from rosterkit.xlsx.changes import CellChange
from rosterkit.xlsx.grid import Raw


def value_change(places: SheetPlaces, at: tuple[int, int], value: Raw, *, date1904: bool) -> CellChange:
    """Return what puts a value into a cell, given by row and column.

    Raises:
        UnwritableError: a formula stands there, or what was read is no value.
    """
    if places.has_formula(*at):
        raise UnwritableError("a formula stands there in the workbook, which stays")
    written, look = written_as(value, date1904=date1904)
    return CellChange(row=at[0], column=at[1], value=written, look=look)


def emptied_row(places: SheetPlaces, row: int) -> Iterator[CellChange]:
    """Return the cells of a row that hold what members filled in, and what we computed of it, emptied.

    Formulas stay, and so does the row, so that nothing below it moves.
    """
    for column in _of_row(places, row):
        if not (places.has_formula(row, column) or places.is_blank(row, column)):
            yield CellChange(row=row, column=column, value=None)


def _of_row(places: SheetPlaces, row: int) -> Sequence[int]:
    cells = places.grid.rows[row - 1] if row <= len(places.grid.rows) else []
    table = places.table
    if table is None:
        return range(1, len(cells) + 1)
    typed = [*table.headings.own, *_columns(table, computed=False).values()]
    computed = _columns(table, computed=True).items()
    ours = (at for name, at in computed if at <= len(cells) and may_be_ours(table.sheet[name], cells[at - 1]))
    return sorted({*typed, *ours})


def _columns(table: Table, *, computed: bool) -> dict[str, int]:
    there = table.headings.columns
    wanted = (one.name for one in table.sheet.columns if one.computed is computed)
    return {name: there[name] for name in wanted if name in there}
