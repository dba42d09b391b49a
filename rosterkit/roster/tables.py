"""A workbook's sheets as tables: every row's values by column, each with the cell it came from."""

from bisect import bisect_left, bisect_right
from collections.abc import Callable, Iterator, Mapping, Sequence, Set
from dataclasses import dataclass, field, replace
from itertools import zip_longest
from typing import cast

from rosterkit.errors import CannotRunError
from rosterkit.findings import Place
from rosterkit.roster.cell_values import UnreadableCell, Value, all_cleaned, clock_of, map_distinct
from rosterkit.roster.elsewhere import Elsewhere, engines_elsewhere
from rosterkit.roster.headings import (
    Headings,
    Misspelt,
    find_headings,
    find_settings,
    likenesses,
)
from rosterkit.roster.refusals import no_headings, no_sheet
from rosterkit.roster.schema import Kind, Sheet, all_sheets, folded
from rosterkit.roster.units import FIXED_UNITS, Units, units_of
from rosterkit.xlsx.grid import Calculated, CellError, Grid, MergedRange, NoStoredValue, Raw, Workbook
from rosterkit.xlsx.read.formulas import among


@dataclass(frozen=True, slots=True, kw_only=True)
class Table:
    """One of our sheets as found in a workbook; ``values[column][i]`` stands in sheet row ``rows[i]``."""

    sheet: Sheet
    workbook: str
    title: str
    headings: Headings
    rows: Sequence[int]
    raw: Mapping[str, Sequence[Raw]]
    values: Mapping[str, Sequence[Value | None]]
    """None where the cell is blank or spoiled; not yet judged by the schema."""
    unreadable: Mapping[tuple[str, int], UnreadableCell]
    """By column name and index of the row."""
    orphaned_rows: Sequence[int] = ()
    """Sheet rows in which nothing stands but computed values of an engine that is gone."""
    other_rows: Sequence[int] = ()
    """Further sheet rows below the headings in which something stands that is the member's own."""
    merged: tuple[MergedRange, ...] = ()
    covered: tuple[MergedRange, ...] = ()
    """Areas that begin below the headings and are not free, though nothing may stand in their cells."""
    beyond: frozenset[int] = frozenset()
    """Sheet columns to the right of the last heading that are not free: by a value, a drawing, a table."""
    areas: tuple[MergedRange, ...] = ()
    """Merged cells, drawings and tables that reach below the heading row, wherever they begin."""
    value_column: int = 0
    """The sheet column of the values, where the sheet is transposed."""
    name_column: int = 0
    """The sheet column of the names of the settings, where the sheet is transposed."""
    formulas: Mapping[tuple[int, int], str] = field(default_factory=dict)
    """The text of each formula below a computed heading, by sheet row and column, also where no engine is."""
    own: Mapping[int, Sequence[Raw]] = field(default_factory=dict)
    """The cells of the member's own columns, by sheet column, as they stand there."""

    def place(self, column: str, index: int) -> Place:
        """Return the cell of a column in a row by its index.

        The heading's row where the column is missing.
        """
        at = self.headings.columns.get(column)
        if self.sheet.transposed:
            return Place(self.workbook, self.title, at, self.value_column if at else None)
        return Place(self.workbook, self.title, self.rows[index], at or 1)

    def heading(self, column: str) -> str:
        """Return a column's heading as the member spells it, on one line; ours where it is missing."""
        return " ".join((self.headings.texts.get(column) or self.sheet[column].heading).split())


@dataclass(frozen=True, slots=True, kw_only=True)
class Book:
    """All of a workbook that rosterkit reads."""

    name: str
    tables: Mapping[str, Table]
    """By the sheet's own title."""
    misspelt_titles: tuple[Misspelt, ...] = ()
    without_headings: tuple[str, ...] = ()
    """Titles of sheets named like ours that have no heading row of ours; nothing is read from them."""
    own_titles: tuple[str, ...] = ()
    """Titles of sheets that rosterkit made."""
    elsewhere: tuple[Elsewhere, ...] = ()
    """Sheets that are not read and look like lists of engines."""
    is_new: bool = False
    """It is one that rosterkit is making."""


