"""Names of cells as spreadsheet programs write them."""

from functools import cache


@cache
def column_letters(column: int) -> str:
    """Return the letters of a sheet column, counted from 1 (1 is A, 27 is AA)."""
    letters = ""
    while column:
        column, rest = divmod(column - 1, 26)
        letters = chr(ord("A") + rest) + letters
    return letters
