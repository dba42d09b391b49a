"""A worksheet as it stands in the file, before anything is made of it."""

from collections.abc import Mapping, Sequence
from dataclasses import dataclass, field
from datetime import date, datetime, time, timedelta


@dataclass(frozen=True, slots=True)
class CellError:
    """An error value that a spreadsheet program left in a cell, such as #REF!."""

    code: str

    def __str__(self) -> str:
        return self.code


@dataclass(frozen=True, slots=True)
class NoStoredValue:
    """A formula whose result is not stored in the file."""

    formula: str

    def __str__(self) -> str:
        return f"={self.formula}"


@dataclass(frozen=True, slots=True)
class Calculated:
    """The stored result of a formula, told apart from a value where only values may stand."""

    result: "Raw"

    def __str__(self) -> str:
        return "a formula" if self.result == "" else f"the result {self.result} of a formula"


@dataclass(frozen=True, slots=True)
class ScientificNumber:
    """A number shown in scientific notation, as spreadsheets do with a typed 4E2 (the value is then 400)."""

    value: float

    def __str__(self) -> str:
        mantissa, exponent = f"{self.value:E}".split("E")
        return f"{mantissa.rstrip('0').rstrip('.')}E{exponent}"


@dataclass(frozen=True, slots=True)
class BadDate:
    """A cell with a date format whose number is no date (negative, beyond year 9999, not finite)."""

    text: str

    def __str__(self) -> str:
        return self.text


Raw = (
    str
    | int
    | float
    | bool
    | datetime
    | date
    | time
    | timedelta
    | CellError
    | NoStoredValue
    | Calculated
    | ScientificNumber
    | BadDate
)
"""What a cell can hold. A blank cell is the empty string."""


def filled(rows: list[list[Raw]]) -> int:
    """Count the cells that are not blank."""
    return sum(len(row) - row.count("") for row in rows)


def trimmed(rows: list[list[Raw]]) -> list[list[Raw]]:
    """Cut blank cells off the ends of the rows, and rows without a value off the end; in place."""
    for row in rows:
        while row and row[-1] == "":
            row.pop()
    while rows and not rows[-1]:
        rows.pop()
    return rows


@dataclass(frozen=True, slots=True)
class MergedRange:
    """Cells shown as one, or under one drawing or table, by sheet rows and columns from 1.

    Of merged cells only the first (top, left) has a value.
    """

    top: int
    left: int
    bottom: int
    right: int


@dataclass(frozen=True, slots=True, kw_only=True)
class Grid:
    """One worksheet: ``rows[i][j]`` is the cell in sheet row ``i + 1`` and column ``j + 1``.

    Rows reach at least to their last cell with a value; rows without any may be missing at the end.
    """

    title: str
    rows: list[list[Raw]]
    merged: tuple[MergedRange, ...] = ()
    drawing_areas: tuple[MergedRange, ...] = ()
    """Areas that a drawing or a table covers or a sparkline stands in."""
    formulas: Mapping[tuple[int, int], str] = field(default_factory=dict)
    """The text of each formula without ``=``, by row and column; ``rows`` has the stored results."""
    hidden: bool = False
    is_own: bool = False


@dataclass(frozen=True, slots=True, kw_only=True)
class Workbook:
    """A workbook as read: its name for findings, all its titles, and the sheets that were asked for."""

    name: str
    titles: tuple[str, ...]
    grids: Mapping[str, Grid] = field(default_factory=dict)
    """By title, as it is spelt in the workbook."""
    own_titles: tuple[str, ...] = ()
    """Titles of sheets that rosterkit made."""
    beginnings: Mapping[str, Sequence[Sequence[str]]] = field(default_factory=dict)
    """The texts in the first rows of sheets that were not read, by title."""
