"""The command ``merge --resolve``: what somebody chose under Keep, put into the merged workbook."""

from collections.abc import Iterable, Iterator, Mapping, Sequence
from contextlib import suppress
from dataclasses import dataclass, field, replace
from pathlib import Path

from rosterkit.cell_names import column_letters
from rosterkit.commands.merge.earlier import KeptConflict, kept_conflicts, merge_grid
from rosterkit.commands.merge.lines import What
from rosterkit.commands.merge.record import REMOVED, ConflictRecord, record_texts
from rosterkit.commands.merge.rows import UnknownRowError, marks_of, row_of
from rosterkit.commands.merge.sheet import TITLE
from rosterkit.errors import CannotRunError
from rosterkit.roster.cell_values import shown
from rosterkit.roster.schema import folded
from rosterkit.versions.merged import ConflictKind
from rosterkit.versions.version import Version, version_of
from rosterkit.writeback.merge_edit import emptied_row, places_in, value_change
from rosterkit.writeback.merge_places import SheetPlaces
from rosterkit.writeback.raw_values import UnwritableError
from rosterkit.writeback.renamed import references_to
from rosterkit.xlsx.changes import CellChange, SheetChange, WorkbookChange
from rosterkit.xlsx.grid import Grid, Raw
from rosterkit.xlsx.package.opening import opened, opened_in_memory
from rosterkit.xlsx.save.edit import edited
from rosterkit.xlsx.save.save import save_edited


@dataclass(frozen=True, slots=True, kw_only=True)
class Resolved:
    """A conflict that was resolved."""

    conflict: KeptConflict
    kept: str
    """The side that was kept, as it is called."""
    value: Raw
    sheet: str
    row: int
    """Its sheet row as it stands now."""
    cell: str


@dataclass(frozen=True, slots=True, kw_only=True)
class Refused:
    """A choice that was not carried out."""

    cell: str
    """In the sheet Merge."""
    chosen: str
    reason: str


@dataclass(slots=True, kw_only=True)
class Resolution:
    """What resolving came to."""

    path: Path
    kept: Path | None = None
    """The earlier file."""
    resolved: list[Resolved] = field(default_factory=list)
    refused: list[Refused] = field(default_factory=list)
    open: int = 0
    """Conflicts for which nobody has chosen."""


def resolve(path: Path) -> Resolution:
    """Carry out what was chosen under Keep in the sheet Merge, in place; the earlier file is kept beside it.

    A conflict is marked as resolved; for one that was, another choice may be made. Nothing is done for a
    choice that names no side, or where the row or what stands in it is not known for sure.

    Raises:
        CannotRunError: if the workbook cannot be read or written, or has no sheet Merge.
    """
    package = opened(path)
    grid = merge_grid(package)
    if grid is None:
        raise CannotRunError(
            f"{path}: there is no sheet {TITLE} with conflicts", "Give the workbook that merge made."
        )
    version = version_of(package, path.stem)
    conflicts = sorted(kept_conflicts(grid), key=lambda one: one.record.kind is ConflictKind.CELL)
    resolution = Resolution(path=path)
    changes = _Changes(version)
    for conflict in conflicts:
        _resolve(conflict, changes, resolution)
    if not resolution.resolved:
        return resolution
    rows = list(_rows(conflicts, changes.places))
    after = version_of(opened_in_memory(edited(package, changes.workbook).data, str(path)), path.stem)
    marks = _marked(grid, rows, resolution, places_in(after.book, after.grids))
    made = edited(after.package, WorkbookChange(sheets=(marks,)))
    resolution.kept = save_edited(package, made.data).kept
    return resolution


def _rows(
    conflicts: Sequence[KeptConflict], places: Mapping[str, SheetPlaces]
) -> Iterator[tuple[KeptConflict, int]]:
    """Return conflicts with the rows in which they stand, as far as these are known for sure."""
    for one in conflicts:
        there = places.get(folded(one.record.sheet))
        with suppress(UnknownRowError):
            if there is not None:
                yield one, row_of(one.record, there)


def require_alone(others: object) -> None:
    """See that nothing is to be merged where conflicts are to be resolved; CannotRunError if something is."""
    if others:
        raise CannotRunError(
            "--resolve merges nothing", "Give it the merged workbook, and no copies, base, master or -o."
        )


class _Changes:
    """The cells of the workbook that change."""

    def __init__(self, version: Version) -> None:
        self.places: Mapping[str, SheetPlaces] = places_in(version.book, version.grids)
        self.version = version
        self.cells: dict[str, dict[tuple[int, int], CellChange]] = {}
        self.removed: set[tuple[str, int]] = set()
        """Title and number of rows that are emptied."""

    def add(self, places: SheetPlaces, cells: Iterable[CellChange]) -> None:
        """Let cells hold something; of two that want the same one the later counts."""
        known = self.cells.setdefault(places.grid.title, {})
        known |= {(cell.row, cell.column): cell for cell in cells}

    @property
    def workbook(self) -> WorkbookChange:
        """All of them."""
        return WorkbookChange(
            sheets=tuple(
                SheetChange(title=title, cells=tuple(cells.values()), keeps_highlights=True)
                for title, cells in self.cells.items()
                if cells
            )
        )


