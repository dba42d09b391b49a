"""A first look at a sheet's cells as text: whether they are ordinary, how far they reach, which are odd.

Only a sheet whose every cell is spelt as spreadsheet programs spell them is left to the fast reader: a
reference that no sheet has would make it end the process, and some other spellings it takes for something
else without a word.
"""

from collections.abc import Iterator, Mapping
from dataclasses import dataclass

from rosterkit.xlsx.grid import CellError, NoStoredValue, Raw
from rosterkit.xlsx.package import limits
from rosterkit.xlsx.package.markup import TooMuchError
from rosterkit.xlsx.read import patterns as spelling
from rosterkit.xlsx.read.cells import Meaning
from rosterkit.xlsx.read.dates import number_shown
from rosterkit.xlsx.read.formats import Kind
from rosterkit.xlsx.read.formulas import formulas_of
from rosterkit.xlsx.xml.references import column_number
from rosterkit.xlsx.xml.tags import plain

_ROOMY = 8_000_000
"""Places that the fast reader may always lay out: about 300 MB for a moment."""
# A fast look for what the two readers would take differently.
_DOUBTFUL = (b"_x", b"]]>")
"""In a text: the beginning of an escape, and what no text may hold."""

_SPARSE = 4
"""Places for each value that it may lay out beyond that."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Scan:
    """What the text of a sheet's cells tells before any reader is asked."""

    values: int
    """Cells for which the fast reader has to give a value that is not blank."""
    cells: int
    """Cells that are not blank, with those for which it gives none: errors, and formulas without a result."""
    odd: tuple[tuple[int, int, Raw], ...]
    """Row, column and value of the cells for which the fast reader is not believed."""
    formulas: Mapping[tuple[int, int], str]
    """The formulas by row and column."""


@dataclass(frozen=True, slots=True, kw_only=True)
class _Extent:
    """How far the cells with a value reach, and which rows need a closer look."""

    rows: int
    last_cells: frozenset[bytes]
    """The letters of the last cells of the rows."""
    special: list[tuple[int, int]]
    """Where such rows, as many as follow one another, begin and end."""
    marks: frozenset[str]
    """Why they need it: the kinds of cells in them, of ``spelling.MARKS``."""


def scan(data: bytes, begin: int, end: int, meaning: Meaning) -> Scan | None:
    """Look through the cells in a sheet's part in UTF-8, whose rows begin and end at these places.

    None if a cell is out of the ordinary in its spelling or its place, or if the cells lie so far apart that
    the fast reader, which lays out the whole rectangle, would need too much memory. TooMuchError if there are
    more cells with a value than ``limits`` allow.
    """
    extent = _extent(data, begin, end, len(meaning.formats.kinds))
    if extent is None:
        return None
    values = data.count(b"<v>", begin, end) - _blank_texts(data, begin, end, meaning.blank_texts)
    odd: list[tuple[int, int, Raw]] = []
    for start, stop in extent.special:
        if extent.marks & {"text", "inline"} and any(data.find(sign, start, stop) >= 0 for sign in _DOUBTFUL):
            return None
        errors = list(_errors(data, start, stop)) if "error" in extent.marks else []
        values += data.count(b"<is>", start, stop) - data.count(b"<v></v>", start, stop) - len(errors)
        odd += errors
    if values > limits.MAX_CELLS:
        raise TooMuchError(f"holds more than {limits.MAX_CELLS:,} cells with a value")
    if extent.rows * spelling.MOST_COLUMNS > _ROOMY:
        columns = _columns(data, begin, end, extent.last_cells)
        if extent.rows * columns > max(_ROOMY, _SPARSE * values):
            return None
    if "computed" in extent.marks:
        odd += _without_value(data, extent.special)
    cells = values + len(odd)
    odd += _numbers(data, begin, end, meaning)
    formulas = formulas_of(data, extent.special) if data.find(b"<f", begin, end) >= 0 else {}
    return Scan(values=values, cells=cells, odd=tuple(odd), formulas=formulas)


