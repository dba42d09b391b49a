"""Rows of a sheet beside rows of a block: the block takes cells over by their place, the sheet takes results.

A block finds a row by how far it is below the heading, so that sorting, inserting and deleting rows keeps
both together; no formula of a block refers to a single cell of a sheet.
"""

from rosterkit.live.machinery import Block, Machinery
from rosterkit.live.places import SheetPlace
from rosterkit.live.settings import sound
from rosterkit.live.writing import cell, column_range

SPARE = 20
"""Rows that may be added to a sheet before the next fill."""


def block_beside(place: SheetPlace, name: str, *columns: str) -> Block:
    """Declare a block with a row for each row of a sheet, and some more."""
    return Block(name=name, columns=columns, rows=max(1, place.last_row - place.heading_row) + SPARE)


def taken_over(place: SheetPlace, name: str) -> str:
    """Refer, in a block, to the sheet's cell of a column in the row of the same place."""
    return f"INDEX({column_range(place, name, titled=True, beyond=SPARE)},{Machinery.place()}+1)"


def taken_back(place: SheetPlace, machinery: Machinery, block: str, column: str, anchor: str) -> str:
    """Return, in a sheet, what a block has in the row of the same place; an empty text where it has none.

    ``anchor`` is a column of the sheet, by whose heading rows are counted.
    """
    rows = f"ROW()-ROW({cell(place, anchor, row=place.heading_row)})"
    return f'IFERROR(IF({sound(machinery)},INDEX({machinery.whole(block, column)},{rows}),""),"")'
