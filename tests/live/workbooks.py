"""Small workbooks with the formulas of Locomotives, calculated by the project's own evaluator."""

from collections.abc import Callable, Mapping, Sequence
from dataclasses import dataclass

from rosterkit.findings import Finding
from rosterkit.formulas.calculation import Calculation, SheetCells
from rosterkit.formulas.formula import compiled
from rosterkit.formulas.values import Content
from rosterkit.live.blocks import machinery_for
from rosterkit.live.engines import engine_formulas
from rosterkit.live.facts import facts_of
from rosterkit.live.machinery import Machinery
from rosterkit.live.places import Places, SheetPlace
from rosterkit.live.writing import filled
from rosterkit.roster.model import Roster
from rosterkit.roster.tables import Table
from rosterkit.writeback.computed_columns import computed_rows
from rosterkit.xlsx.grid import Grid, Workbook
from tests.live.row_sheets import Cells, Cvs
from tests.rosters import enrolled, findings

SPARE = 3
COLUMNS = ("answers", "cv1", "cv17", "cv18", "cv19", "cv29", "cv29_read", "alert")


@dataclass(frozen=True, kw_only=True)
class Live:
    """A workbook with its formulas."""

    roster: Roster
    places: Places
    machinery: Machinery
    formulas: Mapping[str, str]
    calculation: Calculation
    found: Sequence[Finding]

    def value(self, name: str, index: int) -> Content:
        """Return what a formula of Locomotives shows in the row of an engine, or of one behind the last."""
        place = self.places["Locomotives"]
        rows = self.roster.book.tables["Locomotives"].rows
        row = rows[index] if index < len(rows) else rows[-1] + 1 + index - len(rows)
        return self.calculation.value(place.title, row, place.columns[name])

    def row(self, index: int) -> dict[str, Content]:
        """Return all that the formulas show in the row of an engine."""
        return {name: self.value(name, index) for name in self.formulas}

    def wanted(self) -> Sequence[Mapping[str, object]]:
        """Return what the tool's own code gives, by engine; nothing is an empty text."""
        rows = computed_rows(self.roster, "Locomotives")
        return [{name: "" if row[name] is None else row[name] for name in row} for row in rows]

    grids: Mapping[str, Grid]


def live(source: Workbook, *, counted: bool = True) -> Live:
    """Put formulas on the right side of Locomotives, and the blocks on a sheet Live."""
    roster = enrolled(source)
    found = findings(roster)
    places = {title: _place(table) for title, table in roster.book.tables.items()}
    machinery = machinery_for(places, facts_of(roster, found))
    formulas = engine_formulas(places, machinery, counted=counted)
    return Live(
        roster=roster,
        places=places,
        machinery=machinery,
        formulas=formulas,
        calculation=_calculation(source, places["Locomotives"], machinery, formulas),
        found=found,
        grids=_with_headings(source, places["Locomotives"]),
    )


def _place(table: Table) -> SheetPlace:
    if table.sheet.transposed:
        last = max(table.headings.columns.values())
        columns = {"heading": 1, "value": table.value_column}
        return SheetPlace(title=table.title, columns=columns, heading_row=table.headings.row, last_row=last)
    columns = dict(table.headings.columns)
    last = max([table.headings.row, *table.rows])
    if table.sheet.title == "Locomotives":
        columns |= {name: table.headings.width + n for n, name in enumerate(COLUMNS, 1)}
        last += SPARE
    if table.sheet.title == "Consists":
        columns.setdefault("cv19", table.headings.width + 1)
    return SheetPlace(title=table.title, columns=columns, heading_row=table.headings.row, last_row=last)


def _with_headings(source: Workbook, place: SheetPlace) -> dict[str, Grid]:
    grids = dict(source.grids)
    rows = [list(row) for row in grids[place.title].rows]
    heading = rows[place.heading_row - 1]
    heading += [""] * (max(place.columns.values()) - len(heading))
    for name in COLUMNS:
        heading[place.columns[name] - 1] = name
    grids[place.title] = Grid(title=place.title, rows=rows)
    return grids


def _calculation(
    source: Workbook, place: SheetPlace, machinery: Machinery, formulas: Mapping[str, str]
) -> Calculation:
    first = place.heading_row + 1
    rows = range(first, place.last_row + 1)
    sheets = {
        title: SheetCells(
            values=columns_of(grid.rows),
            fills={
                place.columns[name]: (compiled(filled(template, first), title, first), rows)
                for name, template in formulas.items()
            }
            if title == place.title
            else {},
        )
        for title, grid in _with_headings(source, place).items()
    }
    values: dict[int, list[Content]] = {}
    single = {}
    for (row, column), cell in machinery.cells.items():
        if cell.formula is not None:
            single[row, column] = compiled(cell.formula, machinery.title, row)
        else:
            held = values.setdefault(column, [])
            held += [None] * (row - len(held))
            held[row - 1] = cell.value
    sheets[machinery.title] = SheetCells(values=values, single=single)
    return Calculation(sheets)


def columns_of(rows: Sequence[Sequence[object]]) -> dict[int, list[Content]]:
    """Turn rows of cells into columns."""
    width = max(map(len, rows), default=0)
    return {at + 1: [_content(row[at]) if at < len(row) else None for row in rows] for at in range(width)}


def _content(cell: object) -> Content:
    if cell == "" or cell is None:
        return None
    if isinstance(cell, bool | str | float):
        return cell
    if isinstance(cell, int):
        return float(cell)
    raise TypeError(f"no content: {cell!r}")


@dataclass(frozen=True)
class EngineSheets:
    """Locomotives and the sheets beside it as they are written for a spreadsheet program."""

    made: Live
    title: str = "Locomotives"

    def typed(self) -> Mapping[str, Cells]:
        """Return the contents that are no formulas, by sheet, row and column."""
        typed: dict[str, Cells] = {
            title: {
                (row, column): cell
                for row, cells in enumerate(grid.rows, 1)
                for column, cell in enumerate(cells, 1)
                if cell != ""
            }
            for title, grid in self.made.grids.items()
        }
        blocks = self.made.machinery.cells.items()
        return typed | {"Live": {at: cell.value for at, cell in blocks if cell.value is not None}}

    def formulas(self) -> Mapping[str, Mapping[tuple[int, int], str]]:
        """Return the formulas, without ``=``, by sheet, row and column."""
        place, blocks = self.made.places[self.title], self.made.machinery.cells.items()
        return {
            "Live": {at: cell.formula for at, cell in blocks if cell.formula is not None},
            self.title: {
                (row, place.columns[name]): filled(template, row)
                for name, template in self.made.formulas.items()
                for row in range(place.heading_row + 1, place.last_row + 1)
            },
        }

    def picked(self, value: Callable[[int, int], object]) -> list[Cvs]:
        """Pick what the formulas give, row by row, out of the values of a calculated sheet."""
        place = self.made.places[self.title]
        return [
            tuple(value(row, place.columns[name]) for name in self.made.formulas)
            for row in self.made.roster.book.tables[self.title].rows
        ]

    def evaluated(self) -> list[Cvs]:
        """Return what the evaluator makes of the same formulas."""
        return self.picked(lambda row, column: self.made.calculation.value(self.title, row, column))
