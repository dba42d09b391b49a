"""The rows of a member's sheet that hold formulas: those of the list, and free rows below it."""

from collections.abc import Mapping, Set

from rosterkit.roster.tables import Table
from rosterkit.xlsx.package.limits import LAST_ROW

SPARE: Mapping[str, int] = {"Locomotives": 40, "Consists": 20, "Accessories": 20}
"""Rows below the list, by the sheet's own title, that compute as soon as something is typed into them."""


def formula_rows(table: Table, last_column: int, standing: Set[int] = frozenset()) -> list[int]:
    """Return the rows of a sheet that get formulas, in rising order.

    They are those of the list, those in which formulas stand already, and free rows below.

    Args:
        table: The sheet.
        last_column: The last sheet column that gets formulas.
        standing: The rows in which formulas of ours stand already.
    """
    first = _first_below(table)
    behind = min(first + SPARE.get(table.sheet.title, 0), first_obstacle(table, last_column, standing))
    return sorted({*table.rows, *standing, *range(first, behind)})


def first_obstacle(table: Table, last_column: int, standing: Set[int] = frozenset()) -> int:
    """Return the first row below the list that is not free, up to one beyond the last row of a sheet.

    There something of the member's stands, be it in a column of their own, or cells are merged, or a photo
    or another table lies over it, or the table ends in which the list stands. A table keeps its size: empty
    rows in it would count among its rows, and sort among them. Below it a spreadsheet program takes a new
    row in of its own accord only while nothing stands there, so that no formula does either.
    """
    first = _first_below(table)
    rows = {row for row in (*table.other_rows, *table.orphaned_rows) if row >= first} - standing
    areas = [area for area in table.areas if area.left <= last_column]
    below = [max(first, area.top) for area in areas if area.top > table.headings.row and area.bottom >= first]
    # What lies over headings and list is its table; the last row of it may be that of totals, be they blank.
    around = [area.bottom for area in areas if area.top <= table.headings.row and area.bottom >= first - 1]
    return min([*rows, *below, *(max(first, bottom) for bottom in around), LAST_ROW + 1])


def _first_below(table: Table) -> int:
    return max([table.headings.row, *table.rows]) + 1
