"""What somebody said about the reading of a list, by --as, --headings and the sheet Reading."""

from collections import Counter
from collections.abc import Iterable, Iterator, Mapping, Sequence
from dataclasses import dataclass, field

from rosterkit.commands.adopt.driven_out import driven_out
from rosterkit.commands.adopt.places import Places
from rosterkit.commands.adopt.reading_file import Reading, ReadingLine
from rosterkit.commands.adopt.words import may_repeat, read_as_for, word_for
from rosterkit.errors import CannotRunError
from rosterkit.lists.adopted import Doubt
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
    doubts: tuple[Doubt, ...] = ()
    """Columns that mean something else, or nothing, since somebody spoke of another one."""


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
    places = Places(plain, plainly)
    given = dict(_of_reading(places, said.reading)) if said.reading else {}
    given |= dict(_of_words(places, said.as_words))
    _refuse_two(places, given)
    readings = recognised(layout, Corrections(given, rows))
    return Read(layout, readings, rows, tuple(driven_out(plainly, readings, given)))


def _of_words(places: Places, words: Iterable[str]) -> Iterator[tuple[str, str]]:
    for said in words:
        place, sign, word = said.rpartition("=")
        if not (sign and place.strip() and word.strip()):
            raise CannotRunError(f"--as cannot be '{said}'", "Write it as 'SHEET!C=Address'.")
        key = places.key(place.strip())
        if key is None:
            raise places.unknown(place.strip(), "--as")
        yield key, read_as_for(word.strip(), places.at(key).reading.subject, key)


def _of_reading(places: Places, reading: Reading) -> Iterator[tuple[str, str]]:
    times = Counter[str]()
    for line in reading.columns:
        key = places.key(line.place)
        if key is None:
            raise CannotRunError(
                f"{places.list} has no '{line.place}', which the sheet Reading of {reading.name} names "
                f"('{line.heading}')",
                _ANEW,
            )
        # Several tables may share what one key names, such as the title of their sheet: each has its line.
        one = places.at(key, times[key])
        times[key] += 1
        _require_same(one.heading, line, places.list, reading.name)
        if line.read_as:
            read_as = read_as_for(line.read_as, one.reading.subject, key)
            if read_as != one.read_as:
                yield key, read_as


def _require_same(heading: Heading, line: ReadingLine, name: str, reading: str) -> None:
    now, then = " ".join(heading.text.split()), " ".join(line.heading.split())
    if now != then:
        raise CannotRunError(
            f"{line.place} of {name} is headed '{now}', and in the sheet Reading of {reading} '{then}'", _ANEW
        )


def _refuse_two(places: Places, given: Mapping[str, str]) -> None:
    first: dict[tuple[int, str], str] = {}
    for key, read_as in given.items():
        reading = places.at(key).reading
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
