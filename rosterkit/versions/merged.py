"""What the copies of a workbook come to together: cells taken, rows added and removed, and conflicts."""

from collections.abc import Mapping
from dataclasses import dataclass
from enum import StrEnum

from rosterkit.xlsx.grid import Raw


class ConflictKind(StrEnum):
    """Why a conflict is one."""

    CELL = "cell"
    """Several new values for one cell."""
    ROW = "row"
    """Removed by one, changed by another."""


@dataclass(frozen=True, slots=True, kw_only=True)
class MergedRow:
    """A row of the merged workbook."""

    sheet: str
    """The title as the master spells it; where it has no such sheet, as the schema or the copy does."""
    row: int | None
    """The sheet row that it has in the master; None for one that is added, and for a setting that the master
    has no row for."""
    added: int | None = None
    """The index among the added rows of that sheet; None for one that the master has."""
    label: str = ""
    """What people know the row by, such as the engine's label."""


@dataclass(frozen=True, slots=True, kw_only=True)
class SideValue:
    """What one or several sides want a cell to hold, or a row to be."""

    value: Raw
    """As it was typed there, "" for blank; but labels of renamed rows as they are in the merged workbook.
    Of a conflict of rows, "removed" or "changed"."""
    sources: tuple[str, ...]
    """The names of the sides, in the order in which they were given."""
    place: str
    """The cell in the first of these workbooks, such as D7; "" of a reference that follows a new label."""


@dataclass(frozen=True, slots=True, kw_only=True)
class TakenCell:
    """A cell of the merged workbook whose new value is taken."""

    row: MergedRow
    column: str
    """The heading (our own spelling, or the member's of a column of their own), or the letters of a column on
    a sheet of the members' own."""
    old: Raw
    """What stands in the master; "" for blank."""
    new: SideValue


@dataclass(frozen=True, slots=True, kw_only=True)
class AddedRow:
    """A row that the merged workbook gets, with the cells on which all agree that added it."""

    row: MergedRow
    cells: Mapping[str, SideValue]
    """By heading, as in ``TakenCell``; those in conflict are missing here, and blank in the workbook."""
    sources: tuple[str, ...]


@dataclass(frozen=True, slots=True, kw_only=True)
class RemovedRow:
    """A row that somebody deleted and nobody else changed."""

    row: MergedRow
    sources: tuple[str, ...]


@dataclass(frozen=True, slots=True, kw_only=True)
class Conflict:
    """Something that only people can decide; the merged workbook holds what the base held."""

    kind: ConflictKind
    row: MergedRow
    column: str | None
    """None of a conflict of rows."""
    base: Raw
    """What the base holds, and with it the merged workbook: where the master moved on, this is written over
    what it has. Blank of a row that was added, and of an empty base. Of a conflict of rows, the label."""
    sides: tuple[SideValue, ...]
    """At least two, that of the master among them where it moved on."""


@dataclass(frozen=True, slots=True, kw_only=True)
class NotMerged:
    """Something that a copy has and the merged workbook has not, for somebody to look at."""

    source: str
    sheet: str
    cell: str
    """The place in the copy, such as D7; "" where it is of the whole sheet."""
    value: Raw
    """What stands there; "" where it is no value."""
    reason: str
    """What it is and why it is not taken, in words, such as "a photo; photos are not merged"."""
    label: str = ""
    """What people know its row by in the copy, such as the engine's label; "" where it has no such row."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Merged:
    """All that the copies come to, on top of the master."""

    taken: tuple[TakenCell, ...] = ()
    added: tuple[AddedRow, ...] = ()
    removed: tuple[RemovedRow, ...] = ()
    conflicts: tuple[Conflict, ...] = ()
    not_merged: tuple[NotMerged, ...] = ()
    new_columns: tuple[tuple[str, str], ...] = ()
    """Sheet and heading of columns that the master lacks, members' own or ours; of a sheet of ours that it
    lacks, of members' own columns only."""

    @property
    def changes_nothing(self) -> bool:
        """Whether the master stays as it is, byte for byte."""
        return not (self.taken or self.added or self.removed or self.conflicts or self.not_merged)