def _extent(data: bytes, begin: int, end: int, formats: int) -> _Extent | None:
    """Go along the rows; None if anything in them is out of the ordinary.

    Cells in the wrong order within a row are not noticed here, and do no harm; a cell that stands twice makes
    the readers' counts differ.
    """
    shapes: set[tuple[bytes | None, ...]] = set()
    special: list[tuple[int, int]] = []
    rows = last = 0
    at = begin
    for row in spelling.row_pattern(formats).finditer(data, begin, end):
        start, stop = row.span()
        digits, *shape = row.groups()
        number = int(digits)
        if start != at or not last < number <= limits.LAST_ROW:
            return None
        at, last = stop, number
        marked = b"" in shape
        if marked and special and special[-1][1] == start:
            special[-1] = (special[-1][0], stop)
        elif marked:
            special.append((start, stop))
        if marked or data.find(b"<v>", start, stop) >= 0:
            rows = number
            shapes.add(tuple(shape))
    if at != end:
        return None
    marks = frozenset(
        mark
        for place, mark in enumerate(spelling.MARKS, 1)
        if any(shape[place] is not None for shape in shapes)
    )
    last_cells = frozenset(shape[0] or b"" for shape in shapes)
    return _Extent(rows=rows, last_cells=last_cells, special=special, marks=marks)


def _columns(data: bytes, begin: int, end: int, last_cells: frozenset[bytes]) -> int:
    """Return the last column of a sheet by the last cells of its rows, or a bound if they prove nothing."""
    widest = max(last_cells, key=lambda letters: (len(letters), letters), default=b"").decode()
    if widest and spelling.beyond(widest).search(data, begin, end):
        return spelling.MOST_COLUMNS
    return column_number(widest)


def _blank_texts(data: bytes, begin: int, end: int, indices: frozenset[int]) -> int:
    if not indices:
        return 0
    # Gnumeric keeps the results of formulas among the shared texts, those without any character too.
    blank = b"|".join(b"%d" % index for index in indices)
    return sum(1 for _ in spelling.shared_texts(blank).finditer(data, begin, end))


def _tag(data: bytes, before: int) -> tuple[int, int, bytes | None]:
    """Return row, column and type of the last cell that begins before a place in the text."""
    tag = spelling.TAG.match(data, data.rfind(b"<c ", 0, before))
    assert tag is not None  # noqa: S101 - the place lies within a cell in canonical form
    return int(tag[2]), column_number(tag[1].decode()), tag[4]


def _errors(data: bytes, begin: int, end: int) -> Iterator[tuple[int, int, Raw]]:
    for match in spelling.ERROR_VALUE.finditer(data, begin, end):
        row, column, _ = _tag(data, match.start())
        yield row, column, CellError(match[1].decode("utf-8", "replace"))


def _without_value(data: bytes, rows: list[tuple[int, int]]) -> Iterator[tuple[int, int, Raw]]:
    """Find the formulas without a stored result; for a text, no characters at all are a result."""
    shared: dict[bytes, bytes] | None = None
    for start, stop in rows:
        for match in spelling.WITHOUT_VALUE.finditer(data, start, stop):
            row, column, kind = _tag(data, match.start())
            if kind == b"str":
                continue
            group, formula = spelling.formula(match[0])
            if group and not formula:
                if shared is None:
                    shared = _shared_formulas(data, rows)
                formula = shared.get(group, b"")
            yield row, column, NoStoredValue(plain(formula.decode("utf-8", "replace")))


def _shared_formulas(data: bytes, rows: list[tuple[int, int]]) -> dict[bytes, bytes]:
    """Return the formula that each group of cells shares, as its first cell has it."""
    shared: dict[bytes, bytes] = {}
    for start, stop in rows:
        for match in spelling.SHARED_FORMULA.finditer(data, start, stop):
            group, formula = spelling.formula(match[0])
            shared.setdefault(group, formula)
    return shared


def _numbers(data: bytes, begin: int, end: int, meaning: Meaning) -> Iterator[tuple[int, int, Raw]]:
    """Find the numbers in scientific notation, and those that not every reader takes for the same moment."""
    kinds = meaning.formats.kinds
    for wanted in ({Kind.DATE, Kind.TIME, Kind.DURATION}, {Kind.SCIENTIFIC}):
        formats = [index for index, kind in enumerate(kinds) if kind in wanted]
        if not formats:
            continue
        pattern = spelling.numbers_of_formats(formats, unsafe_dates_only=Kind.DATE in wanted)
        for match in pattern.finditer(data, begin, end):
            kind = kinds[int(match[1])]
            if kind in wanted:
                row, column, _ = _tag(data, match.start())
                yield row, column, number_shown(match[2].decode(), kind, date1904=meaning.date1904)
