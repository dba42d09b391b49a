"""Formats that members gave to cells of a copy: fill, bold, italic, colour of the text, kind of number.

Programs write formats in their own ways when they save; what is compared is what they all keep.
"""

from collections.abc import Iterator, Mapping
from functools import cached_property
from typing import NamedTuple

from rosterkit.cell_names import column_letters
from rosterkit.versions.content import content
from rosterkit.versions.places import SheetPlaces
from rosterkit.xlsx.grid import Grid, Raw
from rosterkit.xlsx.read.looks import Look, SheetLooks

_NEAR = 3
"""Of 255: by so much two programs may differ in a colour that the theme makes lighter or darker."""


class Formatted(NamedTuple):
    """A run of cells in one row that look otherwise than in the base, all in the same way."""

    row: int
    first: int
    last: int
    words: str

    @property
    def area(self) -> str:
        """The cells, such as A7 or A7 to C7."""
        start = f"{column_letters(self.first)}{self.row}"
        return start if self.first == self.last else f"{start} to {column_letters(self.last)}{self.row}"


def changed_looks(base: SheetLooks, copy: SheetLooks, places: SheetPlaces) -> Iterator[Formatted]:
    """Return the cells of a copy's sheet that were given a format, row by row.

    Looked at are the headings and all rows in which something stands, as far as columns have headings or a
    value. A cell in a row or a column that was added is compared with all that its column had. The kind of a
    number counts only where the same number stands: typing may choose it, and texts do not show it.
    """
    comparison = _Comparison(base, copy, places)
    for row, cells in enumerate(places.copy.rows, 1):
        if not any(cell != "" for cell in cells):
            continue
        run: Formatted | None = None
        for column, words in comparison.row(row, _width(places, cells)):
            if run and words == run.words and run.last == column - 1:
                run = run._replace(last=column)
                continue
            if run:
                yield run
            run = Formatted(row, column, column, words)
        if run:
            yield run


def _width(places: SheetPlaces, cells: list[Raw]) -> int:
    return len(cells) if places.copy_table is None else max(len(cells), places.copy_table.headings.width)


class _Comparison:
    """The looks of a copy's sheet beside those of the base; most rows have formats that others had before."""

    def __init__(self, base: SheetLooks, copy: SheetLooks, places: SheetPlaces) -> None:
        self.base, self.copy, self.places = base, copy, places
        self.alike: set[tuple[tuple[int, ...], tuple[int, ...]]] = set()
        self.columns: list[int | None] = []

    def row(self, row: int, width: int) -> Iterator[tuple[int, str]]:
        """Return the columns of a row whose cells were formatted, and how, in words."""
        while len(self.columns) < width:
            self.columns.append(self.places.column(len(self.columns) + 1))
        across = self.columns[:width]
        was = self.places.row(row)
        before = self.base.formats(was or 0, max(filter(None, across), default=1))
        olds = tuple(-1 if column is None or was is None else before[column - 1] for column in across)
        news = tuple(self.copy.formats(row, width))
        if (olds, news) in self.alike:
            return
        found = [
            (column, words)
            for column, (old, new) in enumerate(zip(olds, news, strict=True), 1)
            if (words := self.words(row, column, old, new))
        ]
        if found or any(
            self.base.look(old) != self.copy.look(new) for old, new in zip(olds, news, strict=True)
        ):
            yield from found
        else:
            self.alike.add((olds, news))

    def words(self, row: int, column: int, old: int, new: int) -> str:
        """Return how a cell was formatted, in words; "" where it looks as before."""
        look = self.copy.look(new)
        if old >= 0 and self.base.look(old) == look:
            return ""
        if any(one.holds(row, column) for one in self.copy.pivots):
            return ""
        at = self.places.at(row, column)
        if at is not None:
            was = self.base.look(old)
            number = was.number != look.number and _same_number(self.places, at, (row, column))
            return _difference(was, look, number=number)
        across = self.columns[column - 1]
        known = self.usual.get(across, frozenset()) if across is not None else frozenset[Look]()
        # What is added may look as its neighbours do, and as a program shows what was typed there.
        return min((_difference(one, look, number=False) for one in known or {Look()}), key=len)

    @cached_property
    def usual(self) -> Mapping[int, frozenset[Look]]:
        """The looks that the rows of the base's table, or a free one below them, have in each column."""
        table = self.places.base_table
        if table is None or table.sheet.transposed:
            return {}
        width = table.headings.width
        rows = [*table.rows, max([table.headings.row, *table.rows]) + 1]
        columns = zip(*(self.base.formats(row, width) for row in rows), strict=True)
        return {
            column: frozenset(self.base.look(number) for number in set(numbers))
            for column, numbers in enumerate(columns, 1)
        }


def _same_number(places: SheetPlaces, old: tuple[int, int], new: tuple[int, int]) -> bool:
    was, now = _value(places.base, old), _value(places.copy, new)
    return not isinstance(now, str) and content(was) == content(now)


def _value(grid: Grid, at: tuple[int, int]) -> Raw:
    row, column = at
    cells = grid.rows[row - 1] if row <= len(grid.rows) else []
    return cells[column - 1] if column <= len(cells) else ""


def _difference(old: Look, new: Look, *, number: bool) -> str:
    words: list[str] = []
    if not _alike(old.fill, new.fill):
        words.append(f"a fill (#{new.fill})" if new.fill else "a fill that was taken off")
    if not _alike(old.colour, new.colour):
        words.append(f"a colour of the text (#{new.colour or '000000'})")
    for name, was, now in (("bold", old.bold, new.bold), ("italic", old.italic, new.italic)):
        if was != now:
            words.append(name if now else f"no longer {name}")
    if number and old.number != new.number:
        words.append(f"a number format ({new.number} in place of {old.number})")
    return " and ".join(words)


def _alike(old: str | None, new: str | None) -> bool:
    if old is None or new is None or old == new:
        return old == new
    return all(abs(int(old[at : at + 2], 16) - int(new[at : at + 2], 16)) <= _NEAR for at in (0, 2, 4))
