"""What one sheet comes to, and the means of deciding on a cell of it."""

from collections.abc import Mapping, Sequence
from dataclasses import dataclass, field

from rosterkit.versions.merged import (
    AddedRow,
    Conflict,
    ConflictKind,
    MergedRow,
    NotMerged,
    RemovedRow,
    SideValue,
    TakenCell,
)
from rosterkit.versions.references import label_key
from rosterkit.versions.sheet_merge import Labels, SheetMerge
from rosterkit.versions.sheet_rows import Key
from rosterkit.versions.votes import UNWRITABLE, Vote, followed, side_values
from rosterkit.xlsx.grid import Raw

MASTERS_FORMULA = "the master has a formula there, which is kept"
NOT_WRITABLE = "an error value or a date that is none; it cannot be written"


@dataclass(kw_only=True)
class SheetResult:
    """What one sheet comes to."""

    taken: list[TakenCell] = field(default_factory=list)
    added: list[AddedRow] = field(default_factory=list)
    removed: list[RemovedRow] = field(default_factory=list)
    conflicts: list[Conflict] = field(default_factory=list)
    not_merged: list[NotMerged] = field(default_factory=list)
    columns: dict[Key, str] = field(default_factory=dict)
    """The headings of columns that something is taken into."""
    decided: set[tuple[int, Key]] = field(default_factory=set)
    """Cells of the master, by the index of the row, that get a value or keep the base's."""
    gone: set[int] = field(default_factory=set)
    """Rows of the master, by index, that are removed."""


@dataclass(frozen=True, kw_only=True)
class Deciding:
    """A sheet whose cells are decided on, one after the other."""

    sheet: SheetMerge
    labels: Labels
    """What the master made of the sheet's labels, to which is added what is decided."""
    base_name: str
    result: SheetResult = field(default_factory=SheetResult)

    @property
    def label(self) -> Key | None:
        """The column by which other sheets name the rows."""
        return label_key(self.sheet.now.known) if self.sheet.now.known else None

    def take(self, row: MergedRow, key: Key, old: Raw, new: SideValue) -> None:
        """Let a cell get a value."""
        self.result.taken.append(TakenCell(row=row, column=self.column(key), old=old, new=new))

    def not_merged(self, votes: Sequence[Vote], reason: str) -> None:
        """Name what copies have in a cell and the merged workbook has not."""
        self.result.not_merged += [
            NotMerged(source=name, sheet=self.sheet.title, cell=cell.place, value=cell.value, reason=reason)
            for name, cell in votes
            if name != self.sheet.master_name
        ]

    def wanted(self, key: Key, votes: Sequence[Vote], now: int | None) -> tuple[SideValue, ...]:
        """Return the distinct things that sides want, what cannot be written apart."""
        sheet = self.sheet
        if now is not None and sheet.now.formula(now, key) is not None:
            self.not_merged(votes, MASTERS_FORMULA)
            return ()
        refused = [vote for vote in votes if isinstance(vote[1].value, UNWRITABLE)]
        self.not_merged(refused, NOT_WRITABLE)
        able = [vote for vote in votes if vote not in refused or vote[0] == sheet.master_name]
        return side_values(followed(able, lambda meaning: sheet.label_now(key, meaning)))

    def conflict(self, row: MergedRow, key: Key, base: Raw, sides: tuple[SideValue, ...]) -> None:
        """Leave a cell to people."""
        self.result.conflicts.append(
            Conflict(kind=ConflictKind.CELL, row=row, column=self.column(key), base=base, sides=sides)
        )

    def column(self, key: Key) -> str:
        """Return the heading of a column that something is taken into."""
        heading = self.sheet.heading(key)
        self.result.columns[key] = heading
        return heading

    def new_row(self, cells: Mapping[Key, SideValue]) -> MergedRow:
        """Return the name of a row that is added next."""
        values = {key: one.value for key, one in cells.items()}
        label = self.sheet.label(values, None)
        return MergedRow(sheet=self.sheet.title, row=None, added=len(self.result.added), label=label)

    def append(self, row: MergedRow, cells: Mapping[Key, SideValue], sources: Sequence[str]) -> None:
        """Add a row with the cells that are filled in."""
        filled = {key: one for key, one in cells.items() if one.value != ""}
        named = {self.column(key): one for key, one in filled.items()}
        self.result.added.append(AddedRow(row=row, cells=named, sources=tuple(sources)))
