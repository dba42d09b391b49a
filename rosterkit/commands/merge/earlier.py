"""The sheet Merge of a workbook as it stands: its conflicts, and what somebody wrote under Keep."""

from collections.abc import Iterator
from dataclasses import dataclass

from rosterkit.commands.merge.lines import BLANK_SIDE, Line, What
from rosterkit.commands.merge.record import ConflictRecord, cells_of_record, record_in, record_place
from rosterkit.commands.merge.sheet import BEFORE, COLUMN, KEEP, REMARK, ROW, TITLE, WHAT
from rosterkit.roster.cell_values import shown
from rosterkit.roster.schema import folded
from rosterkit.xlsx.grid import Grid, Raw
from rosterkit.xlsx.package.opening import Package
from rosterkit.xlsx.read.workbook import read_workbook
from rosterkit.xlsx.xml.values import cell_text

_SINCE = " (since an earlier merge)"


@dataclass(frozen=True, slots=True, kw_only=True)
class KeptConflict:
    """A conflict that stands in a sheet Merge."""

    record: ConflictRecord
    row: int
    """Its row in the sheet Merge, from 1."""
    at: int
    """The column at which the sheet begins to keep it."""
    cells: int
    """How many cells keep it, that one and those behind it."""
    what: int
    """The column that says whether it is resolved."""
    keep: int
    """The column in which somebody chooses."""
    chosen: Raw
    """What stands there."""
    fits: bool
    """What people see in the line is what is kept beside it: they were not sorted apart."""


def merge_grid(package: Package) -> Grid | None:
    """Read the sheet Merge of a workbook; None where it has none of ours."""
    titles = [one.title for one in package.sheets if one.is_own and one.kind == "worksheet"]
    named = [title for title in titles if title.casefold().startswith(TITLE.casefold())]
    grids = read_workbook(package, set(named).__contains__).grids
    return next((grid for grid in grids.values() if _headings(grid)), None)


def kept_conflicts(grid: Grid) -> Iterator[KeptConflict]:
    """Return the conflicts in a sheet Merge, wherever its rows and columns stand now."""
    places = _headings(grid)
    if places is None:
        return
    for number, cells in enumerate(grid.rows, 1):
        record, at = record_in(cells), record_place(cells)
        if record is not None and at is not None:
            seen = {name: cells[place - 1] if place <= len(cells) else "" for name, place in places.items()}
            yield KeptConflict(
                record=record,
                row=number,
                at=at,
                cells=cells_of_record(cells[at - 1 :]),
                what=places[WHAT],
                keep=places[KEEP],
                chosen=seen[KEEP],
                fits=_alike(seen[ROW], record.label) and _alike(seen[COLUMN], record.column or ""),
            )


def _alike(seen: Raw, text: str) -> bool:
    return folded(str(seen)) == folded(cell_text(text))


def _headings(grid: Grid) -> dict[str, int] | None:
    """Return the columns of the headings that are needed, from 1."""
    for cells in grid.rows:
        words = [folded(cell) if isinstance(cell, str) else "" for cell in cells]
        if all(folded(name) in words for name in (WHAT, ROW, COLUMN, KEEP)):
            return {name: words.index(folded(name)) + 1 for name in (WHAT, ROW, COLUMN, KEEP)}
    return None


def earlier_lines(package: Package) -> list[Line]:
    """Return what an earlier merge left: open conflicts with their Keep, and what was not merged."""
    grid = merge_grid(package)
    if grid is None:
        return []
    conflicts = [_line(one) for one in kept_conflicts(grid) if one.record.kept is None]
    return [*conflicts, *_not_merged(grid)]


def _not_merged(grid: Grid) -> Iterator[Line]:
    headings: list[str] = []
    for cells in grid.rows:
        words = [cell if isinstance(cell, str) else "" for cell in cells]
        if WHAT in words and BEFORE in words and REMARK in words:
            headings = words
        elif headings and What.NOT_MERGED.value in words:
            row = dict(zip(headings, cells, strict=False))
            names = headings[headings.index(BEFORE) + 1 : headings.index(REMARK)]
            remark = str(row.get(REMARK, "")).removesuffix(_SINCE)
            yield Line(
                what=What.NOT_MERGED,
                sheet=str(row.get("Place", "")),
                sides={name: row[name] for name in names if row.get(name, "") != ""},
                remark=remark + _SINCE,
                linked=False,
            )


def _line(one: KeptConflict) -> Line:
    record = one.record
    sides: dict[str, Raw] = {
        name: BLANK_SIDE if side.value == "" else side.value for side in record.sides for name in side.sources
    }
    return Line(
        what=What.CONFLICT,
        sheet=record.sheet,
        row=record.label,
        column=record.column or "",
        before=record.base,
        sides=sides,
        remark="open since an earlier merge",
        record=record,
        keep=shown(one.chosen),
    )
