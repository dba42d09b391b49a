"""Which cells of a member's copy stay open: their own rows, rows of nobody, and free ones below them."""

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from itertools import groupby

from rosterkit.roster.model import Roster
from rosterkit.roster.owners import nobody_owns, owner_codes, owners_of_labels, owners_of_rows
from rosterkit.roster.schema import folded
from rosterkit.roster.tables import Table
from rosterkit.xlsx.changes import SheetLock
from rosterkit.xlsx.package.limits import LAST_COLUMN, LAST_ROW

SPARE_ROWS = 100
"""Rows below a list that are open for new ones."""
SPARE_COLUMNS = 10
"""Columns beside a list that are open for a member's own."""


@dataclass(frozen=True, slots=True, kw_only=True)
class OpenCells:
    """What a member may type into, by sheets that hold rows of somebody."""

    member: str
    """The code as most of their engines have it."""
    engines: int
    """How many they own."""
    others: int
    """How many others own."""
    locks: tuple[SheetLock, ...]


def open_cells(roster: Roster, member: str) -> OpenCells:
    """Return the cells that stay open for a member, whatever the letter case of their code.

    Rows of other sheets belong to the owner of the engine that they name. A row of nobody, or of an engine
    that nobody knows, stays open; computed columns do not.

    Raises:
        CannotRunError: the member owns no engine.
    """
    owners = owner_codes(roster)
    wanted = folded(member)
    theirs = [code for code in owners if code and folded(code) == wanted]
    if not theirs:
        known = [code for code in owners if code]
        raise nobody_owns(f"{roster.book.name}: ", member, known, "--member")
    usual = max(theirs, key=theirs.count)
    return OpenCells(
        member=usual,
        engines=len(theirs),
        others=sum(1 for code in owners if code and folded(code) != wanted),
        locks=tuple(_locks(roster, wanted)),
    )


def _locks(roster: Roster, wanted: str) -> Iterator[SheetLock]:
    owner_of = owners_of_labels(roster)
    for table in roster.book.tables.values():
        owners = owners_of_rows(table, owner_of)
        if owners is None:
            continue
        locked = {row for row, codes in zip(table.rows, owners, strict=True) if codes and wanted not in codes}
        if locked:
            yield SheetLock(title=table.title, open=tuple(_areas(table, locked)))


def _areas(table: Table, locked: set[int]) -> Iterator[tuple[int, int, int, int]]:
    """Return what is open: all rows below the headings but the locked ones, without computed columns."""
    first = table.headings.row + 1
    last = min(max([first, *table.rows, *table.other_rows, *table.orphaned_rows]) + SPARE_ROWS, LAST_ROW)
    computed = {table.headings.columns.get(one.name) for one in table.sheet.computed}
    width = min(table.headings.width + SPARE_COLUMNS, LAST_COLUMN)
    columns = list(_runs([column for column in range(1, width + 1) if column not in computed]))
    for left, right in _runs(range(table.headings.width + 1, width + 1)):
        yield table.headings.row, left, table.headings.row, right
    for top, bottom in _runs([row for row in range(first, last + 1) if row not in locked]):
        for left, right in columns:
            yield top, left, bottom, right


def _runs(numbers: Sequence[int]) -> Iterator[tuple[int, int]]:
    """Return the first and the last of each run of numbers without a gap."""
    for _, run in groupby(enumerate(numbers), key=lambda one: one[1] - one[0]):
        found = [number for _, number in run]
        yield found[0], found[-1]
