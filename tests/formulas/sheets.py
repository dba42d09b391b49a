"""Small sheets to calculate formulas on."""

from collections.abc import Mapping, Sequence

from rosterkit.formulas.calculation import Calculation, SheetCells
from rosterkit.formulas.formula import compiled
from rosterkit.formulas.values import Content

SHEET = "Data"


def calculation(columns: Mapping[int, Sequence[Content]]) -> Calculation:
    """Return the cells of one sheet of values."""
    return Calculation({SHEET: SheetCells(values=columns)})


def result(text: str, columns: Mapping[int, Sequence[Content]] | None = None, row: int = 1) -> Content:
    """Calculate a formula that stands in a row of a sheet of values, errors as their codes."""
    return compiled(text, SHEET, row).value(calculation(columns or {}), row)
