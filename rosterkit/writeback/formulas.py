"""The formulas that fill puts into a workbook, with their results, and the sheet Live behind them."""

from collections.abc import Mapping, Sequence
from dataclasses import dataclass

from rosterkit.findings import Finding
from rosterkit.formulas.values import Content
from rosterkit.live.accessories import accessory_formulas
from rosterkit.live.blocks import machinery_for
from rosterkit.live.calculated import ListCells, Results, calculated
from rosterkit.live.consists import consist_formulas
from rosterkit.live.contents import column_of
from rosterkit.live.engines import engine_formulas
from rosterkit.live.facts import MOST_COUNTED, facts_of
from rosterkit.live.machinery import FIRST_COLUMN, FIRST_ROW, LiveCell, Machinery
from rosterkit.live.places import Places
from rosterkit.live.stored import Surroundings
from rosterkit.roster.model import Roster
from rosterkit.roster.tables import Table
from rosterkit.writeback.computed_columns import computed_rows
from rosterkit.writeback.formula_cells import SheetFormulas
from rosterkit.writeback.formula_places import formula_places, has_formulas, rows_of
from rosterkit.xlsx.changes import CellStyle, OwnCell, OwnSheet
from rosterkit.xlsx.grid import Grid


@dataclass(frozen=True, slots=True, kw_only=True)
class LiveFormulas:
    """All formulas of a workbook."""

    sheets: Mapping[str, SheetFormulas]
    """By our own title; a sheet whose columns do not allow any formula is not among them."""
    sheet: OwnSheet
    """The sheet Live."""
    counted: bool
    """False where there are too many engines for Alert to count clashes among all of them."""


def live_formulas(
    roster: Roster,
    grids: Mapping[str, Grid],
    findings: Sequence[Finding],
    *,
    title: str,
    date1904: bool = False,
) -> LiveFormulas:
    """Return the formulas for a workbook.

    Args:
        roster: Its roster.
        grids: Its sheets as they stand, by their titles.
        findings: What was found in it.
        title: The title that the sheet Live has, or will have.
        date1904: Its days count from 1904.
    """
    counted = len(roster.engines) <= MOST_COUNTED
    places = formula_places(roster.book)
    machinery = machinery_for(places, facts_of(roster, findings), title=title)
    ours = has_formulas(roster.book)
    cells = {
        name: _cells(table, roster, grids[table.title], places, templates, date1904=date1904)
        for name, templates in _templates(places, machinery, counted=counted).items()
        if (table := roster.book.tables[name])
    }
    results = calculated(cells, machinery, {})
    around = Surroundings(
        live=title.lower(),
        own_titles=frozenset(own.lower() for own in (*roster.book.own_titles, title)),
        last_rows={place.title.lower(): place.last_row for place in places.values()},
    )
    sheets = {
        name: SheetFormulas(
            grid=grids[roster.book.tables[name].title],
            cells=one,
            results=dict(results.lists[name]),
            by_value=results.by_value[name],
            without_alert=results.without_alert,
            ours=ours,
            around=around,
        )
        for name, one in cells.items()
        if one.templates
    }
    return LiveFormulas(sheets=sheets, sheet=_live_sheet(machinery, results), counted=counted)


def _templates(places: Places, machinery: Machinery, *, counted: bool) -> Mapping[str, Mapping[str, str]]:
    """Return the formulas by our own title and column; empty for sheets that have none."""
    found: dict[str, Mapping[str, str]] = {title: {} for title in places}
    if "Locomotives" in places:
        found["Locomotives"] = engine_formulas(places, machinery, counted=counted)
    if "Consists" in places:
        found["Consists"] = consist_formulas(places, machinery)
    if "Accessories" in places:
        found["Accessories"] = accessory_formulas(places, machinery)
    return found


def _cells(
    table: Table,
    roster: Roster,
    grid: Grid,
    places: Places,
    templates: Mapping[str, str],
    *,
    date1904: bool,
) -> ListCells:
    place = places[table.sheet.title]
    typed = {at: column_of(grid, at, date1904=date1904) for at in place.columns.values()}
    if not templates:
        return ListCells(place=place, typed=typed)
    rows = rows_of(table, place.columns, roster.book)
    return ListCells(
        place=place, typed=typed, templates=templates, rows=rows, own=_own(table, roster, rows, templates)
    )


def _own(
    table: Table, roster: Roster, rows: Sequence[int], templates: Mapping[str, str]
) -> Mapping[str, Sequence[Content]]:
    """Return what rosterkit computes for each row; nothing for a row that waits for an engine."""
    by_row = dict(zip(table.rows, computed_rows(roster, table.sheet.title), strict=True))
    in_order = [by_row.get(row, {}) for row in rows]
    return {name: [one.get(name) for one in in_order] for name in templates if name != "alert"}


def _live_sheet(machinery: Machinery, results: Results) -> OwnSheet:
    rows: dict[int, dict[int, OwnCell]] = {FIRST_ROW - 1: {}}
    for column, heading in machinery.headings().items():
        rows[FIRST_ROW - 1][column] = OwnCell(heading, CellStyle.HEADING)
    for at, cell in machinery.cells.items():
        rows.setdefault(at[0], {})[at[1]] = _own_cell(cell, results.live.get(at))
    last = machinery.last_column
    return OwnSheet(
        title=machinery.title,
        rows=[
            [rows.get(row, {}).get(column, OwnCell()) for column in range(1, last + 1)]
            for row in range(1, max(rows) + 1)
        ],
        hidden_columns=tuple(range(FIRST_COLUMN, last + 1)),
    )


def _own_cell(cell: LiveCell, result: Content) -> OwnCell:
    if cell.formula is None:
        return OwnCell(cell.value)
    stored = result if isinstance(result, str | int | float) and not isinstance(result, bool) else ""
    return OwnCell(stored, formula=cell.formula)
