"""Rectangles of cells: read from references such as B2:D9 and written as such."""

import re
from bisect import bisect_left, bisect_right
from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass

from rosterkit.cell_names import column_letters
from rosterkit.xlsx.package import limits
from rosterkit.xlsx.xml.references import column_number

# Both parts may be empty: A:A names no row, 5:5 no column.
_CORNER = re.compile(r"\$?([A-Za-z]{0,3})\$?([0-9]{0,7})")


@dataclass(frozen=True, slots=True, order=True)
class Area:
    """Cells from one corner to the other, by sheet rows and columns from 1, both ends included."""

    top: int
    left: int
    bottom: int
    right: int

    def __str__(self) -> str:
        first = f"{column_letters(self.left)}{self.top}"
        last = f"{column_letters(self.right)}{self.bottom}"
        return first if first == last else f"{first}:{last}"

    @property
    def absolute(self) -> str:
        """The reference with dollar signs, always as a range."""
        return f"${column_letters(self.left)}${self.top}:${column_letters(self.right)}${self.bottom}"

    @property
    def single(self) -> bool:
        """Whether it is one cell only."""
        return self.top == self.bottom and self.left == self.right

    def holds(self, row: int, column: int) -> bool:
        """Whether a cell lies inside."""
        return self.top <= row <= self.bottom and self.left <= column <= self.right

    def meets(self, other: "Area") -> bool:
        """Whether the two have a cell in common."""
        return (
            self.top <= other.bottom
            and other.top <= self.bottom
            and self.left <= other.right
            and other.left <= self.right
        )

    def around(self, other: "Area") -> "Area":
        """Return the smallest area that holds both."""
        return Area(
            min(self.top, other.top),
            min(self.left, other.left),
            max(self.bottom, other.bottom),
            max(self.right, other.right),
        )


def area(reference: str) -> Area:
    """Read a reference: one cell, a range, whole columns (A:C) or whole rows (1:3).

    ValueError if it is none of these, or lies outside a sheet.
    """
    first, _, last = reference.partition(":")
    top, left = _corner(first, row=1, column=1)
    bottom, right = _corner(last or first, row=limits.LAST_ROW, column=limits.LAST_COLUMN)
    found = Area(min(top, bottom), min(left, right), max(top, bottom), max(left, right))
    if found.top < 1 or found.left < 1 or found.bottom > limits.LAST_ROW or found.right > limits.LAST_COLUMN:
        raise ValueError(f"the reference {reference[:40]!r} lies outside a sheet")
    return found


def area_or_none(reference: str | None) -> Area | None:
    """Read a reference as ``area`` does; None if it is none."""
    try:
        return area(reference or "")
    except ValueError:
        return None


def _corner(text: str, *, row: int, column: int) -> tuple[int, int]:
    match = _CORNER.fullmatch(text)
    if match is None or not (match[1] or match[2]):
        raise ValueError(f"{text[:40]!r} is no reference to a cell")
    return int(match[2] or row), column_number(match[1].upper()) or column


def first_inside(areas: Iterable[Area], cells: Mapping[int, Sequence[int]]) -> tuple[Area, int, int] | None:
    """Find a cell, of the columns by row, that lies in one of the areas, where none should lie."""
    rows = sorted(cells)
    for guarded in areas:
        for row in rows[bisect_left(rows, guarded.top) : bisect_right(rows, guarded.bottom)]:
            for column in cells[row]:
                if guarded.left <= column <= guarded.right:
                    return guarded, row, column
    return None
