"""One version of a workbook, read once: what was sent, the master, or a copy that came back."""

from collections.abc import Hashable, Mapping
from dataclasses import dataclass, field
from functools import cached_property
from typing import Any

from rosterkit.roster.build import roster_of
from rosterkit.roster.model import Roster
from rosterkit.roster.schema import is_known
from rosterkit.roster.tables import Book, book_of
from rosterkit.roster.validation import faults_of
from rosterkit.xlsx.grid import Grid, Workbook
from rosterkit.xlsx.package.opening import Package
from rosterkit.xlsx.read.workbook import read_workbook


@dataclass(frozen=True, kw_only=True)
class Version:
    """A workbook as one of the sides has it."""

    name: str
    """What the side is called where people read it; no two sides have the same."""
    package: Package
    book: Book
    """Our sheets, by their titles."""
    grids: Mapping[str, Grid]
    """Our sheets and the members' own, by title as spelt there; none that rosterkit made."""
    kept: dict[Hashable, Any] = field(init=False, repr=False, compare=False, default_factory=dict)
    """What was worked out of the sheets, for whoever asks again."""

    @cached_property
    def roster(self) -> Roster:
        """The engines and all other rows, judged by the schema."""
        return roster_of(self.book, faults_of(self.book))


def version_of(package: Package, name: str) -> Version:
    """Read an opened workbook as a version; it may have no engines yet.

    Raises:
        CannotRunError: if it has no sheet Locomotives with headings, or holds what no sheet can.
    """
    # A sheet of ours that rosterkit made, such as Readings, is filled by members all the same.
    wanted = {sheet.title for sheet in package.sheets if is_known(sheet.title) or not sheet.is_own}
    return version_from(read_workbook(package, wanted.__contains__), package, name)


def version_from(workbook: Workbook, package: Package, name: str) -> Version:
    """Make a version of a workbook that was read; CannotRunError as ``version_of``."""
    return Version(
        name=name,
        package=package,
        book=book_of(workbook, without_engines=True),
        grids={title: grid for title, grid in workbook.grids.items() if is_known(title) or not grid.is_own},
    )
