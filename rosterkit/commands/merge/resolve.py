"""The command ``merge --resolve``: what somebody chose under Keep, put into the merged workbook."""

from collections.abc import Iterator, Mapping, Sequence
from contextlib import suppress
from dataclasses import replace
from pathlib import Path

from rosterkit.commands.merge.choices import Changes, Resolution, carry_out
from rosterkit.commands.merge.earlier import KeptConflict, kept_conflicts, merge_grid
from rosterkit.commands.merge.lines import What
from rosterkit.commands.merge.record import record_texts
from rosterkit.commands.merge.rows import UnknownRowError, marks_of, row_of
from rosterkit.commands.merge.sheet import TITLE
from rosterkit.errors import CannotRunError
from rosterkit.roster.load import package_at
from rosterkit.roster.schema import folded
from rosterkit.versions.merged import ConflictKind
from rosterkit.versions.version import version_of
from rosterkit.writeback.merge_edit import places_in
from rosterkit.writeback.merge_places import SheetPlaces
from rosterkit.xlsx.changes import CellChange, SheetChange, WorkbookChange
from rosterkit.xlsx.grid import Grid
from rosterkit.xlsx.package.opening import opened_in_memory
from rosterkit.xlsx.save.edit import edited
from rosterkit.xlsx.save.save import save_edited


def resolve(path: Path) -> Resolution:
    """Carry out what was chosen under Keep in the sheet Merge, in place; the earlier file is kept beside it.

    A conflict is marked as resolved; for one that was, another choice may be made. Nothing is done for a
    choice that names no side, or where the row or what stands in it is not known for sure.

    Raises:
        CannotRunError: if the workbook cannot be read or written, or has no sheet Merge.
    """
    package = package_at(path)
    grid = merge_grid(package)
    if grid is None:
        raise CannotRunError(
            f"{path}: there is no sheet {TITLE} with conflicts", "Give the workbook that merge made."
        )
    version = version_of(package, path.stem)
    conflicts = sorted(kept_conflicts(grid), key=lambda one: one.record.kind is ConflictKind.CELL)
    resolution = Resolution(path=path)
    changes = Changes(version)
    for conflict in conflicts:
        carry_out(conflict, changes, resolution)
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
