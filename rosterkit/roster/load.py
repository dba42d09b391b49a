"""A workbook in, a roster out: opened, read, made into tables, judged by the schema, and enrolled."""

from collections.abc import Mapping
from pathlib import Path

from rosterkit.roster.build import roster_of
from rosterkit.roster.model import Roster
from rosterkit.roster.schema import is_known
from rosterkit.roster.tables import book_of
from rosterkit.roster.validation import faults_of
from rosterkit.xlsx.grid import Grid
from rosterkit.xlsx.package.opening import Package, opened
from rosterkit.xlsx.read.workbook import read_workbook


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


def own_sheets(package: Package) -> Mapping[str, Grid]:
    """Read the sheets of an opened workbook that are the members' own, by title.

    Raises:
        CannotRunError: if one of them holds what no sheet can.
    """
    own = {sheet.title for sheet in package.sheets if not (is_known(sheet.title) or sheet.is_own)}
    return read_workbook(package, own.__contains__).grids
