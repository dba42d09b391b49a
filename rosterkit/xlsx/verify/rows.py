"""Verifies the rows of a worksheet: without the claimed cells they are the bytes that they were.

Old and new rows are gone through side by side. Rows without a claimed cell are compared in long stretches;
from the others the claimed cells are taken out, each of which must stand between its neighbours. Both are
found by plain search: where it goes astray, as a sheet spells its rows in another way than nearly all do, the
sheet is spelt out by a parser and looked at again.
"""

import re
from collections.abc import Iterable, Mapping
from functools import lru_cache
from operator import lt
from typing import NamedTuple

from rosterkit.cell_names import column_letters
from rosterkit.xlsx.changes import SHOWN_AS, CellStyle, Wanted, leaves_blank
from rosterkit.xlsx.package import limits
from rosterkit.xlsx.verify.cells import stated_style
from rosterkit.xlsx.verify.remainder import VerificationError
from rosterkit.xlsx.verify.row_differences import difference, same_tag
from rosterkit.xlsx.verify.shared_formulas import Sharing
from rosterkit.xlsx.verify.sheet_data import SheetData, spelt_out
from rosterkit.xlsx.xml.references import column_number

Row = tuple[int, Mapping[int, Wanted]]
"""The number of a row, and what its claimed cells are to hold, by column."""


class Seen(NamedTuple):
    """What else was seen of the cells that an edit put in or rewrote."""

    used: set[int]
    """Their formats."""
    changed: dict[tuple[int, int, CellStyle | None], str]
    """By a format that cells had, the one in its place, and the look that was wanted: such a cell."""
    formulas: set[bool]
    """Whether formulas came (True) or went (False)."""
    meant: dict[tuple[int, CellStyle], str]
    """By the format of cells and a look that says what a number means: such a cell."""


def verify_rows(old: SheetData, new: SheetData, claimed: Iterable[Row], *, own: bool = False) -> Seen:
    """Compare the rows of a sheet before and after an edit, and return what has to be looked at elsewhere.

    Args:
        old: The rows before.
        new: The rows after.
        claimed: What was to change, in the order of the rows.
        own: The sheet is one of ours: its rows may have heights, and cells may be empty.

    Raises:
        VerificationError: something else changed, or a cell does not hold what it should.
    """
    if new.remarked > old.remarked:
        raise VerificationError("a comment came among the rows of a sheet")
    if not old.remarked:
        try:
            return _Comparison(old.prefix, own=own).verify(old, new, claimed)
        except VerificationError:
            if own or not old.odd:
                raise
    before, after = spelt_out(old.data), spelt_out(new.data)
    if before[1] != after[1]:
        raise VerificationError("a comment in a sheet changed")
    plain = SheetData(before[0])
    return _Comparison(plain.prefix, own=own).verify(plain, SheetData(after[0]), claimed)


