"""Where in a member's workbook the sheets stand that formulas read and fill."""

from collections.abc import Mapping

from rosterkit.live.places import Places, SheetPlace
from rosterkit.roster.tables import Book, Table
from rosterkit.writeback.places import computed_places
from rosterkit.writeback.spare_rows import formula_rows

WITH_FORMULAS = ("Locomotives", "Consists", "Accessories")
"""The sheets, by their own titles, whose computed columns hold formulas."""


def formula_places(book: Book) -> Places:
    """Return the places of the sheets, with the computed columns that fill adds where it adds them."""
    return {title: _place(table) for title, table in book.tables.items()}


def _place(table: Table) -> SheetPlace:
    if table.sheet.transposed:
        return SheetPlace(
            title=table.title,
            columns={"heading": table.name_column, "value": table.value_column},
            heading_row=table.headings.row,
            last_row=max([table.headings.row, *table.headings.columns.values()]),
        )
    columns = columns_of(table)
    rows = rows_of(table, columns) if table.sheet.title in WITH_FORMULAS else table.rows
    return SheetPlace(
        title=table.title,
        columns=columns,
        heading_row=table.headings.row,
        last_row=max([table.headings.row, *rows]),
    )


def columns_of(table: Table) -> Mapping[str, int]:
    """Return the sheet column of each column that is there, or will be."""
    return {**table.headings.columns, **computed_places(table)[0]}


def rows_of(table: Table, columns: Mapping[str, int]) -> list[int]:
    """Return the rows of a sheet that get formulas, in rising order."""
    return formula_rows(table, max(columns[column.name] for column in table.sheet.computed))
