"""The one form that every refusal to read a workbook takes."""

from rosterkit.errors import CannotRunError
from rosterkit.printable import printable

REPAIR = "Open it in a spreadsheet program, let it repair the file, and save it again as an .xlsx workbook."
"""What helps with most damaged workbooks."""

FETCH_AGAIN = "Copy or download the file again, or take the last good backup."
"""What helps with a file that was cut short or changed on its way."""
SMALLER = "Make its pictures smaller, or split the workbook."


class OtherTableError(CannotRunError):
    """The file is a table, but no .xlsx workbook: text with separators, .ods, .xls or .xlsb."""


def unreadable(name: str, why: str, fix: str = REPAIR) -> CannotRunError:
    """Make the error that says why a workbook cannot be read; ``why`` is a clause such as "it is empty"."""
    return CannotRunError(f"cannot read {name}: {why}", fix)


def shown(text: str, longest: int = 60) -> str:
    """Quote a text out of a file in a message: controls as escapes, and cut where it is very long."""
    return f"'{printable(text if len(text) <= longest else text[: longest - 1] + '…')}'"


def other_table(name: str, what: str) -> OtherTableError:
    """Make the error for a table that is no .xlsx workbook; ``what`` it is is a clause."""
    fix = "Open it in a spreadsheet program and save it as an .xlsx workbook."
    return OtherTableError(f"cannot read {name}: {what}", fix)