class _Comparison:
    def __init__(self, prefix: bytes, *, own: bool) -> None:
        self.prefix = prefix
        self.own = own
        self.empty = b'<%brow r="%%d"></%brow>' % (prefix, prefix)
        self.shared: Sharing
        self.seen = Seen(set(), {}, set(), {})
        names = {b"p": re.escape(prefix)}
        self.named = re.compile(rb'<%(p)bc r="([A-Z]+)([0-9]+)"' % names)
        self.formula = re.compile(rb"<%(p)bf(?=[\s/>])[^>]*>" % names)
        self.ended = re.compile(rb"(?:</%(p)bc>|<%(p)bc [^<>]*/>)\s*" % names)
        self.begun = re.compile(rb'\s*(?:<%(p)bc r="([A-Z]+)|</%(p)brow>|<%(p)bextLst)' % names)

    def verify(self, old: SheetData, new: SheetData, claimed: Iterable[Row]) -> Seen:
        self.shared = Sharing(old, new)
        done, compared = old.begin, new.begin
        for number, wanted in claimed:
            theirs, ours = old.seek(number), new.seek(number)
            if ours[0] == ours[1] and theirs[0] < theirs[1]:
                new.seek(limits.LAST_ROW)  # rows may have changed places
            if old.data[done : theirs[0]] != new.data[compared : ours[0]]:
                raise difference(old.data[done : theirs[0]], new.data[compared : ours[0]], self.prefix)
            self.row(number, old.data[theirs[0] : theirs[1]], new.data[ours[0] : ours[1]], wanted)
            done, compared = theirs[1], ours[1]
        if old.data[done : old.end] != new.data[compared : new.end]:
            raise difference(old.data[done : old.end], new.data[compared : new.end], self.prefix)
        self.shared.verify()
        return self.seen

    def row(self, number: int, old: bytes, new: bytes, wanted: Mapping[int, Wanted]) -> None:
        """Compare a row without its claimed cells, and verify these."""
        empty = self.empty % number
        (known, before), (tag, after) = (self.opened(row or empty) for row in (old, new))
        same = known == tag
        if not same:
            reach = min(wanted, default=1), max(wanted, default=1)
            behind = len(self.prefix) + len(f'<row r="{number}"')
            same = same_tag(known[behind:], tag[behind:], *reach, own=self.own)
        taken = _taken(self.prefix, tuple(wanted))
        theirs, ours = taken.split(before), taken.split(after)
        columns = [_COLUMNS[letters] for letters in ours[1::4]]
        if len(columns) < len(wanted):
            for column in sorted(wanted.keys() - set(columns)):
                if not leaves_blank(wanted[column]) or column_letters(column).encode() in theirs[1::4]:
                    raise VerificationError(f"the cell {column_letters(column)}{number} is missing")
        if columns:
            self.verify_places(b"%d" % number, columns, ours)
        if not same or bool(new) < bool(old) or b"".join(theirs[::4]) != b"".join(ours[::4]):
            raise VerificationError(f"other cells of row {number} changed")
        earlier = list(map(dict(zip(theirs[1::4], theirs[3::4], strict=True)).get, ours[1::4]))
        self.verify_cells(number, ours, earlier, [wanted[column] for column in columns])

    def verify_cells(
        self, number: int, pieces: list[bytes], earlier: list[bytes | None], wanted: list[Wanted]
    ) -> None:
        """Demand of claimed cells that they hold what they should, and keep the formats that they had."""
        cells = list(zip(earlier, pieces[3::4], wanted, strict=True))
        found = [
            self.shared.style_of(number, _COLUMNS[letters], old, new, one)
            for letters, (old, new, one) in zip(pieces[1::4], cells, strict=True)
        ]
        self.seen.used.update(filter(None, found))
        if not self.own and any(one.look in SHOWN_AS for one in wanted):
            self.note_meanings(number, pieces[1::4], found, wanted)
        plain = self.own or not any(map(leaves_blank, wanted))
        if plain and None not in found and not any(earlier):
            self.seen.formulas.update({True} if any(one.formula is not None for one in wanted) else ())
            return
        for letters, style, (old, new, one) in zip(pieces[1::4], found, cells, strict=True):
            put_in_empty = old is None and leaves_blank(one) and not self.own
            if style is None or put_in_empty:
                raise VerificationError(f"the cell {letters.decode()}{number} does not hold what it should")
            if old != new:
                self.rewritten(f"{letters.decode()}{number}", old or b"></c>", style, one)

    def note_meanings(
        self, number: int, letters: list[bytes], found: list[int | None], wanted: list[Wanted]
    ) -> None:
        """Note the formats of numbers that are to be read as dates, or as no more than numbers."""
        for column, style, one in zip(letters, found, wanted, strict=True):
            if style is not None and one.look in SHOWN_AS and isinstance(one.value, int | float):
                self.seen.meant.setdefault((style, one.look), f"{column.decode()}{number}")

    def rewritten(self, cell: str, old: bytes, style: int, wanted: Wanted) -> None:
        """Note what else has to be looked at where a cell became another."""
        if stated_style(old) not in (0, style):
            self.seen.changed.setdefault((stated_style(old), style, wanted.look), cell)
        formula = self.formula.search(old)
        if (formula is not None) != (wanted.formula is not None):
            self.seen.formulas.add(formula is None)
        self.shared.note_taken(old)

    def opened(self, row: bytes) -> tuple[bytes, bytes]:
        """Return the start of a row's tag, and what is inside the row and behind, as if it had an end."""
        tag, _, inside = row.partition(b">")
        if not tag.endswith(b"/"):
            return tag, inside
        return tag[:-1].rstrip(), b"</%brow>%b" % (self.prefix, inside)

    def verify_places(self, number: bytes, columns: list[int], pieces: list[bytes]) -> None:
        """Demand of claimed cells that they bear their row's number and stand between their neighbours."""
        fits = pieces[2::4].count(number) == len(columns) and all(map(lt, columns, columns[1:]))
        fits &= columns[-1] <= limits.LAST_COLUMN
        for place, between in enumerate(pieces[::4] if fits else ()):
            if between and not between.isspace():
                fits &= place == len(columns) or self.last(between, number) < columns[place]
                fits &= place == 0 or columns[place - 1] < self.first(between)
        if not fits:
            named = list(zip(pieces[1::4], pieces[2::4], [0, *columns], columns, strict=False))
            wrong = (one for one in named if one[1] != number or one[2] >= one[3])
            letters, stated, *_ = next(wrong, named[0])
            raise VerificationError(f"the cell {(letters + stated).decode()} is out of order")

    def last(self, between: bytes, number: bytes) -> int:
        """Return the column of the cell that ends a piece of a row; one that no cell has if none does."""
        cell = self.named.match(between, between.rfind(b"<%bc " % self.prefix))
        ended = self.ended.fullmatch(between, between.rfind(b"<"))
        return _COLUMNS[cell[1]] if cell and ended and cell[2] == number else limits.LAST_COLUMN + 1

    def first(self, between: bytes) -> int:
        """Return the column of the cell that begins a piece of a row, or one right of all at its end."""
        cell = self.begun.match(between)
        return 0 if cell is None else _COLUMNS[cell[1]] if cell[1] else limits.LAST_COLUMN + 1


class _Columns(dict[bytes, int]):
    def __missing__(self, letters: bytes) -> int:
        self[letters] = column_number(letters.decode())
        return self[letters]


_COLUMNS = _Columns()


@lru_cache(maxsize=64)
def _taken(prefix: bytes, columns: tuple[int, ...]) -> re.Pattern[bytes]:
    """Return the pattern of the cells of some columns: letters, row, and the rest of the cell."""
    letters = b"|".join(column_letters(column).encode() for column in columns) or b"-"
    pattern = rb'<%(p)bc r="(%(l)b)([0-9]+)"([^<>]*(?:/>|(?<!/)>.*?</%(p)bc>))'
    return re.compile(pattern % {b"p": re.escape(prefix), b"l": letters}, re.DOTALL)
