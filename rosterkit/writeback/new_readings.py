"""Readings taken over by fill: the workbook as if they stood in it already, and what writes them there."""

from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass, replace

from rosterkit.roster.load import roster_from
from rosterkit.roster.model import Roster
from rosterkit.writeback.computed_columns import Computed, computed_rows
from rosterkit.writeback.new_sheet import new_sheet
from rosterkit.writeback.readings import NEEDED_HEADINGS, TITLE, below
from rosterkit.xlsx.changes import CellChange, OwnSheet, SheetChange
from rosterkit.xlsx.grid import Grid, Raw, Workbook

Rows = Sequence[Mapping[str, Computed]]
"""Rows of Readings, by the names of its columns."""


@dataclass(frozen=True, slots=True, kw_only=True)
class WithReadings:
    """A workbook with new readings, which are not written yet."""

    workbook: Workbook
    roster: Roster
    change: SheetChange | None = None
    """What writes them; None where there are none, or the sheet is a new one."""
    rows: Rows = ()

    def sheet_changes(self, changes: Iterable[SheetChange]) -> tuple[SheetChange, ...]:
        """Return the changes of the sheets that stand in the workbook, with the new rows among them."""
        new = self.change
        if new is None:
            title = TITLE if self.rows else None
            return tuple(one for one in changes if one.title != title)
        return tuple(
            replace(one, cells=(*new.cells, *one.cells), last_row=new.last_row)
            if one.title == new.title
            else one
            for one in changes
        )

    def own_sheets(self) -> list[OwnSheet]:
        """Return the sheet Readings, where the workbook has none yet."""
        if self.change is not None or not self.rows:
            return []
        rows = [
            {**row, **computed}
            for row, computed in zip(self.rows, computed_rows(self.roster, TITLE), strict=True)
        ]
        return [new_sheet(self.roster.book, TITLE, rows, NEEDED_HEADINGS)]


def with_readings(workbook: Workbook, roster: Roster, rows: Rows) -> WithReadings:
    """Return a workbook and its roster as they are with further readings, below those that stand there.

    Raises:
        CannotRunError: if the sheet Readings cannot take the rows.
    """
    if not rows:
        return WithReadings(workbook=workbook, roster=roster)
    table = roster.book.tables.get(TITLE)
    if table is None:
        page = new_sheet(roster.book, TITLE, rows, NEEDED_HEADINGS)
        cells = [["" if cell.value is None else cell.value for cell in row] for row in page.rows]
        grid, change = Grid(title=TITLE, rows=[[*row] for row in cells]), None
    else:
        change = below(table, rows)
        grid = _written(workbook.grids[table.title], change.cells)
    titles = workbook.titles if table else (*workbook.titles, TITLE)
    workbook = replace(workbook, titles=titles, grids={**workbook.grids, grid.title: grid})
    return WithReadings(workbook=workbook, roster=roster_from(workbook), change=change, rows=rows)


def _written(grid: Grid, cells: Iterable[CellChange]) -> Grid:
    rows: list[list[Raw]] = [*grid.rows]
    for cell in cells:
        rows += [[] for _ in range(cell.row - len(rows))]
        row = [*rows[cell.row - 1]]
        row += [""] * (cell.column - len(row))
        row[cell.column - 1] = "" if cell.value is None else cell.value
        rows[cell.row - 1] = row
    return replace(grid, rows=rows)
