"""References to cells as formulas spell them: read, and shifted."""

import re
from dataclasses import dataclass
from functools import lru_cache

from rosterkit.cell_names import column_letters

LAST_ROW, LAST_COLUMN = 1_048_576, 16_384
"""The last row and column of a worksheet in this format of workbooks."""

SHEET = r"'(?:[^']|'')*+'!|(?:\[[^\[\]]*\])?[^\W\d][\w.]*(?::[^\W\d][\w.]*)?!|\[[^\[\]]*\]!"
"""The title before a reference or a name: quoted, or bare where it needs no quotes."""
_CELL = r"\$?[A-Za-z]{1,3}\$?[0-9]{1,7}"
_COLUMN, _ROW = r"\$?[A-Za-z]{1,3}", r"\$?[0-9]{1,7}"
REFERENCE = rf"(?:{SHEET})?(?:{_CELL}(?::{_CELL})?|{_COLUMN}:{_COLUMN}|{_ROW}:{_ROW}|#REF!)"
"""A cell, a range of cells, whole columns or whole rows, each with or without a sheet's title."""

_CORNER = re.compile(r"(\$?)([A-Za-z]{1,3})?(\$?)([0-9]{1,7})?\Z")


@dataclass(frozen=True, slots=True)
class Corner:
    """One cell of a reference; in whole columns ``row`` is None, in whole rows ``column`` is."""

    row: int | None
    column: int | None
    row_fixed: bool
    column_fixed: bool

    @property
    def on_sheet(self) -> bool:
        """Whether worksheets have such a cell."""
        return (self.row is None or 1 <= self.row <= LAST_ROW) and (
            self.column is None or 1 <= self.column <= LAST_COLUMN
        )

    def shifted(self, rows: int, columns: int) -> "Corner":
        """Return the cell so many rows further down and columns to the right; what has a $ stays."""
        row = self.row if self.row is None or self.row_fixed else self.row + rows
        column = self.column if self.column is None or self.column_fixed else self.column + columns
        return Corner(row, column, self.row_fixed, self.column_fixed)

    def __str__(self) -> str:
        column = "" if self.column is None else "$" * self.column_fixed + column_letters(self.column)
        return column + ("" if self.row is None else "$" * self.row_fixed + str(self.row))


def split(reference: str) -> tuple[str, str]:
    """Return what stands before a reference's cells, the exclamation mark included, and the cells."""
    title, mark, cells = reference.removesuffix("#REF!").rpartition("!")
    return title + mark, cells or reference[len(title + mark) :]


def title_of(prefix: str) -> str | None:
    """Return the title of what stands before the cells, without quotes, None if there is none."""
    if not prefix:
        return None
    title = prefix[:-1]
    return title[1:-1].replace("''", "'") if title.startswith("'") else title


def corners(cells: str) -> list[Corner]:
    """Return the one or two corners of cells such as B2 or $B$2:$B9; none for #REF!."""
    return [] if cells == "#REF!" else [_corner(one) for one in cells.split(":")]


def _corner(text: str) -> Corner:
    match = _CORNER.match(text)
    if match is None:
        raise AssertionError("a reference has such corners only")
    first, letters, second, digits = match.groups()
    column = None if letters is None else _column_number(letters.upper())
    row = None if digits is None else int(digits)
    # Of whole rows the dollar sign is read as that of the column that is missing.
    return Corner(row, column, bool(second if letters else first or second), bool(first))


def _column_number(letters: str) -> int:
    number = 0
    for letter in letters:
        number = number * 26 + ord(letter) - ord("A") + 1
    return number


@lru_cache(maxsize=4096)
def within_sheet(reference: str) -> bool:
    """Tell whether worksheets have all the cells of a reference."""
    return all(corner.on_sheet for corner in corners(split(reference)[1]))


def shifted_reference(reference: str, rows: int, columns: int) -> str:
    """Return a reference as it stands so many rows further down and columns to the right.

    What leaves the sheet becomes #REF!, and a range of which one corner does.
    """
    prefix, cells = split(reference)
    moved = [corner.shifted(rows, columns) for corner in corners(cells)]
    inside = moved and all(corner.on_sheet for corner in moved)
    return prefix + (":".join(map(str, moved)) if inside else "#REF!")


def spelt_alike(reference: str) -> str:
    """Return a reference in capitals, its sheet's title in small letters and always in quotes."""
    prefix, cells = split(reference)
    title = title_of(prefix)
    if title is None:
        return cells.upper()
    quoted = title.lower().replace("'", "''")
    return f"'{quoted}'!{cells.upper()}"
