"""Which cells of a member's copy stay open: their own rows, rows of nobody, and free ones below them."""

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass
from itertools import groupby

from rosterkit.errors import CannotRunError
from rosterkit.roster.model import Roster
from rosterkit.roster.schema import folded
from rosterkit.roster.tables import Table
from rosterkit.spelling import Spelling
from rosterkit.xlsx.changes import SheetLock
from rosterkit.xlsx.package.limits import LAST_COLUMN, LAST_ROW

_ENGINES = "Locomotives"
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
        raise _nobody(roster.book.name, member, [code for code in owners if code])
    usual = max(theirs, key=theirs.count)
    return OpenCells(
        member=usual,
        engines=len(theirs),
        others=sum(1 for code in owners if code and folded(code) != wanted),
        locks=tuple(_locks(roster, wanted)),
    )


def owner_codes(roster: Roster) -> list[str]:
    """Return whose engine each row of Locomotives is, as it is written there; "" for nobody's."""
    return [str(value or "").strip() for value in _values(roster.book.tables[_ENGINES], "owner")]


def _nobody(workbook: str, member: str, known: Sequence[str]) -> CannotRunError:
    codes = list(dict.fromkeys(known))
    near = Spelling(codes, likeness=0.3).nearest(member)
    message = f"{workbook}: no engine belongs to '{member}'"
    if near is None:
        return CannotRunError(message, "Give a code that stands in the column Owner, or leave --member out.")
    return CannotRunError(f"{message}; the nearest code is '{near}'", f"Give --member '{near}'.")


def _locks(roster: Roster, wanted: str) -> Iterator[SheetLock]:
    owner_of = _owner_of_labels(roster)
    for table in roster.book.tables.values():
        owners = _owners(table, owner_of)
        if owners is None:
            continue
        locked = {row for row, codes in zip(table.rows, owners, strict=True) if codes and wanted not in codes}
        if locked:
            yield SheetLock(title=table.title, open=tuple(_areas(table, locked)))


def _owner_of_labels(roster: Roster) -> Mapping[str, set[str]]:
    """Return the folded codes of the owners of each engine by its folded label; several may share one."""
    labels = _values(roster.book.tables[_ENGINES], "loco")
    found: dict[str, set[str]] = {}
    for label, code in zip(labels, owner_codes(roster), strict=True):
        if label:
            found.setdefault(folded(str(label)), set()).add(folded(code))
    return found


def _owners(table: Table, owner_of: Mapping[str, set[str]]) -> list[set[str]] | None:
    """Return whose each row of a sheet is, nothing where it is nobody's; None of a sheet of the club's."""
    if table.sheet.title == _ENGINES:
        return [{folded(str(value))} if value else set() for value in _values(table, "owner")]
    column = next((one for one in table.sheet.columns if one.schema.get("refers") == _ENGINES), None)
    if column is None or table.sheet.transposed:
        return None
    codes = (owner_of.get(folded(str(value or "")), set()) for value in _values(table, column.name))
    return [set() if "" in found else found for found in codes]


def _values(table: Table, name: str) -> Sequence[object]:
    return table.values.get(name) or [None] * len(table.rows)


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
