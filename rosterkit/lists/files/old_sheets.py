"""Puts what calamine reads of an .xls sheet together with what its records say of numbers and looks."""

from collections.abc import Iterator, Mapping
from itertools import chain

from rosterkit.lists.files.coloured import Box, coloured_blanks
from rosterkit.lists.files.number_formats import shows_year
from rosterkit.lists.files.old_records import OldBook, OldFormat, OldSheet
from rosterkit.lists.files.values import plain_cell
from rosterkit.lists.plain import PlainCell
from rosterkit.xlsx.grid import CellError, Raw
from rosterkit.xlsx.read.dates import number_shown

Cells = dict[tuple[int, int], PlainCell]


def cells_with_records(values: Mapping[tuple[int, int], Raw], book: OldBook, sheet: OldSheet) -> Cells:
    """Return the cells of a sheet: texts by the one, numbers, errors, notes and colours by the other.

    Args:
        values: What calamine reads, by row and column.
        book: What the records of the workbook say.
        sheet: And those of the sheet.
    """
    cells: Cells = {}
    errors = {at for at, value in sheet.values.items() if isinstance(value, CellError)}
    usual = OldFormat()
    further = sorted((errors | sheet.notes.keys()) - values.keys())
    for at, value in chain(values.items(), ((at, "") for at in further)):
        number = sheet.formats.get(at, 0)
        look = book.formats[number] if number < len(book.formats) else usual
        stored = sheet.values.get(at)
        raw: Raw = value
        if isinstance(stored, CellError) and value == "":
            raw = stored
        elif isinstance(stored, float) and not isinstance(value, str | bool):
            raw = number_shown(repr(stored), look.kind, date1904=book.date1904)
        cells[at] = plain_cell(
            raw,
            code=look.code,
            note=sheet.notes.get(at, ""),
            fill=look.fill,
            year_shown=shows_year(look.code),
        )
    blanks = coloured_blanks(cells, _coloured(book, sheet, Box.around(cells)))
    return dict(sorted((cells | blanks).items())) if blanks or further else cells


def _coloured(book: OldBook, sheet: OldSheet, box: Box) -> Iterator[tuple[tuple[int, int], str]]:
    for at, number in sheet.formats.items():
        fill = book.format(number).fill
        if fill and box.holds(*at):
            yield at, fill