def book_of(workbook: Workbook, *, without_engines: bool = False) -> Book:
    """Make tables out of the sheets that were read; of a new workbook, also without engines.

    CannotRunError if the sheet Locomotives, its heading row or its rows are missing, or a heading stands
    twice.
    """
    tables: dict[str, Table] = {}
    without: list[str] = []
    units = FIXED_UNITS
    for sheet in all_sheets():
        grid = _grid_of(sheet, workbook)
        table = _table(sheet, grid, workbook.name, units) if grid else None
        if table:
            tables[sheet.title] = table
            units = units_of(table.sheet, table.values) if sheet.transposed else units
        elif grid and sheet.required:
            raise no_headings(sheet, grid, workbook.name)
        elif grid and any(cell != "" for row in grid.rows for cell in row):
            without.append(grid.title)
        elif sheet.required:
            raise no_sheet(sheet, workbook)
        if table and sheet.required and not table.rows and not without_engines:
            raise CannotRunError(
                f"{workbook.name}: the sheet '{table.title}' has headings but no engines",
                "Enter at least one engine below the headings.",
            )
    present = {table.title for table in tables.values()} | set(without)
    others = {n: title for n, title in enumerate(workbook.titles) if title not in present}
    absent = {folded(s.title): s.title for s in all_sheets() if s.title not in tables}
    return Book(
        name=workbook.name,
        tables=tables,
        misspelt_titles=tuple(
            Misspelt(text=others[n], meant=meant) for n, meant in likenesses(others, absent)
        ),
        without_headings=tuple(without),
        own_titles=workbook.own_titles,
        elsewhere=tuple(engines_elsewhere(workbook)),
        is_new=without_engines,
    )


def _grid_of(sheet: Sheet, workbook: Workbook) -> Grid | None:
    alike = (grid for title, grid in workbook.grids.items() if folded(title) == folded(sheet.title))
    return workbook.grids.get(sheet.title) or next(alike, None)


def _table(sheet: Sheet, grid: Grid, workbook: str, units: Units) -> Table | None:
    if sheet.transposed:
        found = find_settings(sheet, grid, workbook)
        return _settings(sheet, grid, workbook, *found) if found else None
    headings = find_headings(sheet, grid, workbook)
    return _records(sheet, grid, workbook, headings, units) if headings else None


def _records(sheet: Sheet, grid: Grid, workbook: str, headings: Headings, units: Units) -> Table:
    below = grid.rows[headings.row :]
    places = {name: place - 1 for name, place in headings.columns.items()}
    typed = [places[column.name] for column in sheet.filled_by_members if column.name in places]
    ours = [places[column.name] for column in sheet.computed if column.name in places]
    kept: list[list[Raw]] = []
    rows: list[int] = []
    orphaned_rows: list[int] = []
    other_rows: list[int] = []
    for number, cells in enumerate(below, headings.row + 1):
        width = len(cells)
        if any(at < width and not _blank(cells[at]) for at in typed):
            rows.append(number)
            kept.append(cells)
        elif any(at < width and cells[at] != "" for at in ours):
            orphaned_rows.append(number)
        elif any(cell != "" for cell in cells):
            other_rows.append(number)
    across = _across(kept)
    raw = {name: across(at) for name, at in places.items()}
    computed = {name: headings.columns[name] for name in places if sheet[name].computed}
    raw |= _calculated(grid, rows, computed, raw)
    return replace(
        _cleaned(sheet, grid, workbook, headings, raw, units),
        rows=rows,
        orphaned_rows=orphaned_rows,
        other_rows=other_rows,
        covered=tuple(
            one
            for one in (*grid.merged, *grid.drawing_areas)
            if one.top > headings.row and one.left <= headings.width
        ),
        areas=tuple(one for one in (*grid.merged, *grid.drawing_areas) if one.bottom > headings.row),
        beyond=_beyond(grid, headings, [headings.row, *rows]),
        formulas=_formulas_in(grid, headings, set(computed.values())),
        own={place: across(place - 1) for place in headings.own},
    )


