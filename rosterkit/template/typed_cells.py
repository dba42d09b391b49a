"""The cells below the headings of a new workbook: texts as texts, and each column in its own look."""

from openpyxl.cell.cell import Cell, MergedCell
from openpyxl.styles import Alignment, Font, PatternFill

from rosterkit.roster.schema import Column, Kind
from rosterkit.template.instructions import FONT
from rosterkit.template.looks import Looks
from rosterkit.template.own_columns import NewValue

GREY = PatternFill("solid", start_color="EDEDED")
"""Behind what is computed."""
NUMBER_FORMATS = {Kind.TEXT: "@", Kind.CHOICE: "@", Kind.DATE: "yyyy-mm-dd", Kind.TIME: "hh:mm:ss"}
"""Text stays as typed: without it a spreadsheet makes 7 of 007, 400 of 4E2 and a day of 1-2."""


def write_typed(cell: Cell | MergedCell, column: Column, value: NewValue, looks: Looks) -> None:
    """Write one cell of a member's; text as text, also where it looks like a formula."""
    if value is None and not column.computed:
        return
    cell.value = value
    if isinstance(value, str):
        cell.data_type = "s"
    looks.dress(cell, column, lambda new: _dress(new, column))


def _dress(cell: Cell | MergedCell, column: Column) -> None:
    cell.number_format = "General" if column.computed else NUMBER_FORMATS.get(column.kind, "General")
    if column.computed:
        cell.fill, cell.font = GREY, Font(name=FONT, italic=True, color="6B6B6B")
    if column.name == "notes":
        cell.alignment = Alignment(wrap_text=True, vertical="top")
