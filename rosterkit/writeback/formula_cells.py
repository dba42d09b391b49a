"""The cells of computed columns with formulas that change: those that are not as they should be."""

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass

from rosterkit.formulas.shared import SharedFormula, pieces_of
from rosterkit.formulas.tokens import canonical
from rosterkit.formulas.values import Content, FormulaError
from rosterkit.live.calculated import ListCells
from rosterkit.live.stored import State, Surroundings, state_of
from rosterkit.live.writing import filled
from rosterkit.roster.schema import Column, Kind
from rosterkit.roster.tables import Table
from rosterkit.writeback.computed_columns import may_be_ours
from rosterkit.xlsx.changes import CellChange, CellStyle
from rosterkit.xlsx.grid import Grid, Raw
from rosterkit.xlsx.read.formulas import as_found, column_group

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
    plain: bool = False
    """Values are wanted everywhere, and formulas of an earlier fill go."""


def formula_changes(table: Table, one: SheetFormulas) -> Iterator[CellChange]:
    """Return the cells with formulas, or values in place of them, that are not as they should be.

    What stands there and cannot have been written by rosterkit is left.
    """
    for name, template in one.cells.templates.items():
        standing = _Standing(one, template, one.cells.place.columns[name])
        changes = {change.row: change for change in _changes(table.sheet[name], one, standing)}
        yield from changes.values()
        yield from standing.bereft(changes)


def _changes(column: Column, one: SheetFormulas, standing: "_Standing") -> Iterator[CellChange]:
    without = one.without_alert if column.name == "alert" else one.by_value
    look = look_of(column)
    for row, value in zip(one.cells.rows, one.results[column.name], strict=True):
        by_formula = row not in without
        result = None if not by_formula and value == "" else _value(value)
        stored, judged = standing.stored(row), standing.judged(row)
        if judged is None:
            left = not may_be_ours(column, stored) or (not by_formula and _same(stored, result))
        else:
            exact, state = judged
            left = state is State.FOREIGN or (by_formula and exact and _same(stored, result))
        if not left:
            formula = filled(standing.template, row) if by_formula else None
            yield CellChange(row=row, column=standing.column, value=result, look=look, formula=formula)


def look_of(column: Column, *, by_value: bool = False) -> CellStyle:
    """Return how a computed cell looks: a formula has the number format of what it comes to."""
    if column.name == "answers":
        return CellStyle.COMPUTED_ADDRESS
    return CellStyle.COMPUTED_WHOLE if column.kind is Kind.WHOLE and not by_value else CellStyle.COMPUTED


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


class _Standing:
    """The formulas that stand in a column beside ours, each spelling looked at once."""

    def __init__(self, one: SheetFormulas, template: str, column: int) -> None:
        self.template = template
        self.column = column
        self._around = one.around
        self._rows = one.grid.rows
        self._formulas = one.grid.formulas
        self._found = as_found(one.grid.formulas)
        self._known: dict[tuple[str, ...], tuple[bool, State]] = {}
        self._of_groups: dict[SharedFormula, tuple[bool, State]] = {}

    def stored(self, row: int) -> Raw:
        """Return what a cell shows."""
        cells = self._rows[row - 1] if row <= len(self._rows) else []
        return cells[self.column - 1] if self.column <= len(cells) else ""

    def judged(self, row: int) -> tuple[bool, State] | None:
        """Tell whether the formula in a row is just ours, however spelt, and what it is; None for none."""
        found = self._found((row, self.column))
        if found is None:
            return None
        if isinstance(found, str):
            return self._judged_alone(row)
        verdict = self._of_groups.get(found)
        if verdict is None:
            verdict = self._judged_alone(row)
            if found.is_filled_down(self.column):
                self._of_groups[found] = verdict
        return verdict

    def bereft(self, changes: Mapping[int, CellChange]) -> Iterator[CellChange]:
        """Return further cells, as they stand, whose formula is that of a cell that gets another."""
        first = {}
        for row, change in changes.items():
            group = column_group(self._formulas, (row, self.column))
            if group is not None and group.row == row and group.text != change.formula:
                first[group] = row
        for row, column in self._formulas if first else ():
            if column == self.column and row not in changes:
                value = self.stored(row)
                group = column_group(self._formulas, (row, column))
                if group in first and isinstance(value, str | int | float):
                    yield CellChange(row=row, column=column, value=value, formula=group.at(row, column))

    def _judged_alone(self, row: int) -> tuple[bool, State]:
        text, here = self._formulas[row, self.column], str(row)
        for known, verdict in self._known.items():
            if here.join(known) == text:
                return verdict
        wanted = filled(self.template, row)
        if text == wanted:
            verdict = True, State.OURS
        else:
            verdict = canonical(text) == canonical(wanted), state_of(text, wanted, self._around)
        pieces = pieces_of(text, row) if len(self._known) < _MOST_SPELLINGS else None
        if pieces is not None:
            self._known[pieces] = verdict
        return verdict
