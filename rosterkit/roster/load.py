"""A workbook in, a roster out: opened, read, made into tables, judged by the schema, and enrolled."""

from collections.abc import Mapping, Sequence
from dataclasses import replace
from pathlib import Path

from rosterkit.roster.build import roster_of
from rosterkit.roster.model import Roster
from rosterkit.roster.refusals import other_table
from rosterkit.roster.schema import is_known
from rosterkit.roster.tables import book_of
from rosterkit.roster.validation import faults_of
from rosterkit.xlsx.grid import Grid, Workbook
from rosterkit.xlsx.package.errors import OtherTableError
from rosterkit.xlsx.package.opening import Package, SheetPart, opened
from rosterkit.xlsx.read.first_rows import first_texts
from rosterkit.xlsx.read.workbook import read_workbook

_ROWS = 20
"""So many first rows of a member's own sheet are looked at."""


def package_at(path: Path) -> Package:
    """Open a workbook; CannotRunError if it is none, with ``adopt`` as the fix if it is a table."""
    try:
        return opened(path)
    except OtherTableError as error:
        raise other_table(error, str(path)) from None


def roster_at(path: Path) -> Roster:
    """Read one workbook into a roster; CannotRunError if it is no workbook with engines."""
    return roster_in(package_at(path))


def roster_in(package: Package) -> Roster:
    """Read an opened workbook; CannotRunError without engines, or if it holds what no sheet can."""
    return roster_from(known_sheets(package))


def known_sheets(package: Package) -> Workbook:
    """Read the sheets that are named like ours, and the beginnings of members' own.

    CannotRunError for what no sheet can hold.
    """
    return replace(read_workbook(package, is_known), beginnings=first_texts(package, _passed(package), _ROWS))


def _passed(package: Package) -> Sequence[SheetPart]:
    """Return the sheets that are not read although everybody sees them, but for those that adopt copied."""
    shown = [one for one in package.sheets if one.kind == "worksheet" and not one.hidden]
    return [one for one in shown if not (is_known(one.title) or one.is_own or one.is_copy)]


def roster_from(workbook: Workbook, *, without_engines: bool = False) -> Roster:
    """Make a roster of what was read; CannotRunError without engines, unless it is a new workbook."""
    book = book_of(workbook, without_engines=without_engines)
    return roster_of(book, faults_of(book))


def own_sheets(package: Package) -> Mapping[str, Grid]:
    """Read, by title, the sheets that are the members' own; CannotRunError for what no sheet can hold."""
    own = {sheet.title for sheet in package.sheets if not (is_known(sheet.title) or sheet.is_own)}
    return read_workbook(package, own.__contains__).grids
