"""Puts rows of a list into another order: whole rows move, but for columns whose formulas count by place."""

import re
from collections.abc import Iterator

from rosterkit.cell_names import column_letters
from rosterkit.xlsx.changes import RowOrder
from rosterkit.xlsx.package.opening import SheetPart
from rosterkit.xlsx.patch.draft import Draft
from rosterkit.xlsx.patch.row_hindrances import hindrances
from rosterkit.xlsx.patch.splices import Splice, spliced
from rosterkit.xlsx.patch.worksheet import Place, SheetText, sheet_text
from rosterkit.xlsx.xml import tags

_NUMBER = re.compile(rb'(\sr=["\'])([0-9]+)(["\'])')


class RowsBoundError(Exception):
    """Something is bound to the place of a row; the text says what and where."""


def reorder_rows(draft: Draft, part: SheetPart, order: RowOrder) -> None:
    """Put the rows of a sheet's part in the draft into another order.

    Raises:
        RowsBoundError: something is bound to a row that could not go along.
        MarkupError: the part is not such as can be edited.
        OutOfOrderError: its rows or cells are out of order.
    """
    sheet = sheet_text(draft.text(part.part))
    hindrance = next(hindrances(draft, part, sheet, order), None)
    if hindrance is not None:
        raise RowsBoundError(hindrance)
    wanted = set(order.rows)
    places = {row.number: row for row in sheet.rows() if row.number in wanted}
    if len(places) != len(wanted):
        raise RowsBoundError("a row in which nothing stands is among those to be moved")
    rows = {number: _Row(sheet, place) for number, place in places.items()}
    splices = [
        Splice(places[new].start, places[new].end, rows[old].at(new, rows[new], order.staying))
        for new, old in order.rows.items()
        if new != old
    ]
    draft.write(part.part, spliced(sheet.data, splices))


class _Row:
    """A row taken apart: its tag, and its cells by column."""

    def __init__(self, sheet: SheetText, place: Place) -> None:
        self.number = place.number
        self.name = sheet.prefix + b"row"
        tag = sheet.data[place.start : place.inside]
        self.tag = tags.without_attributes(tag, "spans").rstrip(b"/>").rstrip()
        self.cells = dict(_cells(sheet, place))
        rest = sheet.data[place.inside : place.outside]
        for cell in self.cells.values():
            rest = rest.replace(cell, b"", 1)
        if rest.strip():
            raise RowsBoundError(f"row {place.number} holds more than cells")

    def at(self, number: int, standing: "_Row", staying: frozenset[int]) -> bytes:
        """Return the row as it stands at another place, with the cells that stay there."""
        cells = {column: cell for column, cell in standing.cells.items() if column in staying}
        for column, cell in self.cells.items():
            if column not in staying:
                old = f'"{column_letters(column)}{self.number}"'.encode()
                new = f'"{column_letters(column)}{number}"'.encode()
                cells[column] = cell.replace(old, new, 1)
        tag = _NUMBER.sub(lambda found: found[1] + b"%d" % number + found[3], self.tag, count=1)
        content = b"".join(cells[column] for column in sorted(cells))
        return tag + b">" + content + b"</%b>" % self.name


def _cells(sheet: SheetText, row: Place) -> Iterator[tuple[int, bytes]]:
    columns: list[int] = sheet.columns(row)
    for position, column in enumerate(columns):
        cell = sheet.cell(row, columns, position)
        data = sheet.data[cell.start : cell.end]
        if f' r="{column_letters(column)}{row.number}"'.encode() not in data[: cell.inside - cell.start]:
            raise RowsBoundError(f"row {row.number} is spelt in an unusual way")
        yield column, data
