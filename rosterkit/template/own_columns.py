"""Columns of a member's own in a new workbook, at the right side of ours."""

from collections.abc import Sequence
from dataclasses import dataclass
from datetime import date, time

from openpyxl.cell.cell import Cell, MergedCell
from openpyxl.styles import Alignment, Border, Font, PatternFill, Side
from openpyxl.utils import get_column_letter
from openpyxl.worksheet.worksheet import Worksheet

from rosterkit.template.instructions import FONT
from rosterkit.template.looks import Looks

NewValue = str | int | float | date | time | None
"""What stands in a cell of a new workbook."""

_INK = "1F3A4D"
_OWN = PatternFill("solid", start_color="F3EFE3")
_LINE = Border(bottom=Side(style="medium", color=_INK))
_WIDEST, _WIDEST_OF_SENTENCES = 40, 70
_NARROWEST = 10


@dataclass(frozen=True, slots=True)
class OwnColumn:
    """A column that the schema does not have."""

    heading: str
    cells: Sequence[NewValue]
    """One for each row of the sheet."""
    wrapped: bool = False
    """It holds sentences."""


def write_own_columns(page: Worksheet, first: int, columns: Sequence[OwnColumn]) -> None:
    """Write columns from a sheet column on; texts stay texts, also where they look like a formula."""
    looks = Looks()
    for at, column in enumerate(columns, first):
        heading = page.cell(1, at)
        heading.value, heading.data_type = column.heading, "s"
        heading.font = Font(name=FONT, bold=True, color=_INK)
        heading.fill, heading.border = _OWN, _LINE
        heading.alignment = Alignment(wrap_text=True, vertical="center")
        longest = max((len(str(cell)) for cell in column.cells if cell is not None), default=0)
        widest = _WIDEST_OF_SENTENCES if column.wrapped else _WIDEST
        width = max(_NARROWEST, min(widest, max(longest, len(column.heading)) + 2))
        page.column_dimensions[get_column_letter(at)].width = width
        for row, value in enumerate(column.cells, 2):
            if value is not None and value != "":
                _write(page.cell(row, at), value, looks, wrapped=column.wrapped)


def _write(cell: Cell | MergedCell, value: NewValue, looks: Looks, *, wrapped: bool) -> None:
    cell.value = value
    text = isinstance(value, str)
    if text:
        cell.data_type = "s"
    elif not isinstance(value, int | float):
        return  # openpyxl gives a day its format
    wraps = wrapped or (isinstance(value, str) and "\n" in value)
    looks.dress(cell, (text, wraps), lambda new: _dress(new, text=text, wraps=wraps))


def _dress(cell: Cell | MergedCell, *, text: bool, wraps: bool) -> None:
    cell.number_format = "@" if text else "General"
    if wraps:
        cell.alignment = Alignment(wrap_text=True, vertical="top")
