"""What one side did to the rows of one sheet, and how cells of it are compared with the base's."""

from collections.abc import Iterator, Mapping
from dataclasses import dataclass, field
from functools import cached_property

from rosterkit.roster.schema import folded
from rosterkit.versions.meanings import Meaning, alike
from rosterkit.versions.same_formula import Moves, same_formula
from rosterkit.versions.sheet_rows import Key, SheetRows
from rosterkit.xlsx.grid import Raw


@dataclass(frozen=True, slots=True)
class SideCell:
    """What a side has in a cell."""

    value: Raw
    """As it was typed; the base's label where it names a row that the side renamed."""
    meaning: Meaning
    place: str


@dataclass(frozen=True, slots=True, kw_only=True)
class FormulaCell:
    """A cell in which a formula stands or stood, so that nothing of it is merged."""

    index: int | None
    """Of the base's row; None in a row that was added."""
    key: Key
    text: str | None
    """Without the equals sign; None where a value stands in place of the base's formula."""
    result: Raw
    place: str
    at: tuple[int, int]


@dataclass(frozen=True, slots=True, kw_only=True)
class NewRow:
    """A row that a side added: its sheet row there, and what is filled in."""

    row: int
    cells: Mapping[Key, SideCell]


@dataclass(frozen=True, slots=True, kw_only=True)
class SheetChanges:
    """What a side did to one sheet; rows of the base by their index."""

    title: str
    """As the side spells it."""
    headings: Mapping[Key, str]
    """Of columns that the base lacks."""
    changed: Mapping[int, Mapping[Key, SideCell]] = field(default_factory=dict)
    removed: tuple[int, ...] = ()
    added: tuple[NewRow, ...] = ()
    formulas: tuple[FormulaCell, ...] = ()
    renamed: Mapping[str, str] = field(default_factory=dict)
    """The new labels by the base's, folded."""
    unplaced: tuple[tuple[str, Raw, str], ...] = ()
    """Place, content and reason of what has no place in the merged workbook."""

    @property
    def is_empty(self) -> bool:
        """Whether the side left the sheet as it was."""
        return not (self.changed or self.removed or self.added or self.formulas or self.unplaced)


@dataclass(frozen=True, kw_only=True)
class Comparison:
    """One sheet of a base and of a copy, whose rows are paired."""

    base: SheetRows
    copy: SheetRows
    pairs: Mapping[int, int]
    """The index of the base's row for that of the copy's."""
    names: Mapping[Key, Mapping[str, str]] = field(default_factory=dict)
    """By a column whose cells name rows elsewhere, the base's label by that of the copy, folded."""

    def changed(self, now: int, was: int) -> dict[Key, SideCell]:
        """Return the cells of a row of the copy that mean something else than in the base, formulas apart."""
        old = self._old[was] if was < len(self._old) else self._blank
        new = self._new[now] if now < len(self._new) else self._blank
        if old == new:
            return {}
        found: dict[Key, SideCell] = {}
        for key, before, after in zip(self.copy.meanings, old, new, strict=True):
            if before != after and not alike(before, after):
                cell = self._cell(now, key, after)
                if not self._names_the_same(key, before, cell.meaning) and not self._formula(now, was, key):
                    found[key] = cell
        return found

    @cached_property
    def _old(self) -> list[tuple[Meaning, ...]]:
        return self.base.cells(list(self.copy.meanings))

    @cached_property
    def _new(self) -> list[tuple[Meaning, ...]]:
        return self.copy.cells(list(self.copy.meanings))

    @cached_property
    def _blank(self) -> tuple[Meaning, ...]:
        return (None,) * len(self.copy.meanings)

    def added(self, now: int) -> dict[Key, SideCell]:
        """Return the filled cells of a row that the base lacks, formulas apart."""
        return {
            key: self._cell(now, key, values[now])
            for key, values in self.copy.meanings.items()
            if values[now] is not None and self.copy.formula(now, key) is None
        }

    def formulas(self, rows: Mapping[int, int | None]) -> Iterator[FormulaCell]:
        """Return the formulas that the base has not, and the values that stand in place of one of its own.

        Args:
            rows: the index of the base's row, None if there is none, by that of the copy's.
        """
        concerned = self.copy.formulas.keys() | {
            now for now, was in rows.items() if was in self.base.formulas
        }
        if not concerned:
            return
        moves = self._moves(rows)
        for now in sorted(concerned & rows.keys()):
            was = rows[now]
            before = {} if was is None else self.base.formulas.get(was, {})
            after = self.copy.formulas.get(now, {})
            for key in sorted((before.keys() | after.keys()) & self.copy.columns.keys()):
                old, new = before.get(key), after.get(key)
                if old is None and new is not None and new.startswith("#"):
                    continue  # a photo in a cell, as programs store it that do not know these
                at = self.copy.at(now, key)
                known = old is not None and new is not None and was is not None
                if known and same_formula(str(old), self.base.at(was or 0, key), str(new), at, moves):
                    continue
                yield FormulaCell(
                    index=was,
                    key=key,
                    text=new,
                    result=self.copy.content(now, key),
                    place=self.copy.place(now, key),
                    at=at,
                )

    def _moves(self, rows: Mapping[int, int | None]) -> Moves:
        columns = {
            place: self.base.columns[key]
            for key, place in self.copy.columns.items()
            if key in self.base.columns
        }
        if self.copy.settings:
            return Moves(columns, {})
        places = {
            self.copy.rows[now]: self.base.rows[was]
            for now, was in rows.items()
            if was is not None and now < len(self.copy.rows) and was < len(self.base.rows)
        }
        return Moves(places, columns)

    def _cell(self, now: int, key: Key, meaning: Meaning) -> SideCell:
        value = self.copy.content(now, key)
        label = self.names.get(key, {}).get(folded(str(meaning))) if meaning is not None else None
        if label is not None:
            value, meaning = label, label
        return SideCell(value if meaning is not None else "", meaning, self.copy.place(now, key))

    def _names_the_same(self, key: Key, old: Meaning, new: Meaning) -> bool:
        if key not in self.names or old is None or new is None:
            return False
        return folded(str(old)) == folded(str(new)) and folded(str(new)) in map(
            folded, self.names[key].values()
        )

    def _formula(self, now: int, was: int, key: Key) -> bool:
        return self.copy.formula(now, key) is not None or self.base.formula(was, key) is not None
