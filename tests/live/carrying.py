"""Workbooks that carry our formulas with their results, made from a few rows, and what becomes of cells."""

from collections.abc import Callable, Mapping
from dataclasses import replace
from itertools import zip_longest

from rosterkit.live.accessories import accessory_formulas
from rosterkit.live.blocks import machinery_for
from rosterkit.live.consists import consist_formulas
from rosterkit.live.engines import engine_formulas
from rosterkit.live.facts import Facts
from rosterkit.live.places import SheetPlace
from rosterkit.roster.schema import sheet
from rosterkit.writeback.computed_columns import computed_rows
from rosterkit.xlsx.grid import Calculated, CellError, Grid, NoStoredValue, Raw, Workbook
from tests.rosters import enrolled

Change = Callable[[str], str] | str | float | Calculated | CellError | NoStoredValue
"""What a formula becomes by a function; or what stands in its place: a value, ``""`` for a blank, or another
formula, with the equals sign, whose result is the same; or its result, what it is calculated to be."""


def carrying(
    source: Workbook, changes: Mapping[str, Change] | None = None, *, spare: int = 2, live: str = "Live"
) -> Workbook:
    """Put the computed columns and their formulas into a workbook, and then change some cells.

    The sheets begin in A1 with their headings. Changes are by cell of Locomotives, such as ``CV1 3`` for the
    one in row 3; those of another sheet begin with its title, such as ``Consists!CV19 2``.
    """
    widened = replace(source, grids={title: _widened(grid) for title, grid in source.grids.items()})
    places = {
        title: SheetPlace(
            title=title,
            columns={"heading": 1, "value": 2} if title == "Layout" else _columns(grid),
            heading_row=1,
            last_row=len(grid.rows) + spare,
        )
        for title, grid in widened.grids.items()
    }
    machinery = machinery_for(places, Facts(), title=live)
    templates = {"Locomotives": engine_formulas(places, machinery)}
    if "Consists" in places:
        templates["Consists"] = consist_formulas(places, machinery)
    if "Accessories" in places:
        templates["Accessories"] = accessory_formulas(places, machinery)
    made = enrolled(widened)
    grids = dict(widened.grids)
    for title, formulas in templates.items():
        place = places[title]
        grid = grids[title]
        results = computed_rows(made, title)
        texts = {
            (row, place.columns[name]): template.replace("{r}", str(row))
            for name, template in formulas.items()
            for row in range(2, place.last_row + 1)
        }
        rows = [list(row) for row in grid.rows]
        for index, values in enumerate(results):
            for name, value in values.items():
                rows[index + 1][place.columns[name] - 1] = "" if value is None else value
        grids[title] = replace(grid, rows=rows, formulas=texts)
    for where, change in (changes or {}).items():
        title, _, cell = where.rpartition("!")
        title = title or "Locomotives"
        heading, _, row = cell.rpartition(" ")
        at = next(one.name for one in sheet(title).columns if one.heading == heading)
        grids[title] = _changed(grids[title], (int(row), places[title].columns[at]), change)
    return replace(
        widened, grids=grids, titles=(*widened.titles, live), own_titles=(*widened.own_titles, live)
    )


def _widened(grid: Grid) -> Grid:
    if grid.title not in {"Locomotives", "Consists", "Accessories"}:
        return grid
    headings = [column.heading for column in sheet(grid.title).computed]
    new = [heading for heading in headings if heading not in grid.rows[0]]
    width = len(grid.rows[0]) + len(new)
    rows: list[list[Raw]] = [[*grid.rows[0], *new]]
    rows += [[cell for cell, _ in zip_longest(row, range(width), fillvalue="")] for row in grid.rows[1:]]
    return replace(grid, rows=rows)


def _columns(grid: Grid) -> dict[str, int]:
    columns = sheet(grid.title).columns
    names = {heading: column.name for column in columns for heading in (column.heading, *column.aliases)}
    return {names[str(text)]: at for at, text in enumerate(grid.rows[0], 1) if str(text) in names}


def _changed(grid: Grid, at: tuple[int, int], change: Change) -> Grid:
    row, column = at
    rows, formulas = [list(cells) for cells in grid.rows], dict(grid.formulas)
    if callable(change):
        formulas[at] = change(formulas[at])
    elif isinstance(change, Calculated | CellError | NoStoredValue):
        rows += ([""] * len(rows[0]) for _ in range(row - len(rows)))
        rows[row - 1][column - 1] = change.result if isinstance(change, Calculated) else change
    elif isinstance(change, str) and change.startswith("="):
        formulas[at] = change[1:]
    else:
        del formulas[at]
        if row <= len(rows):
            rows[row - 1][column - 1] = change
    return replace(grid, rows=rows, formulas=formulas)
