"""The cells that formulas refer to, each range of them looked through once."""

from collections.abc import Callable, Sequence
from typing import NamedTuple, Protocol
from weakref import WeakKeyDictionary

from rosterkit.formulas.ranges import RangeContent
from rosterkit.formulas.values import Content

Scalar = Callable[["Cells", int], Content]
"""A part of a formula: its value for some cells, as if it stood in a row."""


class Cells(Protocol):
    """The cells of a workbook, or some of them.

    They must not change while formulas are calculated from them: what was counted in a range is kept for as
    long as the object lives. A sheet that is not there holds #REF! in every cell.
    """

    def value(self, sheet: str, row: int, column: int) -> Content:
        """Return what a cell holds; titles are the same in any case, rows and columns count from 1."""

    def block(self, sheet: str, top: int, left: int, bottom: int, right: int) -> Sequence[Sequence[Content]]:
        """Return the rows of cells from top to bottom, each from left to right, both ends included."""


class Span(NamedTuple):
    """A range of cells on a sheet, both ends included."""

    sheet: str
    top: int
    left: int
    bottom: int
    right: int


_RANGES: WeakKeyDictionary[Cells, dict[Span, RangeContent]] = WeakKeyDictionary()


def content(cells: Cells, span: Span) -> RangeContent:
    """Return what a range holds, looked through once for each object of cells."""
    known = _RANGES.get(cells)
    if known is None:
        known = _RANGES[cells] = {}
    found = known.get(span)
    if found is None:
        found = known[span] = RangeContent(cells.block(*span))
    return found


def forget(cells: Cells) -> None:
    """Forget what was counted in ranges of these cells, because they have changed."""
    _RANGES.pop(cells, None)
