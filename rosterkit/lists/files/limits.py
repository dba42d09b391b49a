"""How large a list may be before it is refused, and the sentences that say so: every limit in one place.

No list of engines comes near: a club with 10,000 engines of 50 columns has half a million cells.
"""

from rosterkit.errors import CannotRunError
from rosterkit.xlsx.package.errors import unreadable
from rosterkit.xlsx.package.limits import MIB

MAX_TEXT_BYTES = 64 * MIB
"""Size of a text file."""

MAX_CONTENT_BYTES = 128 * MIB
"""Size of the content of an OpenDocument spreadsheet when it is unpacked."""

MAX_FILLED = 1_000_000
"""Cells with a value in all sheets together."""

MAX_COLUMNS = 16_384
"""Columns of a sheet; a limit of spreadsheet programs, for text files too."""

MAX_ROWS = 1_048_576
"""Rows of a sheet; a limit of spreadsheet programs, for text files too."""

OLD_COLUMNS = 256
"""Columns of a sheet in .xls; a limit of that format ([MS-XLS], 2.5.51)."""

MAX_PLACES = 20_000_000
"""Places of the rectangle around the filled cells of a sheet in .xls or .xlsb, which is laid out whole."""

MAX_LOOKED_AT = 500_000
"""Places of a rectangle of cells up to which each is looked at, be it filled or not."""

MAX_COLOURED = 200_000
"""Cells of a sheet that are coloured but blank, of which the colour is kept; others lose it without harm."""

_ENGINES_ONLY = "Copy the engines into a file of their own, and adopt that."


def too_large(name: str, size: int) -> CannotRunError:
    """Make the error for a file whose text has more than ``size`` bytes."""
    return unreadable(name, f"its text is larger than {size // MIB} MB", _ENGINES_ONLY)


def too_many_cells(name: str) -> CannotRunError:
    """Make the error for a list with more filled cells than ``MAX_FILLED``."""
    return unreadable(name, f"it holds more than {MAX_FILLED:,} filled cells", _ENGINES_ONLY)


def too_many_columns(name: str) -> CannotRunError:
    """Make the error for a sheet or a text that is wider than ``MAX_COLUMNS``."""
    return unreadable(name, f"it has more than {MAX_COLUMNS:,} columns", _ENGINES_ONLY)


def too_many_rows(name: str) -> CannotRunError:
    """Make the error for a sheet or a text that is longer than ``MAX_ROWS``."""
    return unreadable(name, f"it has more than {MAX_ROWS:,} rows", _ENGINES_ONLY)
