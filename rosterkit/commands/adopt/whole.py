"""A new workbook read again: every filled cell of the list, and of the rows made of it, has to stand."""

from collections.abc import Iterator, Mapping, Sequence
from datetime import date, datetime, time, timedelta

from rosterkit.commands.adopt.rows import SheetRows
from rosterkit.commands.adopt.shown_as import shown
from rosterkit.errors import CannotRunError
from rosterkit.lists.plain import PlainList, PlainValue
from rosterkit.roster.schema import sheet
from rosterkit.template.own_columns import NewValue
from rosterkit.xlsx.grid import Grid, Raw, ScientificNumber
from rosterkit.xlsx.package.opening import opened_in_memory
from rosterkit.xlsx.read.workbook import read_workbook
from rosterkit.xlsx.xml.values import cell_text


def require_whole(
    data: bytes, name: str, plain: PlainList, titles: Mapping[str, str], rows: Mapping[str, SheetRows]
) -> None:
    """Read a workbook again, and see that every filled cell of the list and of our rows stands in it.

    Raises:
        CannotRunError: if one does not.
    """
    grids = read_workbook(opened_in_memory(data, name), lambda _: True).grids
    for title, (row, column), wanted in (*_of_list(plain, titles), *_of_rows(rows)):
        stands = _at(grids.get(title), row, column)
        if not _same(wanted, stands):
            raise CannotRunError(
                f"'{wanted}' would not stand in the sheet '{title}' of {name} as it does in {plain.name}",
                "Please report this, with the list if you can.",
            )


_Wanted = tuple[str, tuple[int, int], object]


def _of_list(plain: PlainList, titles: Mapping[str, str]) -> Iterator[_Wanted]:
    for one in plain.sheets:
        for at, cell in one.cells.items():
            put: PlainValue = shown(cell).value
            if cell.text or not isinstance(put, str):
                # What a cell cannot hold, such as a control character, nobody sees; all else has to stand.
                text = isinstance(put, str)
                source = cell.value if isinstance(cell.value, str) else cell.text
                yield titles[one.title], at, cell_text(source) if text else put


def _of_rows(rows: Mapping[str, SheetRows]) -> Iterator[_Wanted]:
    for title, one in rows.items():
        places = dict(enumerate(sheet(title).columns, 1))
        for n, record in enumerate(one.records):
            for at, column in places.items():
                if column.name in record:
                    # Settings stand below each other, one record is a row of any other sheet.
                    cell = (at + 1, 2) if sheet(title).transposed else (n + 2, at)
                    yield title, cell, _plain(record[column.name])
        for at, own in enumerate(one.own, len(places) + 1):
            for row, value in enumerate(own.cells, 2):
                if value is not None:
                    yield title, (row, at), _plain(value)


def _plain(value: NewValue) -> object:
    # The escape is the file's, not the reader's.
    return value.replace("_x005F_", "_") if isinstance(value, str) else value


def _at(grid: Grid | None, row: int, column: int) -> Raw:
    rows: Sequence[Sequence[Raw]] = grid.rows if grid else ()
    return rows[row - 1][column - 1] if row <= len(rows) and column <= len(rows[row - 1]) else ""


def _same(wanted: object, stands: Raw) -> bool:
    if isinstance(stands, ScientificNumber):
        stands = stands.value
    if isinstance(wanted, bool) or isinstance(stands, bool):
        return wanted is stands
    if isinstance(wanted, int | float):
        return isinstance(stands, int | float) and abs(stands - wanted) <= 1e-12 * abs(wanted)
    if isinstance(wanted, date | time | timedelta):
        return _moment(wanted) == _moment(stands)
    return wanted == stands


def _moment(value: object) -> object:
    """Return a moment as a number of seconds, to the second: a file keeps days as fractions."""
    if isinstance(value, datetime):
        return round((value - datetime(1899, 12, 30)).total_seconds())
    if isinstance(value, date):
        return round((datetime.combine(value, time()) - datetime(1899, 12, 30)).total_seconds())
    if isinstance(value, time):
        return value.hour * 3600 + value.minute * 60 + round(value.second + value.microsecond / 1e6)
    return round(value.total_seconds()) if isinstance(value, timedelta) else value
