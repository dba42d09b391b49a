"""How a list is read: which field each heading stands for, how sure that is, and why."""

from collections.abc import Mapping
from dataclasses import dataclass
from enum import Enum

from rosterkit.lists.tables import Heading, Table

ENGINES = "Locomotives"
OWN = "own"
"""Read as a column of the member's own, kept beside ours."""
NOTHING = "nothing"
"""Neither a value nor a column of the member's own; it is still in the copy of its sheet."""
PAIR_CV = "cv"
PAIR_VALUE = "value"
"""Read as the CV number, or the value, of a list of CVs below each other."""


class Sure(Enum):
    """How sure a heading's meaning is."""

    SURE = "sure"
    LIKELY = "likely"
    """By heading or by contents alone."""
    UNSURE = "unsure"
    """Two fields would do; the choice is a doubt."""
    GIVEN = "given"
    """Somebody said so, by --as or in the sheet Reading."""


@dataclass(frozen=True, slots=True)
class ColumnReading:
    """What one heading is read as."""

    heading: int
    """Its number in the table."""
    read_as: str
    """A column name of the table's subject, such as address or vstart; cv:49 for a CV; cv:17/18 for both
    halves of a long address in one cell; engine for a label that also says railway, number or model; own;
    nothing; cv; value.
    """
    sure: Sure
    why: str
    """In a phrase: what in the heading or the contents says so, and what else it could have been."""
    samples: tuple[str, ...]
    """The first three different contents."""


@dataclass(frozen=True, slots=True)
class TableReading:
    """What a table is about, and what its headings stand for."""

    table: Table
    subject: str
    """The title of our sheet whose rows its records are (Locomotives, Consists …); blank: none of ours."""
    columns: tuple[ColumnReading, ...]
    """One for each heading, in the order of the table's."""
    why: str = ""
    """Why the table is about nothing of ours, where it is."""


@dataclass(frozen=True, slots=True)
class Corrections:
    """What somebody said about the reading of a list."""

    read_as: Mapping[str, str]
    """By a heading's key (or SHEET!C where the key is SHEET!C20): a word of ``ColumnReading.read_as``."""
    heading_rows: Mapping[str, int]
    """By sheet title: the (last) row in which the headings of its first table stand."""


def meant(reading: TableReading, name: str) -> Heading | None:
    """Return the heading that is read as a field, None if there is none."""
    found = (reading.table.headings[one.heading] for one in reading.columns if one.read_as == name)
    return next(found, None)
