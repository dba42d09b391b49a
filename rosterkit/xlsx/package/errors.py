"""The one form that every refusal to read a workbook takes."""

from rosterkit.errors import CannotRunError

REPAIR = "Open it in a spreadsheet program, let it repair the file, and save it again as an .xlsx workbook."
"""What helps with most damaged workbooks."""

FETCH_AGAIN = "Copy or download the file again, or take the last good backup."
"""What helps with a file that was cut short or changed on its way."""


def unreadable(name: str, why: str, fix: str = REPAIR) -> CannotRunError:
    """Make the error that says why a workbook cannot be read; ``why`` is a clause such as "it is empty"."""
    return CannotRunError(f"cannot read {name}: {why}", fix)


def shown(text: str, longest: int = 60) -> str:
    """Quote a text out of a file in a message: control characters escaped, and cut where it is very long."""
    cut = text if len(text) <= longest else text[: longest - 1] + "…"
    return "'" + "".join(sign if sign.isprintable() else f"\\x{ord(sign):02x}" for sign in cut) + "'"
