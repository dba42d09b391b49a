"""The formulas that fill puts into a workbook, with their results, and the sheet Live behind them."""

from collections.abc import Mapping, Sequence
from dataclasses import dataclass, replace

from rosterkit.findings import Finding
from rosterkit.formulas.values import Content
from rosterkit.live.alerts import COVERED
from rosterkit.live.blocks import machinery_for
from rosterkit.live.calculated import ListCells, Place, calculated
from rosterkit.live.contents import columns_of
from rosterkit.live.facts import MOST_COUNTED, Facts, facts_of
from rosterkit.live.inputs import INPUTS, Typed
from rosterkit.live.machinery import FIRST_COLUMN, LiveCell
from rosterkit.live.page import live_sheet, with_results
from rosterkit.live.places import Places
from rosterkit.live.plain import labels_are_plain, plain_rows, settings_of
from rosterkit.live.stored import Surroundings
from rosterkit.roster.model import Roster
from rosterkit.roster.tables import Table
from rosterkit.writeback.computed_columns import computed_rows
from rosterkit.writeback.formula_cells import SheetFormulas
from rosterkit.writeback.formula_places import formula_places, has_formulas, rows_of
from rosterkit.writeback.formula_templates import formula_templates
from rosterkit.xlsx.changes import OwnCell, OwnSheet
from rosterkit.xlsx.grid import Grid

_NO_LIVE = "This workbook was filled with values: nothing on it computes before 'rosterkit fill' runs again."


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
    typed: Typed | None = None,
    date1904: bool = False,
) -> LiveFormulas:
    """Return the formulas for a workbook.

    Args:
        roster: Its roster.
        grids: Its sheets as they stand, by their titles.
        findings: What was found in it.
        title: The title that the sheet Live has, or will have.
        typed: What people typed on the sheet Live that is replaced.
        date1904: Its days count from 1904.
    """
    counted = len(roster.engines) <= MOST_COUNTED
    places = formula_places(roster.book)
    machinery = machinery_for(places, facts_of(roster, findings), title=title)
    ours = has_formulas(roster.book)
    cells = {
        name: _cells(table, roster, grids[table.title], places, templates, date1904=date1904)
        for name, templates in formula_templates(places, machinery, counted=counted).items()
        if (table := roster.book.tables[name])
    }
    if cells["Locomotives"].templates and labels_are_plain(roster):
        cells["Locomotives"] = _with_plain_rows(cells["Locomotives"], roster, findings)
    own_sheet = live_sheet(places, machinery, typed=typed, counted=counted)
    results = calculated(cells, machinery, _for_people(own_sheet), settings_of(roster))
    stored = {at: _stored(result) for at, result in results.live.items()}
    around = _around(roster, places, title)
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
    return LiveFormulas(sheets=sheets, sheet=with_results(own_sheet, stored), counted=counted)


def _with_plain_rows(one: ListCells, roster: Roster, findings: Sequence[Finding]) -> ListCells:
    """Name the rows of Locomotives that need not be calculated, and those of which nothing is found."""
    plain = plain_rows(one.typed, one.place.columns, one.rows)
    found = {f.place.row for f in findings if f.place.sheet == one.place.title and f.rule in COVERED}
    taken = {member.address for member in roster.consist_members}
    with_consist = {
        row for row, answers in zip(one.rows, one.own["answers"], strict=True) if _number(answers) in taken
    }
    return replace(one, plain=plain, quiet=plain - found - with_consist)


def _number(answers: Content) -> int:
    return abs(answers) if isinstance(answers, int) else 0


def plain_values(roster: Roster, grids: Mapping[str, Grid]) -> Mapping[str, SheetFormulas]:
    """Return by our own title what takes the formulas of an earlier fill out: values in their place.

    A row that waits for an engine becomes blank, and so does Alert everywhere.
    """
    if not has_formulas(roster.book):
        return {}
    places = formula_places(roster.book)
    machinery = machinery_for(places, Facts())
    around = _around(roster, places, machinery.title)
    found = {}
    for title, templates in formula_templates(places, machinery, counted=True).items():
        table, grid = roster.book.tables[title], grids[roster.book.tables[title].title]
        there = {name: text for name, text in templates.items() if name in table.headings.columns}
        if there:
            cells = _cells(table, roster, grid, places, there, date1904=False)
            blank = [None] * len(cells.rows)
            found[title] = SheetFormulas(
                grid=grid,
                cells=cells,
                results={name: cells.own.get(name, blank) for name in there},
                by_value=frozenset(cells.rows),
                without_alert=frozenset(cells.rows),
                ours=True,
                around=around,
                plain=True,
            )
    return found


def _around(roster: Roster, places: Places, title: str) -> Surroundings:
    return Surroundings(
        live=title.lower(),
        own_titles=frozenset(own.lower() for own in (*roster.book.own_titles, title)),
        last_rows={place.title.lower(): place.last_row for place in places.values()},
    )


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
    typed = columns_of(grid, place.columns.values(), date1904=date1904)
    for name in place.columns.keys() - table.headings.columns.keys() if not table.sheet.transposed else ():
        # A column that is added stands under its heading before anything looks at it.
        typed[place.columns[name]][place.heading_row - 1] = table.sheet[name].heading
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


def no_live_sheet(title: str, typed: Typed) -> OwnSheet:
    """Return what takes the place of the sheet Live in a workbook that gets values only.

    What people typed there is kept, for the next sheet Live.
    """
    kept = [[OwnCell(INPUTS[name].label), cell] for name, cell in typed.items()]
    return OwnSheet(title=title, rows=[[OwnCell(_NO_LIVE)], *kept], widths=(20, 20))


def _for_people(own_sheet: OwnSheet) -> Mapping[Place, LiveCell]:
    """Return the cells of the part for people; of a formula that somebody typed there its stored result."""
    return {
        (row, column): LiveCell(value=cell.value, formula=None if cell.typed else cell.formula)
        for row, cells in enumerate(own_sheet.rows, 1)
        for column, cell in enumerate(cells[: FIRST_COLUMN - 1], 1)
        if cell.value is not None or cell.formula is not None
    }


def _stored(result: Content) -> str | int | float:
    return result if isinstance(result, str | int | float) and not isinstance(result, bool) else ""
