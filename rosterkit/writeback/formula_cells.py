"""The cells of computed columns with formulas that change: those that are not as they should be."""

from collections.abc import Iterator, Sequence
from dataclasses import dataclass

from rosterkit.formulas.tokens import canonical
from rosterkit.formulas.values import Content, FormulaError
from rosterkit.live.calculated import ListCells
from rosterkit.live.stored import State, Surroundings, pieces_of, state_of
from rosterkit.live.writing import filled
from rosterkit.roster.schema import Column, Kind
from rosterkit.roster.tables import Table
from rosterkit.writeback.computed_columns import may_be_ours
from rosterkit.xlsx.changes import CellChange, CellStyle
from rosterkit.xlsx.grid import Grid, Raw

ONLY_LIVE = ("answers", "cv29_read", "alert")
"""Columns that are added with formulas only, as they are for reading while one types."""
_MOST_SPELLINGS = 8
"""Spellings of a formula that are remembered; a column mostly has one."""


@dataclass(frozen=True, slots=True, kw_only=True)
class SheetFormulas:
    """What one sheet gets: formulas with their results, and values where no formula would give ours."""

    grid: Grid
    """As it stands."""
    cells: ListCells
    results: dict[str, Sequence[Content]]
    """By column name, in the order of the rows."""
    by_value: frozenset[int]
    """The rows in which CVs are values."""
    without_alert: frozenset[int]
    """The rows that get no Alert."""
    ours: bool
    """Formulas in computed columns are those of an earlier fill, whatever has become of them since."""
    around: Surroundings


def formula_changes(table: Table, one: SheetFormulas) -> Iterator[CellChange]:
    """Return the cells with formulas, or values in place of them, that are not as they should be.

    What stands there and cannot have been written by rosterkit is left.
    """
    for name, template in one.cells.templates.items():
        column, at = table.sheet[name], one.cells.place.columns[name]
        spelt = _Spelt(template)
        without = one.without_alert if name == "alert" else one.by_value
        for row, value in zip(one.cells.rows, one.results[name], strict=True):
            formula = None if row in without else filled(template, row)
            stored, standing = _standing(one.grid, row, at)
            if standing is None:
                alike = formula is None and _same(stored, value)
                alike |= not may_be_ours(column, stored)
            elif formula is None:
                alike = not _may_go(standing, filled(template, row), one)
            else:
                alike = (_same(stored, value) and spelt.is_it(standing, row)) or not _may_go(
                    standing, formula, one
                )
            if not alike:
                result = _value(value)
                blank = formula is None and result == ""
                look = look_of(column)
                yield CellChange(
                    row=row, column=at, value=None if blank else result, look=look, formula=formula
                )


def look_of(column: Column, *, by_value: bool = False) -> CellStyle:
    """Return how a computed cell looks: a formula has the number format of what it comes to."""
    if column.name == "answers":
        return CellStyle.COMPUTED_ADDRESS
    return CellStyle.COMPUTED_WHOLE if column.kind is Kind.WHOLE and not by_value else CellStyle.COMPUTED


def _standing(grid: Grid, row: int, column: int) -> tuple[Raw, str | None]:
    """Return what a cell shows, and the text of its formula if it has one."""
    cells = grid.rows[row - 1] if row <= len(grid.rows) else []
    return cells[column - 1] if column <= len(cells) else "", grid.formulas.get((row, column))


def _may_go(standing: str, wanted: str, one: SheetFormulas) -> bool:
    return one.ours or state_of(standing, wanted, one.around) is not State.FOREIGN


def _value(value: Content) -> str | int | float:
    if value is None or isinstance(value, bool | FormulaError):
        return ""
    return int(value) if isinstance(value, float) and value.is_integer() else value


def _same(stored: Raw, value: Content) -> bool:
    if value is None:
        return stored == ""
    return (
        isinstance(stored, str) is isinstance(value, str) and not isinstance(stored, bool) and stored == value
    )


class _Spelt:
    """A formula that is filled down, in all the spellings that programs have given it in a column."""

    def __init__(self, template: str) -> None:
        self.template = template
        self.alike: list[tuple[str, ...]] = []
        self.other: list[tuple[str, ...]] = []

    def is_it(self, standing: str, row: int) -> bool:
        """Tell whether a formula that stands in a row is this one; each spelling is looked at once."""
        wanted = filled(self.template, row)
        if standing == wanted:
            return True
        here = str(row)
        if any(here.join(pieces) == standing for pieces in self.alike):
            return True
        if any(here.join(pieces) == standing for pieces in self.other):
            return False
        found = canonical(standing) == canonical(wanted)
        known = self.alike if found else self.other
        pieces = pieces_of(standing, row) if len(known) < _MOST_SPELLINGS else None
        if pieces is not None:
            known.append(pieces)
        return found
