"""What becomes of the rows of the base: cells taken, rows removed or put back, conflicts."""

from collections.abc import Mapping, Sequence
from dataclasses import replace

from rosterkit.roster.schema import folded
from rosterkit.versions.deciding import Deciding
from rosterkit.versions.meanings import meaning_of
from rosterkit.versions.merged import Conflict, ConflictKind, MergedRow, RemovedRow, SideValue
from rosterkit.versions.sheet_rows import Key
from rosterkit.versions.votes import UNWRITABLE, Vote, side_values, writable
from rosterkit.xlsx.grid import Raw

REMOVED, CHANGED = "removed", "changed"
NO_ROW = "the master has no such row any more"
NO_SHEET = "the master has no such sheet any more"


class Decisions:
    """The decisions on the rows of the base that somebody touched, in their order."""

    def __init__(self, on: Deciding) -> None:
        self._on = on

    def decide(self) -> None:
        """Decide on each row that a copy changed or removed."""
        sides = self._on.sheet.sides
        touched = {was for _, changes in sides for was in (*changes.changed, *changes.removed)}
        conflicts = self._formula_rows()
        for was in sorted(touched):
            self._row(was, conflicts.get(was, ()))

    def _formula_rows(self) -> dict[int, list[str]]:
        """Return who typed a formula in each row of the base: nobody's removal is to take it away."""
        found: dict[int, list[str]] = {}
        for name, changes in (
            (self._on.sheet.master_name, self._on.sheet.master.changes),
            *self._on.sheet.sides,
        ):
            for one in changes.formulas:
                if one.index is not None:
                    found.setdefault(one.index, []).append(name)
        return found

    def _row(self, was: int, by_formula: Sequence[str]) -> None:
        sheet = self._on.sheet
        votes = sheet.votes(was)
        removers = [name for name, changes in sheet.sides if was in changes.removed]
        changers = list(dict.fromkeys([*(name for some in votes.values() for name, _ in some), *by_formula]))
        changers = [name for name in changers if name not in removers]
        in_master = sheet.index_in_master(was)
        if in_master is None and sheet.now.known is None:
            self._without_place(votes)
            return
        if was in sheet.master.changes.removed:
            self._put_back(was, votes, removers, changers)
            return
        if removers and not changers:
            self._on.result.removed.append(RemovedRow(row=sheet.row(was, {}), sources=tuple(removers)))
            self._on.result.gone.update(() if in_master is None else (in_master,))
            return
        self._cells(was, votes)
        if removers:
            self._removed_and_changed(sheet.row(was, {}), was, removers, changers)

    def _without_place(self, votes: Mapping[Key, Sequence[Vote]]) -> None:
        reason = NO_SHEET if self._on.sheet.now.missing else NO_ROW
        for some in votes.values():
            self._on.not_merged(some, reason)

    def _removed_and_changed(
        self, row: MergedRow, was: int, removers: Sequence[str], changers: Sequence[str]
    ) -> None:
        place = next(iter(self._on.sheet.base.columns), None)
        where = "" if place is None else self._on.sheet.base.place(was, place)
        self._on.result.conflicts.append(
            Conflict(
                kind=ConflictKind.ROW,
                row=row,
                column=None,
                base=row.label,
                sides=(
                    SideValue(value=REMOVED, sources=tuple(removers), place=where),
                    SideValue(value=CHANGED, sources=tuple(changers), place=where),
                ),
            )
        )

    def _cells(self, was: int, votes: Mapping[Key, Sequence[Vote]]) -> None:
        """Decide on the cells of a row that the master has."""
        sheet, now = self._on.sheet, self._on.sheet.index_in_master(was)
        label = self._on.label
        taken: dict[Key, SideValue] = {}
        split: dict[Key, tuple[SideValue, ...]] = {}
        for key, some in votes.items():
            wanted = self._on.wanted(key, some, now)
            if len(wanted) > 1:
                split[key] = wanted
            elif wanted and sheet.master_name not in wanted[0].sources:
                taken[key] = wanted[0]
            if key == label:
                self._label(was, wanted)
        values = {key: one.value for key, one in taken.items()}
        row = sheet.row(was, values)
        for key, one in taken.items():
            at = sheet.setting(key) if sheet.now.settings else row
            old = "" if now is None else sheet.now.content(now, key)
            self._on.take(at, key, old, one)
        for key, sides in split.items():
            at = sheet.setting(key) if sheet.now.settings else row
            self._on.conflict(at, key, self._held(was, key), sides)
        self._on.result.decided |= {(-1 if now is None else now, key) for key in (*taken, *split)}

    def _held(self, was: int, key: Key) -> Raw:
        """Return what the base held in a cell, with labels as they are now."""
        sheet = self._on.sheet
        return sheet.label_now(key, sheet.base.meaning(was, key)) or writable(sheet.base.content(was, key))

    def _label(self, was: int, wanted: Sequence[SideValue]) -> None:
        """Keep what became of a label that somebody changed."""
        sheet, labels = self._on.sheet, self._on.labels
        base = sheet.base.meaning(was, self._on.label) if self._on.label else None
        if base is None:
            return
        old = folded(str(base))
        sides = dict([*sheet.sides, (sheet.master_name, sheet.master.changes)])
        renamers = [one for one in wanted if any(old in sides[name].renamed for name in one.sources)]
        if not renamers:
            return
        labels.now.pop(old, None)
        if len(wanted) == 1:
            labels.now[old] = str(meaning_of(wanted[0].value))
        if any(name != sheet.master_name for one in renamers for name in one.sources):
            kept = SideValue(value=str(base), sources=(self._on.base_name,), place="")
            if len(wanted) > 1:
                labels.by_copies[old] = kept
            elif sheet.master_name not in wanted[0].sources:
                labels.by_copies[old] = replace(wanted[0], value=labels.now[old], place="")

    def _put_back(
        self, was: int, votes: Mapping[Key, Sequence[Vote]], removers: Sequence[str], changers: Sequence[str]
    ) -> None:
        """Add a row that the master removed and a copy changed, as the base had it and with the change."""
        if not changers:
            return
        sheet = self._on.sheet
        cells = {key: side_values([vote])[0] for key, vote in sheet.base_cells(was, self._on.base_name)}
        cells = {key: one for key, one in cells.items() if not isinstance(one.value, UNWRITABLE)}
        split: dict[Key, tuple[SideValue, ...]] = {}
        for key, some in votes.items():
            wanted = self._on.wanted(key, some, None)
            if len(wanted) > 1:
                split[key] = wanted
            elif wanted:
                cells[key] = wanted[0]
            if key == self._on.label:
                self._label(was, wanted)
        row = self._on.new_row(cells)
        self._on.append(row, cells, changers)
        for key, sides in split.items():
            self._on.conflict(row, key, self._held(was, key), sides)
        self._removed_and_changed(row, was, [sheet.master_name, *removers], changers)
