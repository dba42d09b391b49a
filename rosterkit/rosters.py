"""A workbook in, a roster out: opened, read, made into tables, judged by the schema, and enrolled."""

from pathlib import Path

from rosterkit.book import book_of
from rosterkit.conforming import faults_of
from rosterkit.enrolling import roster_of
from rosterkit.roster import Roster
from rosterkit.sheets import is_known
from rosterkit.xlsx.opening import Package, opened
from rosterkit.xlsx.reading import read_workbook


def roster_at(path: Path) -> Roster:
    """Read one workbook into a roster.

    Raises:
        CannotRunError: if the file cannot be read as a workbook with engines.
    """
    return roster_in(opened(path))


def roster_in(package: Package) -> Roster:
    """Read an opened workbook into a roster.

    Raises:
        CannotRunError: if it has no engines, or holds what no sheet can.
    """
    book = book_of(read_workbook(package, is_known))
    return roster_of(book, faults_of(book))
