"""The rows of one sheet in two workbooks, made into what changed, was added and is gone."""

from collections.abc import Hashable, Iterator, Sequence
from dataclasses import dataclass
from enum import StrEnum
from functools import cached_property
from itertools import zip_longest

from rosterkit.versions.row_matching import paired

ComparedValue = str | int | float | None
ComparedCells = tuple[ComparedValue, ...]


class ChangeKind(StrEnum):
    """What became of an engine or a row."""

    CHANGED = "changed"
    ADDED = "added"
    GONE = "gone"


@dataclass(frozen=True, slots=True, kw_only=True)
class Difference:
    """One value that is not what it was."""

    name: str
    """The heading of a column or setting, or a CV such as CV29, with its index if it has one."""
    old: ComparedValue
    new: ComparedValue


@dataclass(frozen=True, slots=True, kw_only=True)
class RowChange:
    """What became of one row of a sheet."""

    fate: ChangeKind
    sheet: str
    row: str
    """What it is recognised by, or its place in the sheet; as in the new workbook if it is there."""
    known_by: tuple[str, ...]
    """The headings of what ``row`` is made of."""
    columns: tuple[Difference, ...]


@dataclass(frozen=True, slots=True, kw_only=True)
class Side:
    """The rows of a sheet in one of the workbooks."""

    places: Sequence[int] = ()
    """The sheet row of each."""
    cells: Sequence[ComparedCells] = ()
    """What stands in each, in the order of the columns that are compared; blank ones may be missing at its
    end."""
    marks: Sequence[Sequence[Hashable]] = ()
    """What each is recognised by."""


@dataclass(frozen=True, kw_only=True)
class Sides:
    """The rows of one sheet in two workbooks."""

    title: str
    headings: Sequence[str]
    defaults: ComparedCells
    known_by: Sequence[int]
    """Which of the columns name a row; none where its place does."""
    old: Side
    new: Side

    @cached_property
    def before(self) -> dict[int, int]:
        """The index of the old row for the index of each new one that was there before."""
        return paired(self.old.marks, self.new.marks)

    @property
    def gone(self) -> list[int]:
        """The indices of the old rows that are no more."""
        kept = set(self.before.values())
        return [index for index in range(len(self.old.cells)) if index not in kept]

    def changed(self, index: int) -> tuple[Difference, ...]:
        """Return what changed in a new row that was there before."""
        old, new = self.old.cells[self.before[index]], self.new.cells[index]
        return tuple(
            Difference(name=name, old=was, new=is_now)
            for name, (was, is_now) in zip(self.headings, zip_longest(old, new), strict=False)
            if was != is_now
        )

    def added(self, index: int) -> tuple[Difference, ...]:
        """Return what stands in a new row, but for defaults."""
        return tuple(Difference(name=n, old=None, new=value) for n, value in self._filled(self.new, index))

    def removed(self, index: int) -> tuple[Difference, ...]:
        """Return what stood in an old row, but for defaults."""
        return tuple(Difference(name=n, old=value, new=None) for n, value in self._filled(self.old, index))

    def _filled(self, side: Side, index: int) -> Iterator[tuple[str, ComparedValue]]:
        for name, value, default in zip(self.headings, side.cells[index], self.defaults, strict=False):
            if value not in (None, default):
                yield name, value

    def changes(self) -> Iterator[RowChange]:
        """Return what became of each row, in the order of the new sheet; those that are gone come last."""
        for index in range(len(self.new.cells)):
            if index not in self.before:
                yield self._change(ChangeKind.ADDED, self.new, index, self.added(index))
            elif columns := self.changed(index):
                yield self._change(ChangeKind.CHANGED, self.new, index, columns)
        for index in self.gone:
            yield self._change(ChangeKind.GONE, self.old, index, self.removed(index))

    def _change(self, fate: ChangeKind, side: Side, index: int, columns: tuple[Difference, ...]) -> RowChange:
        cells = side.cells[index]
        words = [
            value if isinstance(value, str) else f"{self.headings[at]} {value}"
            for at in self.known_by
            if (value := cells[at]) is not None
        ]
        return RowChange(
            fate=fate,
            sheet=self.title,
            row=", ".join(words) or f"row {side.places[index]}",
            known_by=tuple(self.headings[at] for at in self.known_by),
            columns=columns,
        )
