"""Cell references as the parts of a workbook spell them."""

import re
from functools import cache

from rosterkit.xlsx.grid import MergedRange
from rosterkit.xlsx.package import limits
from rosterkit.xlsx.package.markup import MarkupError

# As the r attribute is written: capitals, no dollar signs, and no row 0.
_CELL = re.compile(r"([A-Z]{1,3})([1-9][0-9]{0,6})\Z")


@cache
def column_number(letters: str) -> int:
    """Return the number of a column from its letters (A is 1); the letters are A to Z."""
    number = 0
    for letter in letters:
        number = number * 26 + ord(letter) - ord("A") + 1
    return number


def cell(reference: str) -> tuple[int, int]:
    """Return row and column, from 1, of a reference such as C7; MarkupError if no sheet has that cell."""
    match = _CELL.match(reference)
    if match is not None:
        row, column = int(match[2]), column_number(match[1])
        if row <= limits.LAST_ROW and column <= limits.LAST_COLUMN:
            return row, column
    raise MarkupError(f"names the cell '{reference[:40]}', which no sheet has")


def merged(reference: str) -> MergedRange:
    """Read a merged range such as A1:C3; MarkupError if it is no range of cells."""
    first, _, last = reference.partition(":")
    top, left = cell(first)
    bottom, right = cell(last or first)
    if bottom < top or right < left:
        raise MarkupError(f"merges the cells '{reference[:40]}', which is no range")
    return MergedRange(top, left, bottom, right)
