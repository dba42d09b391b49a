"""What cells hold as formulas see it: dates are numbers, and a formula of a member's is its stored result."""

import math
import re
from collections.abc import Collection, Sequence
from datetime import date, datetime, time, timedelta
from itertools import zip_longest
from typing import cast

from rosterkit.formulas.values import UNSURE, Content, FormulaError
from rosterkit.xlsx.grid import BadDate, Calculated, CellError, Grid, NoStoredValue, Raw, ScientificNumber

_PLAIN = {str, float, int, bool}
_DAY = timedelta(days=1)
_FALSE_LEAP_DAY = date(1900, 3, 1)
"""From here on days count one more in the calendar that begins in 1900: it has a day that never was."""
_NUMBER = re.compile(r"[+-]?(?:\d+\.?\d*|\.\d+)(?:[eE][+-]?\d+)?\Z", re.ASCII)


def columns_of(grid: Grid, columns: Collection[int], *, date1904: bool = False) -> dict[int, list[Content]]:
    """Return what the cells of some sheet columns hold, from row 1 to the last one that the sheet has.

    What no program would calculate alike, such as a formula without a stored result, is UNSURE.
    """
    across = list(zip_longest(*grid.rows, fillvalue=""))
    blank: Sequence[Raw] = ("",) * len(grid.rows)
    cells = {at: across[at - 1] if at <= len(across) else blank for at in columns}
    found = {at: contents(column, date1904=date1904) for at, column in cells.items()}
    for row, at in grid.formulas:
        # A formula that comes to an empty text is not a blank cell.
        if at in cells and row <= len(grid.rows) and cells[at][row - 1] == "":
            found[at][row - 1] = ""
    return found


def contents(cells: Sequence[Raw], *, date1904: bool = False) -> list[Content]:
    """Return what cells hold as formulas see it."""
    if set(map(type, cells)) <= _PLAIN:
        plain = cast("Sequence[str | float | bool]", cells)
        return [None if cell == "" else cell for cell in plain]
    return [_content(cell, date1904=date1904) for cell in cells]


def _content(cell: Raw, *, date1904: bool) -> Content:
    if isinstance(cell, str | bool | int | float):
        return None if cell == "" else cell
    if isinstance(cell, Calculated):
        return "" if cell.result == "" else _content(cell.result, date1904=date1904)
    if isinstance(cell, ScientificNumber):
        return cell.value
    if isinstance(cell, CellError):
        return FormulaError(cell.code)
    if isinstance(cell, NoStoredValue):
        return UNSURE
    if isinstance(cell, BadDate):
        return _number_or_text(cell.text)
    return days(cell, date1904=date1904)


def _number_or_text(text: str) -> Content:
    value = float(text) if _NUMBER.match(text) else math.nan
    return value if math.isfinite(value) else text


def days(moment: datetime | date | time | timedelta, *, date1904: bool) -> float:
    """Return the number that a cell with a date, a time of day or a duration holds (ECMA-376-1, 18.17.4)."""
    if isinstance(moment, timedelta):
        return moment / _DAY
    if isinstance(moment, time):
        return (datetime.combine(date.min, moment) - datetime.min) / _DAY
    day = moment.date() if isinstance(moment, datetime) else moment
    first = date(1904, 1, 1) if date1904 else date(1899, 12, 31 if day < _FALSE_LEAP_DAY else 30)
    clock = moment.time() if isinstance(moment, datetime) else time()
    whole = (day - first).days
    part = (datetime.combine(date.min, clock) - datetime.min) / _DAY
    return whole + part if part else whole
