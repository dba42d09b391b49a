"""Cells of a copy that stand outside any table: above the headings, without a heading, or below the rows."""

from collections import Counter
from collections.abc import Iterator
from typing import NamedTuple

from rosterkit.roster.tables import Table
from rosterkit.versions.content import content
from rosterkit.versions.places import SheetPlaces
from rosterkit.xlsx.grid import Grid, Raw

ABOVE = "it stands above the headings"
WITHOUT = "it stands in a column without a heading"
BELOW = "it stands in a row of no list"
BESIDE = "it stands beside the settings"


class Outside(NamedTuple):
    """A cell outside any table."""

    row: int
    column: int
    value: Raw
    where: str
    """Where it stands, in words."""


def outside_cells(places: SheetPlaces) -> Iterator[Outside]:
    """Return the cells outside the table of a copy's sheet that the base has neither there nor elsewhere."""
    if places.copy_table is None or places.base_table is None:
        return
    before = {
        (one.row, one.column): _content(places.base, one) for one in _cells(places.base, places.base_table)
    }
    left = Counter(before.values())
    waiting: list[Outside] = []
    for one in _cells(places.copy, places.copy_table):
        found = _content(places.copy, one)
        if before.get(places.at(one.row, one.column) or (0, 0)) == found:
            left[found] -= 1
        else:
            waiting.append(one)
    for one in waiting:
        found = _content(places.copy, one)
        if left[found] > 0:
            left[found] -= 1
        else:
            yield one


def _content(grid: Grid, cell: Outside) -> str:
    return content(cell.value, grid.formulas.get((cell.row, cell.column)))


def _cells(grid: Grid, table: Table) -> Iterator[Outside]:
    """Return the cells that no row and no setting holds; computed columns are none of them."""
    if table.sheet.transposed:
        yield from _beside(grid, table)
        return
    headings = table.headings
    computed = {headings.columns.get(one.name) for one in table.sheet.computed}
    width = max(map(len, grid.rows), default=0)
    bare = [at for at in range(1, width + 1) if at not in {*headings.columns.values(), *headings.own}]
    typed = [at for at in range(1, width + 1) if at not in computed]
    listed = set(table.rows)
    for row, cells in enumerate(grid.rows, 1):
        if row == headings.row:
            continue
        above = row < headings.row
        for column in bare if row in listed else range(1, width + 1) if above else typed:
            value = cells[column - 1] if column <= len(cells) else ""
            if value != "" and content(value, grid.formulas.get((row, column))):
                yield Outside(row, column, value, ABOVE if above else WITHOUT if column in bare else BELOW)


def _beside(grid: Grid, table: Table) -> Iterator[Outside]:
    """Return the cells that are neither the name of a setting nor its value."""
    settings = set(table.headings.columns.values())
    for row, cells in enumerate(grid.rows, 1):
        for column, value in enumerate(cells, 1):
            named = row in settings and column in (table.name_column, table.value_column)
            if value != "" and not named and content(value, grid.formulas.get((row, column))):
                yield Outside(row, column, value, BESIDE)
