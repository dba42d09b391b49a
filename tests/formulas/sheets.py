"""The sheets that the cases calculate on, in memory and as a workbook for spreadsheet programs."""

from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from pathlib import Path

from openpyxl import Workbook

from rosterkit.formulas.calculation import Calculation, SheetCells
from rosterkit.formulas.formula import Formula, compiled
from rosterkit.formulas.values import Content

DATA, CASES = "My data", "Cases"
"""The sheet of values, whose title needs quotes, and the sheet on which the cases stand."""


@dataclass(frozen=True, slots=True)
class Is:
    """A cell of the sheet of values that holds a formula."""

    text: str


_EMPTY = Is('""')
COLUMNS: Mapping[str, Sequence[Content | Is]] = {
    # Single cells of every kind.
    "A": [3, "3", None, True, "abc", _EMPTY, " 7 ", -2.5, Is("1/0"), "Été", False, "12 Mar"],
    # Numbers that ascend below a heading, two of them equal, and nothing below them.
    "B": ["Head", 1, 3, 3, 7, 9, 9, _EMPTY, None],
    # Labels.
    "C": ["kred", "kRed", "kblue", None, "k12", "kété", _EMPTY, "k<1>", "kred 2"],
    # Numbers in no order among others.
    "D": [30, 10, "x", 20, None, -5, _EMPTY, 2.5, 10],
    # Texts in digits.
    "E": ["12", "007", "L12", "12x", "short 25", "1.5", "", " 5"],
    # Begins of segments: the first lies before everything, those that are not used at the end.
    "F": [-99999, -300, -200, 1, 100, 200, 200, 99999, 99999],
    # A whole column with an error in it.
    "G": [1, 2, Is("1/0"), 2],
    # Two columns of numbers.
    "H": [1, 2, 3],
    "I": [4, 5, 6],
}

LAYOUT: Mapping[str, Sequence[Content | Is]] = {"A": ["First", "Last"], "B": [3, 127]}
"""Another sheet, whose title needs no quotes."""


def calculation() -> Calculation:
    """Return the sheets in memory."""
    return Calculation(
        {DATA: _sheet(DATA, COLUMNS), "Layout": _sheet("Layout", LAYOUT), CASES: SheetCells()},
    )


def _sheet(title: str, columns: Mapping[str, Sequence[Content | Is]]) -> SheetCells:
    single: dict[tuple[int, int], Formula] = {}
    values: dict[int, list[Content]] = {}
    for column, cells in enumerate(columns.values(), 1):
        values[column] = [None if isinstance(cell, Is) or cell == "" else cell for cell in cells]
        for row, cell in enumerate(cells, 1):
            if isinstance(cell, Is):
                single[row, column] = compiled(cell.text, title, row)
    return SheetCells(values=values, single=single)


def result(text: str, row: int = 1) -> Content:
    """Calculate a formula that stands in a row of the sheet of cases."""
    return compiled(text, CASES, row).value(calculation(), row)


def written(path: Path, formulas: Sequence[str]) -> None:
    """Write the sheets with formulas one below the other, without results: a program has to calculate."""
    book = Workbook()
    sheet = book.active
    assert sheet is not None
    sheet.title = CASES
    for row, text in enumerate(formulas, 1):
        sheet.cell(row, 1, f"={text}")
    for title, columns in ((DATA, COLUMNS), ("Layout", LAYOUT)):
        values = book.create_sheet(title)
        for column, cells in enumerate(columns.values(), 1):
            for row, cell in enumerate(cells, 1):
                values.cell(row, column, f"={cell.text}" if isinstance(cell, Is) else cell)
    book.save(path)
