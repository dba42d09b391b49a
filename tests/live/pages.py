"""The sheet Live of small workbooks, calculated by the project's own evaluator for what somebody types in."""

from collections.abc import Mapping
from dataclasses import dataclass

from rosterkit.formulas.calculation import Calculation, SheetCells
from rosterkit.formulas.formula import Formula, compiled
from rosterkit.formulas.values import Content
from rosterkit.live.inputs import INPUTS
from rosterkit.live.page import live_sheet
from rosterkit.live.writing import filled
from rosterkit.xlsx.changes import OwnSheet
from rosterkit.xlsx.grid import Workbook
from tests.live.workbooks import Live, columns_of, live


@dataclass(frozen=True, kw_only=True)
class Page:
    """A workbook with its sheet Live, its formulas read once."""

    made: Live
    sheet: OwnSheet
    others: Mapping[str, SheetCells]
    values: Mapping[tuple[int, int], Content]
    single: Mapping[tuple[int, int], Formula]

    def asked(self, **typed: object) -> "Answer":
        """Type into inputs by name."""
        values = dict(self.values)
        for name, content in typed.items():
            one = INPUTS[name]
            values[one.row, one.column] = content  # type: ignore[assignment]
        columns: dict[int, list[Content]] = {}
        for (row, column), value in values.items():
            held = columns.setdefault(column, [])
            held += [None] * (row - len(held))
            held[row - 1] = value
        cells = SheetCells(values=columns, single=self.single)
        return Answer(page=self, calculation=Calculation({**self.others, self.sheet.title: cells}))


@dataclass(frozen=True, kw_only=True)
class Answer:
    """What the sheet says to something typed."""

    page: Page
    calculation: Calculation

    def cell(self, row: int, column: int) -> Content:
        """Return what a cell of the sheet shows."""
        return self.calculation.value(self.page.sheet.title, row, column)

    def said(self, label: str) -> Content:
        """Return what stands behind a label."""
        for row, cells in enumerate(self.page.sheet.rows, 1):
            for column, cell in enumerate(cells[:7], 1):
                if str(cell.value or "").strip() == label:
                    return self.cell(row, column + 1)
        raise KeyError(label)

    def block(self, name: str, column: str) -> list[Content]:
        """Return what a column of a block holds."""
        machinery = self.page.made.machinery
        at = machinery.column(name, column)
        rows = next(one.rows for one in machinery.blocks if one.name == name)
        return [self.cell(row, at) for row in range(2, 2 + rows)]

    def free(self) -> list[tuple[Content, Content]]:
        """Return the free addresses, each with its reason."""
        top = INPUTS["near"].row + 2
        listed = [(self.cell(row, 1), self.cell(row, 2)) for row in range(top, top + 10)]
        return [one for one in listed if one[0] != ""]

    def fault(self, place: int) -> Content:
        """Return the fault of the CVs that is shown at a place from 1."""
        return self.cell(INPUTS["cv1"].row + 3 + place, 1)

    def under_the_list(self) -> Content:
        """Return what is said under the free addresses."""
        return self.cell(INPUTS["near"].row + 12, 1)


def page_of(source: Workbook, *, counted: bool = True) -> Page:
    """Make the sheet Live of a workbook."""
    made = live(source, counted=counted)
    sheet = live_sheet(made.places, made.machinery, counted=counted)
    place = made.places["Locomotives"]
    first = place.heading_row + 1
    rows = range(first, place.last_row + 1)
    others = {
        title: SheetCells(
            values=columns_of(grid.rows),
            fills={
                place.columns[name]: (compiled(filled(template, first), title, first), rows)
                for name, template in made.formulas.items()
            }
            if title == place.title
            else {},
        )
        for title, grid in made.grids.items()
    }
    placed = {
        (row, column): cell for row, cells in enumerate(sheet.rows, 1) for column, cell in enumerate(cells, 1)
    }
    return Page(
        made=made,
        sheet=sheet,
        others=others,
        values={at: cell.value for at, cell in placed.items() if cell.formula is None},
        single={
            at: compiled(cell.formula, sheet.title, at[0])
            for at, cell in placed.items()
            if cell.formula is not None
        },
    )
