"""A sheet of ours that a workbook lacks, made with the rows that are to stand in it."""

from collections.abc import Mapping, Sequence

from rosterkit.errors import CannotRunError
from rosterkit.roster.schema import Column, folded, sheet
from rosterkit.roster.tables import Book
from rosterkit.writeback.computed_columns import Computed
from rosterkit.xlsx.changes import CellStyle, OwnCell, OwnSheet


def new_sheet(book: Book, title: str, rows: Sequence[Mapping[str, Computed]], headings: str) -> OwnSheet:
    """Return one of our sheets, which the workbook lacks, with these values by the names of their columns.

    ``headings`` are those that the sheet needs, in words.

    Raises:
        CannotRunError: if the workbook has a sheet of that title without our headings.
    """
    if any(folded(other) == folded(title) for other in book.without_headings):
        raise CannotRunError(
            f"{book.name}: the sheet '{title}' has no heading row of ours",
            f"Give it the headings {headings}, or another title if it is your own.",
        )
    columns = sheet(title).columns
    heading = [OwnCell(column.heading, CellStyle.HEADING) for column in columns]
    below = [[_cell(column, values) for column in columns] for values in rows]
    widths = tuple(column.width for column in columns)
    return OwnSheet(
        title=title,
        rows=[heading, *below],
        widths=widths,
        frozen_rows=1,
        filtered=True,
        filled_by_members=True,
    )


def _cell(column: Column, values: Mapping[str, Computed]) -> OwnCell:
    computed = column.computed and column.name in values
    return OwnCell(values.get(column.name), CellStyle.COMPUTED if computed else CellStyle.PLAIN)
