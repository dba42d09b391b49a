"""How sure the reading of a column is, in words, and which column somebody should look at first."""

from collections.abc import Sequence

from rosterkit.lists.reading import OWN, ColumnReading, Sure, TableReading
from rosterkit.lists.tables import Origin
from rosterkit.lists.vocabulary import fields_of

NOT_KNOWN = "not known: kept as your own"
UNKNOWN = "unknown"
"""What JSON says of a column whose heading is none that is known."""
_FIELDS = frozenset({Origin.COLUMN, Origin.ROW, Origin.LABEL})
_NO_COLUMN = "SHEET!C"


def surety(reading: TableReading, one: ColumnReading) -> str:
    """Return how sure it is what a column is, with the reason where somebody may think otherwise."""
    if not is_known(reading, one):
        return NOT_KNOWN
    asks = one.sure in {Sure.LIKELY, Sure.UNSURE} or _may_be_ours(reading, one)
    word = "kept as your own" if _may_be_ours(reading, one) else one.sure.value
    return f"{word}: {one.why}" if asks and one.why else word


def is_known(reading: TableReading, one: ColumnReading) -> bool:
    """Tell whether something says what a column is: its heading, its contents or somebody."""
    heading = reading.table.headings[one.heading]
    kept = one.read_as == OWN and one.sure is Sure.SURE and bool(reading.subject)
    return not (kept and heading.origin in _FIELDS and not fields_of(heading.text))


def _may_be_ours(reading: TableReading, one: ColumnReading) -> bool:
    """Whether the heading of a column of the member's own may mean a field of ours."""
    heading = reading.table.headings[one.heading]
    kept = one.read_as == OWN and one.sure is Sure.SURE and bool(reading.subject)
    fields = fields_of(heading.text) if kept and heading.origin in _FIELDS else ()
    return bool(fields) and fields[0] != OWN


def in_question(readings: Sequence[TableReading]) -> str:
    """Return the place of the column that somebody should look at first, SHEET!C if none needs it."""
    asking = [
        (rank, reading.table.headings[one.heading].key)
        for reading in readings
        if reading.subject
        for one in reading.columns
        if (rank := _rank(reading, one))
    ]
    return min(asking, key=lambda both: both[0], default=(0, _NO_COLUMN))[1]


def _rank(reading: TableReading, one: ColumnReading) -> int:
    """Return 1 for what is unsure, more for what is surer, 0 for what needs no look."""
    if one.sure is Sure.UNSURE:
        return 1
    if _may_be_ours(reading, one):
        return 2
    if not is_known(reading, one):
        return 3
    return 4 if one.sure is Sure.LIKELY else 0
