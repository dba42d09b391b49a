"""A list as it stands in its file: sheets of cells, each with the text that a person sees there."""

from collections.abc import Mapping
from dataclasses import dataclass, field
from datetime import date, datetime, time, timedelta

from rosterkit.cell_names import column_letters

PlainValue = str | int | float | bool | date | datetime | time | timedelta
"""What a cell holds, as the file stores it; of a text file always the text."""


@dataclass(frozen=True, slots=True, order=True)
class Place:
    """A cell of a list (row and column counted from 1)."""

    sheet: str
    row: int
    column: int

    @property
    def cell(self) -> str:
        """The cell's name, such as C5."""
        return f"{column_letters(self.column)}{self.row}"

    def __str__(self) -> str:
        return f"{self.sheet}!{self.cell}"


@dataclass(frozen=True, slots=True)
class PlainCell:
    """What one cell shows and holds."""

    text: str
    """As a person sees it, stripped: 5210, 007 (also where the number format makes the zeros), 2019-03-02."""
    value: PlainValue
    note: str = ""
    """The note (comment) at the cell."""
    fill: str = ""
    """The colour behind it as RRGGBB, blank for none."""
    loss: str = ""
    """What the file no longer has of it as it was typed, in words; blank where nothing was lost.

    Such as a date where 1-2 may have been typed, an error value, or a formula without a stored result.
    """


@dataclass(frozen=True, slots=True)
class PlainArea:
    """A rectangle of cells, its corners included (rows and columns from 1)."""

    top: int
    left: int
    bottom: int
    right: int


@dataclass(frozen=True, slots=True)
class PlainSheet:
    """One sheet: the cells that hold anything, and which are merged."""

    title: str
    cells: Mapping[tuple[int, int], PlainCell]
    """By row and column from 1; a cell that shows nothing and has no note and no colour is not there."""
    merged: tuple[PlainArea, ...] = ()
    hidden: bool = False
    own: str = ""
    """Which sheet that rosterkit makes it is (Findings, Cards, Live …); blank if it is a member's."""


@dataclass(frozen=True, slots=True)
class PlainList:
    """A file as plain sheets; a text file is one sheet, titled like the file without its ending."""

    name: str
    """The file's name."""
    sheets: tuple[PlainSheet, ...]
    remarks: tuple[str, ...] = field(default=())
    """How it was read where that was a choice, in sentences: code page, delimiter, what stays behind."""
