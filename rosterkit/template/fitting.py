"""Columns as wide, and rows as high, as what stands in a new workbook needs to be read and printed."""

from collections.abc import Mapping, Sequence

from openpyxl.utils import get_column_letter
from openpyxl.worksheet.worksheet import Worksheet

from rosterkit.roster.schema import Column, Kind, Sheet
from rosterkit.template.own_columns import NewValue, OwnColumn
from rosterkit.xlsx.changes import LINE, lines_of

_WIDEST = 40
_HIGHEST = 27
"""Lines that a row can show: no spreadsheet makes one higher than 409 points."""


def fit_to_contents(
    page: Worksheet, sheet: Sheet, records: Sequence[Mapping[str, NewValue]], own: Sequence[OwnColumn]
) -> None:
    """Widen columns of texts to the longest of them, and raise rows of wrapped ones; sets nothing smaller.

    The heights are written because not every program reckons them anew when it opens a file: the lines of
    a cell would be printed over the rows below.
    """
    heights = dict.fromkeys(range(2, len(records) + 2), 1)
    for at, column in enumerate(sheet.columns, 1):
        texts = [str(record.get(column.name) or "") for record in records]
        if column.name == "notes":
            _raise(heights, texts, column.width)
        elif _may_grow(column):
            wanted = max((len(text) for text in texts), default=0) + 2
            dimension = page.column_dimensions[get_column_letter(at)]
            dimension.width = max(column.width, min(_WIDEST, wanted))
    for at, beside in enumerate(own, len(sheet.columns) + 1):
        texts = [str(cell or "") for cell in beside.cells]
        if beside.wrapped or any("\n" in text for text in texts):
            _raise(heights, texts, page.column_dimensions[get_column_letter(at)].width)
    for row, lines in heights.items():
        if lines > 1:
            page.row_dimensions[row].height = LINE * min(lines, _HIGHEST)


def _may_grow(column: Column) -> bool:
    return column.kind is Kind.TEXT and not column.computed


def _raise(heights: dict[int, int], texts: Sequence[str], width: float) -> None:
    """Note the lines of each row's text where they are more than those of its other cells."""
    for row, text in enumerate(texts, 2):
        if text:
            heights[row] = max(
                heights.get(row, 1), sum(lines_of(line, width - 1) for line in text.split("\n"))
            )
