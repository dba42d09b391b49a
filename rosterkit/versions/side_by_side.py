"""A sheet as it stands in two workbooks, laid side by side under the same headings."""

import math
from collections.abc import Hashable, Iterator, Mapping, Sequence
from datetime import date, datetime

from rosterkit.cell_names import column_letters
from rosterkit.roster.cell_values import shown
from rosterkit.roster.schema import Column, Sheet, folded
from rosterkit.roster.tables import Table
from rosterkit.versions.rows import ComparedCells, ComparedValue, Side, Sides
from rosterkit.xlsx.grid import Grid

_MOST_EXACT = 1e15
"""From here on a float is not shown as the whole number that it may stand for."""


def tables_side_by_side(
    known: Sheet, old: Table | None, new: Table | None, renamed: Mapping[str, str] | None = None
) -> Sides:
    """Lay a sheet of ours side by side: the columns that members fill, and the members' own after them.

    Args:
        known: the sheet; its rows are recognised by what the schema says.
        old: as it was; None where the workbook lacks it.
        new: as it is now.
        renamed: of each engine whose label changed the new one, by the old one, folded. A row that refers to
            the engine is recognised by it all the same, under the one or the other.
    """
    columns = known.filled_by_members
    own = tuple(dict.fromkeys(name for table in (old, new) if table for name in _own_columns(table)))
    names = [column.name for column in columns]
    keys = [[names.index(name) for name in key] for key in known.identity]
    refers = [at for at, column in enumerate(columns) if _names(column) == "Locomotives"]
    before, after = _cells(old, columns, own), _cells(new, columns, own)
    return Sides(
        title=known.title,
        headings=(*(column.heading for column in columns), *own),
        defaults=(*(column.default for column in columns), *(None for _ in own)),
        known_by=keys[0],
        old=Side(
            places=old.rows if old else (),
            cells=before,
            marks=_marks(before, keys, refers if renamed else (), renamed or {}),
        ),
        new=Side(
            places=new.rows if new else (),
            cells=after,
            marks=_marks(after, keys, refers if renamed else (), renamed or {}),
        ),
    )


def _names(column: Column) -> object:
    """Return the title of the sheet whose rows a column names; None if it names none."""
    return column.schema.get("refers") or column.schema.get("names")


def grids_side_by_side(title: str, old: Grid | None, new: Grid | None) -> Sides:
    """Lay a sheet of the members' own side by side, by the letters of its columns.

    Its rows are recognised by all that stands in them, and else by their places.
    """
    width = max((len(row) for grid in (old, new) if grid for row in grid.rows), default=0)
    return Sides(
        title=title,
        headings=[column_letters(column) for column in range(1, width + 1)],
        defaults=(None,) * width,
        known_by=(),
        old=_grid_side(old),
        new=_grid_side(new),
    )


def _grid_side(grid: Grid | None) -> Side:
    rows = [_to_last_filled([_plain(cell) for cell in row]) for row in (grid.rows if grid else ())]
    filled = [(place, row) for place, row in enumerate(rows, 1) if row]
    return Side(
        places=[place for place, _ in filled],
        cells=[row for _, row in filled],
        marks=[(row, place) for place, row in filled],
    )


def _to_last_filled(row: list[ComparedValue]) -> ComparedCells:
    width = max((at for at, cell in enumerate(row, 1) if cell is not None), default=0)
    return tuple(row[:width])


def _cells(table: Table | None, columns: Sequence[Column], own: Sequence[str]) -> list[ComparedCells]:
    if table is None:
        return []
    blank: list[ComparedValue] = [None] * len(table.rows)
    theirs = _own_columns(table)
    ours = [_column(table, column) for column in columns]
    return list(zip(*ours, *(theirs.get(name, blank) for name in own), strict=True))


def _column(table: Table, column: Column) -> list[ComparedValue]:
    """Return what stands in a column, refused by the schema or not; the default where it is blank."""
    values = [_plain(value) for value in table.values[column.name]]
    values = [column.default if value is None else value for value in values]
    for name, index in table.unreadable:
        if name == column.name:
            values[index] = _plain(table.raw[name][index])
    return values


def _own_columns(table: Table) -> dict[str, list[ComparedValue]]:
    """Return the members' own columns by heading; one that stands there before has its letters with it."""
    found: dict[str, list[ComparedValue]] = {}
    for place, cells in table.own.items():
        text = table.headings.own[place]
        name = f"{text} ({column_letters(place)})" if text in found else text
        found[name] = [_plain(cell) for cell in cells]
    return found


def _plain(content: object) -> ComparedValue:
    """Return the content of a cell as a text or a number that can be written down; None where it is blank."""
    if isinstance(content, str):
        return content.strip() or None
    if isinstance(content, bool | date | datetime):
        return shown(content)
    if isinstance(content, float) and content.is_integer() and abs(content) < _MOST_EXACT:
        return int(content)
    if isinstance(content, int) or (isinstance(content, float) and math.isfinite(content)):
        return content
    return None if content is None else str(content)


def _marks(
    rows: Sequence[ComparedCells],
    keys: Sequence[Sequence[int]],
    refers: Sequence[int],
    renamed: Mapping[str, str],
) -> list[tuple[Hashable, ...]]:
    return [tuple(_row_marks(_as_now(cells, refers, renamed), keys)) for cells in rows]


def _as_now(cells: ComparedCells, refers: Sequence[int], renamed: Mapping[str, str]) -> ComparedCells:
    if not refers:
        return cells
    now = {at: renamed.get(folded(str(cells[at])), cells[at]) for at in refers}
    return tuple(now.get(at, cell) for at, cell in enumerate(cells))


def _row_marks(cells: ComparedCells, keys: Sequence[Sequence[int]]) -> Iterator[Hashable]:
    """Return all that stands in a row, then the keys of which nothing is blank, then the last key anyway."""
    yield cells
    for key in keys[:-1]:
        values = [cells[at] for at in key]
        yield None if None in values else tuple(map(_folded, values))
    yield tuple(_folded(cells[at]) for at in keys[-1])


def _folded(value: ComparedValue) -> Hashable:
    return folded(value) if isinstance(value, str) else value