def _calculated(
    grid: Grid, rows: Sequence[int], columns: Mapping[str, int], raw: Mapping[str, Sequence[Raw]]
) -> Iterator[tuple[str, Sequence[Raw]]]:
    """Tell the results of formulas apart under computed headings, where we write values only."""
    with_formulas: dict[int, set[int]] = {}
    for row, column in grid.formulas:
        with_formulas.setdefault(column, set()).add(row)
    for name, column in columns.items():
        there = with_formulas.get(column)
        if there:
            results = map_distinct(_result, raw[name])
            yield (
                name,
                [
                    result if row in there else cell
                    for row, cell, result in zip(rows, raw[name], results, strict=True)
                ],
            )


def _result(cell: Raw) -> Raw:
    return cell if isinstance(cell, CellError | NoStoredValue) else Calculated(cell)


def _formulas_in(grid: Grid, headings: Headings, columns: Set[int]) -> Mapping[tuple[int, int], str]:
    if not grid.formulas:
        return {}
    below = headings.row + 1
    return among(grid.formulas, (at for at in grid.formulas if at[1] in columns and at[0] >= below))


def _across(rows: Sequence[Sequence[Raw]]) -> Callable[[int], Sequence[Raw]]:
    """Turn rows into columns, found by their place from 0; blank where a row ends before a column."""
    columns: list[tuple[Raw, ...]] = list(zip_longest(*rows, fillvalue=""))
    blank = ("",) * len(rows)
    return lambda at: columns[at] if at < len(columns) else blank


def _beyond(grid: Grid, headings: Headings, rows: Sequence[int]) -> frozenset[int]:
    """Return columns beyond the headings where something stands, or lies over cells beside these rows."""
    width = headings.width
    wide = (cells for cells in grid.rows if len(cells) > width)
    typed = {at for cells in wide for at, cell in enumerate(cells[width:], width + 1) if cell != ""}
    beside = [one for one in grid.drawing_areas if one.top <= rows[-1] and one.bottom >= headings.row]
    beside += (one for one in grid.merged if bisect_left(rows, one.top) < bisect_right(rows, one.bottom))
    return frozenset(typed.union(*(range(max(one.left, width + 1), one.right + 1) for one in beside)))


def _settings(
    sheet: Sheet, grid: Grid, workbook: str, headings: Headings, name_column: int, value_column: int
) -> Table:
    def value(row: int) -> Raw:
        cells = grid.rows[row - 1]
        return cells[value_column - 1] if value_column <= len(cells) else ""

    raw = {name: [value(row)] for name, row in headings.columns.items()}
    table = _cleaned(sheet, grid, workbook, headings, raw, FIXED_UNITS)
    # The sheet says itself in which units its other settings are.
    table = _cleaned(sheet, grid, workbook, headings, raw, units_of(table.sheet, table.values))
    return replace(table, rows=[headings.row], value_column=value_column, name_column=name_column)


def _blank(raw: Raw) -> bool:
    return isinstance(raw, str) and not raw.strip()


def _cleaned(
    sheet: Sheet,
    grid: Grid,
    workbook: str,
    headings: Headings,
    raw: Mapping[str, Sequence[Raw]],
    units: Units,
) -> Table:
    """Make a table of cells by column, whose rows are yet to be numbered."""
    count = max(map(len, raw.values()), default=0)
    values: dict[str, list[Value | None]] = {}
    unreadable: dict[tuple[str, int], UnreadableCell] = {}
    for column in sheet.columns:
        name = column.name
        blank: list[Value | UnreadableCell | None] = [None] * count
        results = all_cleaned(column, raw[name], units.get(column.unit or "", ())) if name in raw else blank
        if UnreadableCell in set(map(type, results)):
            unreadable |= {(name, n): r for n, r in enumerate(results) if isinstance(r, UnreadableCell)}
            results = [None if isinstance(result, UnreadableCell) else result for result in results]
        values[name] = cast("list[Value | None]", results)
        if column.kind is Kind.TIME and "date" in raw:
            # A date may have a time of its own; what is typed under Time has precedence.
            values[name] = [a or b for a, b in zip(values[name], map(clock_of, raw["date"]), strict=True)]
    return Table(
        sheet=sheet,
        workbook=workbook,
        title=grid.title,
        headings=headings,
        rows=[],
        raw=raw,
        values=values,
        unreadable=unreadable,
        merged=grid.merged,
    )
