"""What somebody said about the reading of a list, by --as, --headings and the sheet Reading."""

from collections.abc import Iterable, Iterator, Mapping, Sequence
from dataclasses import dataclass, field

from rosterkit.commands.adopt.reading_file import Reading, ReadingLine
from rosterkit.commands.adopt.words import may_repeat, read_as_for, word_for
from rosterkit.errors import CannotRunError
from rosterkit.lists.columns.recognise import recognised
from rosterkit.lists.layout.tables_of import laid_out
from rosterkit.lists.plain import PlainList
from rosterkit.lists.reading import Corrections, TableReading
from rosterkit.lists.tables import Heading, Layout
from rosterkit.roster.schema import folded
from rosterkit.spelling import Spelling

_ANEW = "Adopt the list without --reading, and correct the sheet Reading of the workbook that comes of it."


@dataclass(frozen=True, slots=True)
class Said:
    """What was said at the terminal, as typed, and in a sheet Reading."""

    as_words: Sequence[str] = ()
    """Such as Fleet!C=Address."""
    heading_rows: Sequence[str] = ()
    """Such as Fleet!6."""
    reading: Reading | None = None


@dataclass(frozen=True, slots=True)
class Read:
    """A list laid out, and what its columns are."""

    layout: Layout
    readings: tuple[TableReading, ...]
    heading_rows: Mapping[str, int] = field(default_factory=dict)
    """Those that were given, by the title of the sheet."""


def read_with(plain: PlainList, said: Said) -> Read:
    """Lay a list out and recognise its columns, as far as nobody said what they are.

    What a sheet Reading says as the list is read anyway stays plain; --as and --headings go before it.

    Raises:
        CannotRunError: if what was said names no column of the list, or one under another heading.
    """
    rows = dict(_heading_rows(plain, said))
    layout = laid_out(plain, Corrections({}, rows))
    plainly = recognised(layout, Corrections({}, rows))
    if not said.as_words and said.reading is None:
        return Read(layout, plainly, rows)
    places = _Places(plain, plainly)
    given = dict(_of_reading(places, said.reading)) if said.reading else {}
    given |= dict(_of_words(places, said.as_words))
    _refuse_two(places, given)
    return Read(layout, recognised(layout, Corrections(given, rows)), rows)


class _Places:
    """Every heading of a list by its key, with how it is read plainly."""

    def __init__(self, plain: PlainList, readings: Sequence[TableReading]) -> None:
        self.headings: dict[str, tuple[Heading, TableReading]] = {}
        for reading in readings:
            for heading in reading.table.headings:
                self.headings.setdefault(heading.key, (heading, reading))
        self._folded = {folded(key): key for key in self.headings}
        # The column of a later table is meant by its letter too.
        for key in self.headings:
            self._folded.setdefault(folded(_column_of(key)), _column_of(key))
        self._only = plain.sheets[0].title if len(plain.sheets) == 1 else None
        self.list = plain.name

    def key(self, place: str) -> str | None:
        """Return the key that is meant by a place; None if there is none."""
        named = self._folded.get(folded(place))
        return named or (self._folded.get(folded(f"{self._only}!{place}")) if self._only else None)

    def at(self, key: str) -> tuple[Heading, TableReading]:
        """Return the heading of a key, or the first of the column that it names."""
        found = self.headings.get(key)
        return found or next(one for other, one in self.headings.items() if _column_of(other) == key)

    def read_as(self, key: str) -> str:
        """Return how a heading is read plainly."""
        heading, reading = self.at(key)
        number = reading.table.headings.index(heading)
        return next((one.read_as for one in reading.columns if one.heading == number), "")

    def unknown(self, place: str, option: str) -> CannotRunError:
        """Make the error for a place that the list has not."""
        near = Spelling(self._folded).nearest(folded(place))
        message = f"{self.list} has no '{place}', which {option} names"
        if near:
            return CannotRunError(message, f"Write '{self._folded[near]}' if it is meant.")
        some = ", ".join(f"'{key}'" for key in list(self.headings)[:5])
        return CannotRunError(message, f"Name one of its columns, such as {some}." if some else _NO_TABLE)


_NO_TABLE = "Say first in which row its headings stand, such as --headings 'Sheet1!6'."


def _column_of(key: str) -> str:
    """Return the key of the whole column: SHEET!C of SHEET!C20."""
    title, _, place = key.rpartition("!")
    letters = place.rstrip("0123456789")
    whole = place.isascii() and letters.isalpha() and letters.isupper()
    return f"{title}!{letters}" if whole else key


def _of_words(places: _Places, words: Iterable[str]) -> Iterator[tuple[str, str]]:
    for said in words:
        place, sign, word = said.rpartition("=")
        if not (sign and place.strip() and word.strip()):
            raise CannotRunError(f"--as cannot be '{said}'", "Write it as 'SHEET!C=Address'.")
        key = places.key(place.strip())
        if key is None:
            raise places.unknown(place.strip(), "--as")
        yield key, read_as_for(word.strip(), places.at(key)[1].subject, key)


def _of_reading(places: _Places, reading: Reading) -> Iterator[tuple[str, str]]:
    for line in reading.columns:
        key = places.key(line.place)
        if key is None:
            raise CannotRunError(
                f"{places.list} has no '{line.place}', which the sheet Reading of {reading.name} names "
                f"('{line.heading}')",
                _ANEW,
            )
        heading, table = places.at(key)
        _require_same(heading, line, places.list, reading.name)
        if line.read_as:
            read_as = read_as_for(line.read_as, table.subject, key)
            if read_as != places.read_as(key):
                yield key, read_as


def _require_same(heading: Heading, line: ReadingLine, name: str, reading: str) -> None:
    now, then = " ".join(heading.text.split()), " ".join(line.heading.split())
    if now != then:
        raise CannotRunError(
            f"{line.place} of {name} is headed '{now}', and in the sheet Reading of {reading} '{then}'", _ANEW
        )


def _refuse_two(places: _Places, given: Mapping[str, str]) -> None:
    first: dict[tuple[int, str], str] = {}
    for key, read_as in given.items():
        reading = places.at(key)[1]
        other = first.setdefault((id(reading), read_as), key)
        if other != key and not may_repeat(read_as):
            word = word_for(read_as, reading.subject)
            raise CannotRunError(
                f"{other} and {key} cannot both be read as '{word}'", "Say it of one of them only."
            )


def _heading_rows(plain: PlainList, said: Said) -> Iterator[tuple[str, int]]:
    titles = {folded(one.title): one.title for one in plain.sheets}
    for line in said.reading.heading_rows if said.reading else ():
        yield _heading_row(line, titles, plain.name, "the sheet Reading")
    for text in said.heading_rows:
        yield _heading_row(text, titles, plain.name, "--headings")


def _heading_row(text: str, titles: Mapping[str, str], name: str, option: str) -> tuple[str, int]:
    title, sign, number = text.rpartition("!")
    if not (number.isascii() and number.isdecimal() and int(number)):
        raise CannotRunError(f"{option} cannot be '{text}'", "Write sheet and row, as in 'SHEET!6'.")
    if not sign and len(titles) == 1:
        return next(iter(titles.values())), int(number)
    if folded(title) not in titles:
        near = Spelling(titles).nearest(folded(title))
        shown = [titles[near]] if near else list(titles.values())[:5]
        raise CannotRunError(
            f"{name} has no sheet '{title}', which {option} names",
            "Name one of its sheets, such as " + ", ".join(f"'{one}'" for one in shown) + ".",
        )
    return titles[folded(title)], int(number)
