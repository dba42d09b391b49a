"""Where in a member's workbook the sheets stand that formulas read and fill."""

from collections.abc import Mapping, Set

from rosterkit.formulas.shared import SharedFormula
from rosterkit.live.alerts import BROKEN
from rosterkit.live.machinery import TITLE as LIVE
from rosterkit.live.places import Places, SheetPlace
from rosterkit.roster.tables import Book, Table
from rosterkit.writeback.places import computed_places
from rosterkit.writeback.spare_rows import formula_rows
from rosterkit.xlsx.read.formulas import column_group, each_once

WITH_FORMULAS = ("Locomotives", "Consists", "Accessories")
"""The sheets, by their own titles, whose computed columns hold formulas."""
_LOST = "#REF!"
"""Stands in formulas in place of a sheet or a cell that is gone."""


def has_formulas(book: Book) -> bool:
    """Tell whether fill wrote formulas into a workbook.

    Its sheet Live is there, or a formula with words of ours, wherever it stands.
    """
    if any(title.startswith(LIVE) for title in book.own_titles):
        return True
    table = book.tables.get("Locomotives")
    return table is not None and any(BROKEN in text for text in each_once(table.formulas))


def formula_places(book: Book) -> Places:
    """Return the places of the sheets, with the computed columns that fill adds where it adds them."""
    return {title: _place(table, book) for title, table in book.tables.items()}


def _place(table: Table, book: Book) -> SheetPlace:
    if table.sheet.transposed:
        return SheetPlace(
            title=table.title,
            columns={"heading": table.name_column, "value": table.value_column},
            heading_row=table.headings.row,
            last_row=max([table.headings.row, *table.headings.columns.values()]),
        )
    columns = columns_of(table)
    rows = rows_of(table, columns, book) if table.sheet.title in WITH_FORMULAS else table.rows
    return SheetPlace(
        title=table.title,
        columns=columns,
        heading_row=table.headings.row,
        last_row=max([table.headings.row, *rows]),
    )


def columns_of(table: Table) -> Mapping[str, int]:
    """Return the sheet column of each column that is there, or will be."""
    return {**table.headings.columns, **computed_places(table)[0]}


def rows_of(table: Table, columns: Mapping[str, int], book: Book) -> list[int]:
    """Return the rows of a sheet that get formulas, in rising order.

    Args:
        table: The sheet.
        columns: Its columns, also those that will be.
        book: The workbook.
    """
    return formula_rows(table, last_column(table, columns), standing_rows(table, book))


def standing_rows(table: Table, book: Book) -> Set[int]:
    """Return the rows of a sheet in which formulas of an earlier fill stand: some of them look into Live."""
    if not table.formulas or not has_formulas(book):
        return frozenset()
    own = [title.lower().replace("'", "''") for title in book.own_titles]
    live = [f"{title}{end}!" for title in own for end in ("", "'")]
    rows: set[int] = set()
    known: dict[SharedFormula, bool] = {}
    for place in table.formulas:
        if place[0] in rows:
            continue
        group = column_group(table.formulas, place)
        reads = None if group is None else known.get(group)
        if reads is None:
            text = table.formulas[place]
            reads = _LOST in text or any(title in text.lower() for title in live)
            known |= {} if group is None else {group: reads}
        if reads:
            rows.add(place[0])
    return rows


def last_column(table: Table, columns: Mapping[str, int]) -> int:
    """Return the last sheet column of ours."""
    return max(columns[column.name] for column in table.sheet.columns if column.name in columns)
