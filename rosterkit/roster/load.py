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
    """Read one workbook into a roster; CannotRunError if it is no workbook with engines."""
    return roster_in(opened(path))


def roster_in(package: Package) -> Roster:
    """Read an opened workbook; CannotRunError without engines, or if it holds what no sheet can."""
    book = book_of(read_workbook(package, is_known))
    return roster_of(book, faults_of(book))


def own_sheets(package: Package) -> Mapping[str, Grid]:
    """Read, by title, the sheets that are the members' own; CannotRunError for what no sheet can hold."""
    own = {sheet.title for sheet in package.sheets if not (is_known(sheet.title) or sheet.is_own)}
    return read_workbook(package, own.__contains__).grids
