"""The columns of a list by the names that --as and the sheet Reading have for them."""

from collections.abc import Sequence
from typing import NamedTuple

from rosterkit.errors import CannotRunError
from rosterkit.lists.plain import PlainList
from rosterkit.lists.reading import TableReading
from rosterkit.lists.tables import Heading
from rosterkit.roster.schema import folded
from rosterkit.spelling import Spelling

_NAMED = 5
"""Columns that a message names."""


class Plainly(NamedTuple):
    """A heading, and how it is read as long as nobody says otherwise."""

    heading: Heading
    reading: TableReading
    read_as: str


class Places:
    """Every heading of a list by its key; letter case and blanks do not matter."""

    def __init__(self, plain: PlainList, readings: Sequence[TableReading]) -> None:
        self._by_key: dict[str, list[Plainly]] = {}
        for reading in readings:
            words = {one.heading: one.read_as for one in reading.columns}
            for number, heading in enumerate(reading.table.headings):
                found = Plainly(heading, reading, words.get(number, ""))
                self._by_key.setdefault(heading.key, []).append(found)
        self._folded = {folded(key): key for key in self._by_key}
        # The column of a later table is meant by its letter too.
        for key in self._by_key:
            self._folded.setdefault(folded(_column_of(key)), _column_of(key))
        self._only = plain.sheets[0].title if len(plain.sheets) == 1 else None
        self.list = plain.name

    def key(self, place: str) -> str | None:
        """Return the key that is meant by a place, None if none; a list of one sheet needs no title of it."""
        named = self._folded.get(folded(place))
        return named or (self._folded.get(folded(f"{self._only}!{place}")) if self._only else None)

    def at(self, key: str, nth: int = 0) -> Plainly:
        """Return the heading of a key, or the first of the column that it names.

        Of several the one of that number, from 0; the last where there are not so many.
        """
        found = self._by_key.get(key)
        found = found or next(one for other, one in self._by_key.items() if _column_of(other) == key)
        return found[min(nth, len(found) - 1)]

    def unknown(self, place: str, option: str) -> CannotRunError:
        """Make the error for a place that the list has not."""
        near = Spelling(self._folded).nearest(folded(place))
        message = f"{self.list} has no '{place}', which {option} names"
        if near:
            return CannotRunError(message, f"Write '{self._folded[near]}' if it is meant.")
        some = ", ".join(f"'{key}'" for key in list(self._by_key)[:_NAMED])
        if not some:
            return CannotRunError(
                message, "Say first where its headings stand, such as --headings 'Sheet1!6'."
            )
        return CannotRunError(message, f"Name one of its columns, such as {some}.")


def _column_of(key: str) -> str:
    """Return the key of the whole column: SHEET!C of SHEET!C20."""
    title, _, place = key.rpartition("!")
    letters = place.rstrip("0123456789")
    whole = place.isascii() and letters.isalpha() and letters.isupper()
    return f"{title}!{letters}" if whole else key
