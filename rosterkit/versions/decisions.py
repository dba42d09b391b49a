"""What becomes of the rows of one sheet: cells taken, rows removed and added, conflicts."""

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass, field, replace

from rosterkit.roster.schema import folded
from rosterkit.versions.added_rows import Added, same_rows
from rosterkit.versions.meanings import meaning_of
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
from rosterkit.versions.references import label_key, referring
from rosterkit.versions.sheet_merge import Labels, SheetMerge
from rosterkit.versions.sheet_rows import Key
from rosterkit.versions.votes import UNWRITABLE, Vote, followed, side_values, writable
from rosterkit.xlsx.grid import Raw

REMOVED, CHANGED = "removed", "changed"
MASTERS_FORMULA = "the master has a formula there, which is kept"
NO_ROW = "the master has no such row any more"
NO_SHEET = "the master has no such sheet"
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


class Decisions:
    """The decisions on one sheet, in the order of the base's rows; then the rows that were added."""

    def __init__(self, sheet: SheetMerge, base_name: str, labels: Labels) -> None:
        """Begin with what the master made of the sheet's labels, which what is decided is added to."""
        self._sheet = sheet
        self._labels = labels
        self._base_name = base_name
        self.result = SheetResult()

    def decide(self) -> SheetResult:
        """Return what the sheet comes to."""
        sheet = self._sheet
        touched = {was for _, changes in sheet.sides for was in (*changes.changed, *changes.removed)}
        conflicts = self._formula_rows()
        for was in sorted(touched):
            self._row(was, conflicts.get(was, ()))
        self._added()
        return self.result

    def _formula_rows(self) -> dict[int, list[str]]:
        """Return who typed a formula in each row of the base: nobody's removal is to take it away."""
        found: dict[int, list[str]] = {}
        for name, changes in ((self._sheet.master_name, self._sheet.master.changes), *self._sheet.sides):
            for one in changes.formulas:
                if one.index is not None:
                    found.setdefault(one.index, []).append(name)
        return found

    def _row(self, was: int, by_formula: Sequence[str]) -> None:
        sheet = self._sheet
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
            self.result.removed.append(RemovedRow(row=sheet.row(was, {}), sources=tuple(removers)))
            self.result.gone.update(() if in_master is None else (in_master,))
            return
        self._cells(was, votes)
        if removers:
            self._removed_and_changed(sheet.row(was, {}), was, removers, changers)

    def _without_place(self, votes: Mapping[Key, Sequence[Vote]]) -> None:
        reason = NO_SHEET if self._sheet.now.missing else NO_ROW
        for some in votes.values():
            self._not_merged(some, reason)

    def _not_merged(self, votes: Sequence[Vote], reason: str) -> None:
        self.result.not_merged += [
            NotMerged(source=name, sheet=self._sheet.title, cell=cell.place, value=cell.value, reason=reason)
            for name, cell in votes
            if name != self._sheet.master_name
        ]

    def _removed_and_changed(
        self, row: MergedRow, was: int, removers: Sequence[str], changers: Sequence[str]
    ) -> None:
        place = next(iter(self._sheet.base.columns), None)
        where = "" if place is None else self._sheet.base.place(was, place)
        self.result.conflicts.append(
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
        sheet, now = self._sheet, self._sheet.index_in_master(was)
        label = label_key(sheet.now.known) if sheet.now.known else None
        taken: dict[Key, SideValue] = {}
        split: dict[Key, tuple[SideValue, ...]] = {}
        for key, some in votes.items():
            wanted = self._wanted(key, some, now)
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
            self.result.taken.append(TakenCell(row=at, column=self._column(key), old=old, new=one))
        for key, sides in split.items():
            at = sheet.setting(key) if sheet.now.settings else row
            self._conflict(at, key, self._held(was, key), sides)
        self.result.decided |= {(-1 if now is None else now, key) for key in (*taken, *split)}

    def _wanted(self, key: Key, votes: Sequence[Vote], now: int | None) -> tuple[SideValue, ...]:
        """Return the distinct things that sides want, what cannot be written apart."""
        sheet = self._sheet
        if now is not None and sheet.now.formula(now, key) is not None:
            self._not_merged(votes, MASTERS_FORMULA)
            return ()
        refused = [vote for vote in votes if isinstance(vote[1].value, UNWRITABLE)]
        self._not_merged(refused, NOT_WRITABLE)
        able = [vote for vote in votes if vote not in refused or vote[0] == sheet.master_name]
        return side_values(followed(able, lambda meaning: sheet.label_now(key, meaning)))

    def _held(self, was: int, key: Key) -> Raw:
        """Return what the base held in a cell, with labels as they are now."""
        sheet = self._sheet
        return sheet.label_now(key, sheet.base.meaning(was, key)) or writable(sheet.base.content(was, key))

    def _conflict(self, row: MergedRow, key: Key, base: Raw, sides: tuple[SideValue, ...]) -> None:
        self.result.conflicts.append(
            Conflict(kind=ConflictKind.CELL, row=row, column=self._column(key), base=base, sides=sides)
        )

    def _column(self, key: Key) -> str:
        heading = self._sheet.heading(key)
        self.result.columns[key] = heading
        return heading

    def _label(self, was: int, wanted: Sequence[SideValue]) -> None:
        """Keep what became of a label that somebody changed."""
        sheet, labels = self._sheet, self._labels
        base = sheet.base.meaning(was, label_key(sheet.now.known) or ("", 0)) if sheet.now.known else None
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
            kept = SideValue(value=str(base), sources=(self._base_name,), place="")
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
        sheet = self._sheet
        cells = {key: side_values([vote])[0] for key, vote in sheet.base_cells(was, self._base_name)}
        cells = {key: one for key, one in cells.items() if not isinstance(one.value, UNWRITABLE)}
        split: dict[Key, tuple[SideValue, ...]] = {}
        for key, some in votes.items():
            wanted = self._wanted(key, some, None)
            if len(wanted) > 1:
                split[key] = wanted
            elif wanted:
                cells[key] = wanted[0]
            if key == (label_key(sheet.now.known) if sheet.now.known else None):
                self._label(was, wanted)
        row = self._new_row(cells)
        self._append(row, cells, changers)
        for key, sides in split.items():
            self._conflict(row, key, self._held(was, key), sides)
        self._removed_and_changed(row, was, [sheet.master_name, *removers], changers)

    def _new_row(self, cells: Mapping[Key, SideValue]) -> MergedRow:
        values = {key: one.value for key, one in cells.items()}
        label = self._sheet.label(values, None)
        return MergedRow(sheet=self._sheet.title, row=None, added=len(self.result.added), label=label)

    def _append(self, row: MergedRow, cells: Mapping[Key, SideValue], sources: Sequence[str]) -> None:
        filled = {key: one for key, one in cells.items() if one.value != ""}
        named = {self._column(key): one for key, one in filled.items()}
        self.result.added.append(AddedRow(row=row, cells=named, sources=tuple(sources)))

    def _added(self) -> None:
        sheet = self._sheet
        if sheet.now.known is None or not any(changes.added for _, changes in sheet.sides):
            return
        sides = [(name, changes.added) for name, changes in sheet.sides]
        for group in same_rows(sheet.now.known, sheet.master.changes.added, sides, sheet.master_name):
            if group[0][0] != sheet.master_name or len(group) > 1:
                self._together(group)

    def _together(self, group: Sequence[Added]) -> None:
        """Decide on a row that one or several sides added, the master among them or not."""
        sheet = self._sheet
        name, first = group[0]
        now = sheet.now.rows.index(first.row) if name == sheet.master_name else None
        votes: dict[Key, list[Vote]] = {}
        for side, added in group:
            for key, cell in added.cells.items():
                votes.setdefault(key, []).append((side, cell))
        wanted = {key: self._wanted(key, some, now) for key, some in votes.items()}
        agreed = {key: sides[0] for key, sides in wanted.items() if len(sides) == 1}
        if now is None:
            row = self._new_row(agreed)
            self._append(row, agreed, [side for side, _ in group])
        else:
            row = sheet.masters_row(now, {key: one.value for key, one in agreed.items()})
            for key, one in agreed.items():
                if sheet.master_name not in one.sources:
                    self.result.taken.append(TakenCell(row=row, column=self._column(key), old="", new=one))
            self.result.decided |= {(now, key) for key in votes}
        for key, sides in wanted.items():
            if len(sides) > 1:
                self._conflict(row, key, "", sides)


def references(sheet: SheetMerge, result: SheetResult) -> Iterator[TakenCell]:
    """Return the cells of the master that name a row which a copy renamed, and say something else as yet."""
    known = sheet.now.known
    for key, title in (referring(known) if known else {}).items():
        labels = sheet.labels.get(title)
        if labels is None or not labels.by_copies:
            continue
        for now, meaning in enumerate(sheet.now.meanings.get(key, ())):
            free = now not in result.gone and (now, key) not in result.decided
            if meaning is None or not free or sheet.now.formula(now, key) is not None:
                continue
            in_base = sheet.before.get(title, {}).get(folded(str(meaning)), str(meaning))
            label = labels.by_copies.get(folded(in_base))
            if label is not None and folded(str(label.value)) != folded(str(meaning)):
                content = sheet.now.content(now, key)
                row = sheet.masters_row(now, {key: label.value})
                yield TakenCell(row=row, column=sheet.heading(key), old=content, new=label)
