"""A formula that a file holds once for a group of cells, and what it is in each of them.

The first cell of the group holds it; in the others it is what filling it down and across would make of it
(ISO/IEC 29500-1, 18.3.1.40).
"""

import re
from functools import cached_property

from rosterkit.formulas.references import split
from rosterkit.formulas.shift import shifted
from rosterkit.formulas.tokens import Kind, tokens

_MOVING = re.compile(r"(?P<column>\$?[A-Za-z]{1,3})(?P<row>[0-9]+)")
_HERE = "\0"
"""Stands for the number of the formula's row; no formula has it."""


class SharedFormula:
    """The formula of a group of cells."""

    def __init__(self, text: str, row: int, column: int) -> None:
        """Begin with the cell that holds it.

        Args:
            text: The formula without the equals sign.
            row: The cell's row, from 1.
            column: Its column, from 1.
        """
        self.text = text
        self.row = row
        self.column = column

    def at(self, row: int, column: int) -> str:
        """Return the formula that a cell of the group has."""
        if column == self.column and self._pieces is not None:
            return str(row).join(self._pieces)
        return shifted(self.text, row - self.row, column - self.column)

    def is_filled_down(self, column: int) -> bool:
        """Tell whether it differs among the cells of a column in the number of the row alone."""
        return column == self.column and self._pieces is not None

    @cached_property
    def _pieces(self) -> tuple[str, ...] | None:
        """Its pieces between the numbers of its row; None where they do not make it in other rows."""
        pieces = pieces_of(self.text, self.row)
        if pieces is None or str(self.row + 1).join(pieces) != shifted(self.text, 1, 0):
            return None
        return pieces


def pieces_of(formula: str, row: int) -> tuple[str, ...] | None:
    """Part a formula where it names its own row: joined by another row's number it is filled down to that.

    None where it names another row that would move with it.
    """
    words = [_marked(one.text, row) if one.kind is Kind.REFERENCE else one.text for one in tokens(formula)]
    return None if None in words else tuple("".join(filter(None, words)).split(_HERE))


def _marked(reference: str, row: int) -> str | None:
    prefix, cells = split(reference)
    marked = []
    for end in cells.split(":"):
        moving = _MOVING.fullmatch(end)
        if moving and int(moving["row"]) != row:
            return None
        marked.append(f"{moving['column']}{_HERE}" if moving else end)
    return prefix + ":".join(marked)
