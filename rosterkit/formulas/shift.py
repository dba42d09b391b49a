"""Formulas as a spreadsheet program shifts them when they are filled down or shared."""

import re
from functools import lru_cache

from rosterkit.formulas.references import LAST_ROW, shifted_reference
from rosterkit.formulas.tokens import Kind, tokens

# Texts and quoted titles go first, as they may look like cells; functions and bare titles are no cells.
_RELATIVE_ROW = re.compile(
    r'"(?:[^"]|"")*+"|'
    r"'(?:[^']|'')*+'|"
    r"(?<![\w.$\\])(\$?[A-Za-z]{1,3})([0-9]{1,7})(?![\w.(\[!\\?])"
)


def moved_rows(text: str, rows: int) -> str | None:
    """Return a formula moved down as ``shifted`` does, but quicker; None if a cell leaves the sheet."""
    lost = False

    def moved(match: re.Match[str]) -> str:
        nonlocal lost
        column, row = match.groups()
        if row is None:
            return match[0]
        lost = lost or not 1 <= int(row) + rows <= LAST_ROW
        return f"{column}{int(row) + rows}"

    found = _RELATIVE_ROW.sub(moved, text)
    return None if lost else found


def shifted(text: str, rows: int, columns: int) -> str:
    """Return a formula (without the equals sign before it) for a cell so many rows down and columns right.

    References move unless a $ holds them, and become #REF! where they leave the sheet; texts, names and the
    columns of tables stay. Any formula may be given, also with functions that are not calculated here.
    """
    if not rows and not columns:
        return text
    return "".join(_moved(piece, rows, columns) if moves else piece for piece, moves in _pieces(text))


# One formula names a cell more than once, and so do those beside it.
_moved = lru_cache(maxsize=1 << 12)(shifted_reference)


@lru_cache(maxsize=1 << 10)
def _pieces(text: str) -> tuple[tuple[str, bool], ...]:
    """Return the pieces of a formula, and whether each is a reference that moves; many cells share one."""
    words = tokens(text)
    moves = [one.kind is Kind.REFERENCE and shifted_reference(one.text, 1, 1) != one.text for one in words]
    return tuple((one.text, moving) for one, moving in zip(words, moves, strict=True))
