"""Why a cell or a workbook is not written: the one form that these refusals take."""

from rosterkit.cell_names import column_letters
from rosterkit.errors import CannotRunError
from rosterkit.xlsx.package.errors import shown

MOVE = "Move what stands there to another cell, then try again."
"""What helps with a cell that may not be overwritten."""


class EditRefused(Exception):
    """A cell cannot be written without harm."""

    def __init__(self, row: int, column: int, why: str, fix: str) -> None:
        """Say it of a cell.

        Args:
            row: The cell's row, from 1.
            column: The cell's column, from 1.
            why: What the cell does, such as "holds an image".
            fix: What the member can do.
        """
        super().__init__(why)
        self.row = row
        self.column = column
        self.why = why
        self.fix = fix

    def refusal(self, workbook: str, sheet: str) -> CannotRunError:
        """Return the error for the member."""
        cell = f"{column_letters(self.column)}{self.row}"
        return unwritable(workbook, f"the cell {cell} of its sheet {shown(sheet)} {self.why}", self.fix)


def unwritable(workbook: str, why: str, fix: str) -> CannotRunError:
    """Make the error that says why a workbook is not written; ``why`` is a clause such as "it is signed"."""
    return CannotRunError(f"cannot write {workbook}: {why}", fix)
