"""Cells of our sheets that no table takes in: above the headings, without a heading, below the rows."""

from collections.abc import Mapping
from dataclasses import replace

from rosterkit.roster.schema import SETTING_HEADINGS, folded
from rosterkit.roster.tables import Table
from rosterkit.versions.version import Version
from rosterkit.xlsx.grid import Grid, Raw


def own_and_outside(version: Version) -> Mapping[str, Grid]:
    """Return the members' own sheets, and of ours what stands outside any table, by title."""
    ours = {table.title: table for table in version.book.tables.values()}
    found: dict[str, Grid] = {}
    for title, grid in version.grids.items():
        if title not in ours:
            found[title] = grid
        elif (outside := outside_table(grid, ours[title])).rows:
            found[title] = outside
    return found


def outside_table(grid: Grid, table: Table) -> Grid:
    """Return a sheet of ours with the cells only that are outside of its table, each in its place.

    The headings are inside, and so is all that stands below one in a row that has a cell filled in; of
    settings, their names, values, units and what they are for.
    """
    inside = _settings(grid, table) if table.sheet.transposed else _records(table)
    rows: list[list[Raw]] = []
    for number, cells in enumerate(grid.rows, 1):
        columns = inside.get(number)
        if columns is None:
            rows.append(list(cells))
        else:
            rows.append(["" if at in columns else cell for at, cell in enumerate(cells, 1)])
    while rows and not any(cell != "" for cell in rows[-1]):
        rows.pop()
    return replace(grid, rows=rows)


def _records(table: Table) -> dict[int, frozenset[int]]:
    computed = frozenset(
        place for name, place in table.headings.columns.items() if table.sheet[name].computed
    )
    columns = frozenset({*table.headings.columns.values(), *table.headings.own})
    rows = dict.fromkeys((table.headings.row, *table.rows), columns)
    # What was computed for an engine that is gone is nobody's.
    return dict.fromkeys((*table.orphaned_rows, *table.other_rows), computed) | rows


def _settings(grid: Grid, table: Table) -> dict[int, frozenset[int]]:
    names = {folded(heading) for heading in SETTING_HEADINGS}
    headings = enumerate(grid.rows[table.headings.row - 1], 1)
    columns = frozenset(at for at, cell in headings if isinstance(cell, str) and folded(cell) in names)
    return dict.fromkeys((table.headings.row, *table.headings.columns.values()), columns)
