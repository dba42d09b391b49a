"""One sheet of an OpenDocument spreadsheet: its rows and cells, which may be repeated by the million."""

from bisect import bisect_left
from collections.abc import Iterator
from operator import itemgetter
from typing import NamedTuple

from lxml import etree

from rosterkit.lists.files import limits
from rosterkit.lists.files.coloured import Box, coloured_blanks
from rosterkit.lists.files.open_document_cells import cell_of
from rosterkit.lists.files.open_document_names import TABLE
from rosterkit.lists.files.open_document_styles import Styles
from rosterkit.lists.plain import PlainArea, PlainCell, PlainSheet
from rosterkit.xlsx.package.limits import MAX_MERGED
from rosterkit.xlsx.package.markup import MarkupError, TooMuchError, whole

_CELL, _COVERED = f"{TABLE}table-cell", f"{TABLE}covered-table-cell"
_STYLE, _USUAL_STYLE = f"{TABLE}style-name", f"{TABLE}default-cell-style-name"
_REPEATED, _ROWS_REPEATED = f"{TABLE}number-columns-repeated", f"{TABLE}number-rows-repeated"
_WIDE, _HIGH = f"{TABLE}number-columns-spanned", f"{TABLE}number-rows-spanned"


class _Run(NamedTuple):
    """A blank cell that is coloured, as often as it is repeated."""

    area: PlainArea
    fill: str


class SheetReader:
    """Puts a sheet together, row by row; what is blank takes no room."""

    def __init__(self, name: str, table: etree._Element, styles: Styles, filled: int) -> None:
        self.filled = filled
        """Cells with a value in all sheets so far."""
        self._name = name
        self._styles = styles
        self._title = table.get(f"{TABLE}name") or ""
        self._hidden = styles.hidden(table.get(_STYLE))
        self._columns: list[tuple[int, str]] = []
        """The last column that has a style, and the style, from the left."""
        self._cells: dict[tuple[int, int], PlainCell] = {}
        self._merged: list[PlainArea] = []
        self._coloured: list[_Run] = []
        self._row = 1

    def add_column(self, column: etree._Element) -> None:
        """Take in what a column, or some that are alike, say of their cells."""
        last = self._columns[-1][0] if self._columns else 0
        self._columns.append((last + _count(column, _REPEATED), column.get(_USUAL_STYLE) or ""))

    def add_row(self, row: etree._Element) -> None:
        """Take in the cells of a row.

        Raises:
            MarkupError: a number in it is none, or it holds what no sheet can.
            CannotRunError: the list has more cells, rows or columns than ``limits`` allow.
        """
        times = _count(row, _ROWS_REPEATED)
        usual = row.get(_USUAL_STYLE) or ""
        column = 1
        for cell in row.iterchildren(_CELL, _COVERED):
            count = 1 if cell.get(_REPEATED) is None else _count(cell, _REPEATED)
            fill = self._styles.fill(cell.get(_STYLE) or usual or self._of_column(column))
            found = None if _is_blank(cell) else cell_of(cell, fill)
            if found is not None and (cell.get(_WIDE) or cell.get(_HIGH)):
                self._merge(cell, column)
            if found is not None and (found.text or found.note):
                self._add(found, column, times, count)
            elif fill:
                area = PlainArea(self._row, column, self._row + times - 1, column + count - 1)
                self._coloured.append(_Run(area, fill))
            column += count
        self._row += times

    def _of_column(self, column: int) -> str:
        place = bisect_left(self._columns, column, key=itemgetter(0))
        return self._columns[place][1] if place < len(self._columns) else ""

    def _add(self, cell: PlainCell, column: int, times: int, count: int) -> None:
        """Take in a cell that stands so many times below itself, and so many times beside itself."""
        if column + count - 1 > limits.MAX_COLUMNS:
            raise limits.too_many_columns(self._name)
        if self._row + times - 1 > limits.MAX_ROWS:
            raise limits.too_many_rows(self._name)
        self.filled += times * count
        if self.filled > limits.MAX_FILLED:
            raise limits.too_many_cells(self._name)
        if times == count == 1:
            self._cells[self._row, column] = cell
            return
        for row in range(self._row, self._row + times):
            for place in range(column, column + count):
                self._cells[row, place] = cell

    def _merge(self, cell: etree._Element, column: int) -> None:
        wide, high = _count(cell, _WIDE), _count(cell, _HIGH)
        if wide == high == 1:
            return
        if len(self._merged) == MAX_MERGED:
            raise TooMuchError(f"holds more than {MAX_MERGED:,} merged areas")
        bottom, right = self._row + high - 1, column + wide - 1
        self._merged.append(
            PlainArea(self._row, column, min(bottom, limits.MAX_ROWS), min(right, limits.MAX_COLUMNS))
        )

    def plain(self) -> PlainSheet:
        """Return the sheet."""
        blanks = coloured_blanks(self._cells, self._colours(Box.around(self._cells)))
        cells = dict(sorted((self._cells | blanks).items())) if blanks else self._cells
        return PlainSheet(self._title, cells, tuple(self._merged), self._hidden)

    def _colours(self, box: Box) -> Iterator[tuple[tuple[int, int], str]]:
        for area, fill in self._coloured:
            for row in range(max(area.top, box.top), min(area.bottom, box.bottom) + 1):
                for column in range(max(area.left, box.left), min(area.right, box.right) + 1):
                    yield (row, column), fill


def _is_blank(cell: etree._Element) -> bool:
    """Tell whether a cell says nothing but its style and how often it is repeated."""
    return not len(cell) and not set(cell.attrib) - {_STYLE, _REPEATED}


def _count(element: etree._Element, attribute: str) -> int:
    """Return how often something is repeated, or over how many cells it goes: once where nothing is said."""
    stated = element.get(attribute)
    if stated is None:
        return 1
    number = whole(stated)
    if not number:
        raise MarkupError(f"repeats something '{stated:.20}' times")
    return number