def _resolve(conflict: KeptConflict, changes: _Changes, resolution: Resolution) -> None:
    record, chosen = conflict.record, shown(conflict.chosen).strip()
    if record.kept is not None and folded(chosen) in ("", folded(record.kept)):
        return
    if not chosen:
        resolution.open += 1
        return
    try:
        resolution.resolved.append(_applied(conflict, chosen, changes))
    except (UnknownRowError, UnwritableError) as why:
        cell = f"{column_letters(conflict.keep)}{conflict.row}"
        resolution.refused.append(Refused(cell=cell, chosen=chosen, reason=str(why)))


def _applied(conflict: KeptConflict, chosen: str, changes: _Changes) -> Resolved:
    record = conflict.record
    wanted = record.wanted(chosen)
    if wanted is None:
        raise UnknownRowError(f"it is none of {', '.join(record.choices)}")
    if not conflict.fits:
        raise UnknownRowError("its line was sorted without the hidden columns, or its Row or Column changed")
    kept, value = wanted
    places = changes.places.get(folded(record.sheet))
    if places is None:
        raise UnknownRowError(f"there is no sheet '{record.sheet}' any more")
    row = row_of(record, places)
    if record.kind is ConflictKind.ROW:
        if value == REMOVED:
            changes.add(places, emptied_row(places, row))
            changes.removed.add((places.grid.title, row))
        return _resolved(conflict, kept, value, places, (row, 1))
    if (places.grid.title, row) in changes.removed:
        raise UnknownRowError("its row is removed by another choice")
    at = _cell_of(record, places, row)
    _require_known(record, _standing(places, at), at)
    changes.add(places, [value_change(places, at, value, date1904=changes.version.package.date1904)])
    if places.table is not None and places.table.sheet.title == "Locomotives":
        for other, cells in references_to(changes.places, places, at, value):
            changes.add(other, cells)
    return _resolved(conflict, kept, value, places, at)


def _resolved(
    conflict: KeptConflict, kept: str, value: Raw, places: SheetPlaces, at: tuple[int, int]
) -> Resolved:
    return Resolved(
        conflict=conflict,
        kept=kept,
        value=value,
        sheet=places.grid.title,
        row=at[0],
        cell=f"{column_letters(at[1])}{at[0]}",
    )


def _cell_of(record: ConflictRecord, places: SheetPlaces, row: int) -> tuple[int, int]:
    at = places.cell(row, record.column or "A")
    if places.added_columns:
        places.added_columns.clear()
        raise UnknownRowError(f"there is no '{record.column}' in the sheet '{record.sheet}' any more")
    return at


def _require_known(record: ConflictRecord, standing: Raw, at: tuple[int, int]) -> None:
    """See that a cell holds what a side or the base wants, and nothing that somebody typed since."""
    known = [record.base, *(side.value for side in record.sides)]
    if folded(shown(standing)) not in {folded(shown(one)) for one in known}:
        raise UnknownRowError(
            f"{record.sheet} {column_letters(at[1])}{at[0]} holds '{shown(standing)}' now, which no side has"
        )


def _standing(places: SheetPlaces, at: tuple[int, int]) -> Raw:
    return "" if places.is_blank(*at) else places.grid.rows[at[0] - 1][at[1] - 1]


def _marked(
    grid: Grid,
    rows: Sequence[tuple[KeptConflict, int]],
    resolution: Resolution,
    after: Mapping[str, SheetPlaces],
) -> SheetChange:
    """Return what changes in the sheet Merge: what is resolved, and by what rows are known that changed.

    Args:
        grid: The sheet.
        rows: Its conflicts with their rows in the workbook.
        resolution: What was resolved.
        after: Where rows and columns stand in the workbook now.
    """
    kept = {one.conflict.row: one.kept for one in resolution.resolved}
    cells: list[CellChange] = []
    for conflict, row in rows:
        record = conflict.record
        marks = marks_of(after[folded(record.sheet)], row) or record.marks
        now = replace(record, row=row, marks=marks, kept=kept.get(conflict.row, record.kept))
        if conflict.row in kept:
            cells.append(CellChange(row=conflict.row, column=conflict.what, value=What.RESOLVED.value))
        if now != record:
            texts = record_texts(now, conflict.cells)
            cells += (
                CellChange(row=conflict.row, column=at, value=text)
                for at, text in enumerate(texts, conflict.at)
            )
    return SheetChange(title=grid.title, cells=tuple(cells), keeps_highlights=True)
