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
    plain: bool = False
    """Values are wanted everywhere, and formulas of an earlier fill go."""


def formula_changes(table: Table, one: SheetFormulas) -> Iterator[CellChange]:
    """Return the cells with formulas, or values in place of them, that are not as they should be.

    What stands there and cannot have been written by rosterkit is left.
    """
    for name, template in one.cells.templates.items():
        column, at = table.sheet[name], one.cells.place.columns[name]
        standing = _Standing(one, template, at)
        without = one.without_alert if name == "alert" else one.by_value
        for row, value in zip(one.cells.rows, one.results[name], strict=True):
            formula = None if row in without else filled(template, row)
            result = None if formula is None and value == "" else _value(value)
            stored = standing.stored(row)
            if row not in standing.texts:
                left = not may_be_ours(column, stored) or (formula is None and _same(stored, result))
            else:
                alike = formula is not None and _same(stored, result) and standing.is_exact(row)
                left = alike or not standing.is_ours(row)
            if not left:
                yield CellChange(row=row, column=at, value=result, look=look_of(column), formula=formula)


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
        self._one = one
        self._template = template
        self._column = column
        self._known: dict[tuple[str, ...], tuple[bool, State]] = {}
        found = ((row, one.grid.formulas.get((row, column))) for row in one.cells.rows)
        self.texts = {row: text for row, text in found if text is not None}

    def stored(self, row: int) -> Raw:
        """Return what a cell shows."""
        rows = self._one.grid.rows
        cells = rows[row - 1] if row <= len(rows) else []
        return cells[self._column - 1] if self._column <= len(cells) else ""

    def is_exact(self, row: int) -> bool:
        """Tell whether the formula in a row is ours as it is to stand there, however it is spelt."""
        return self.texts[row] == filled(self._template, row) or self._judged(row)[0]

    def is_ours(self, row: int) -> bool:
        """Tell whether the formula in a row is ours, or what has become of it."""
        return self._judged(row)[1] is not State.FOREIGN

    def _judged(self, row: int) -> tuple[bool, State]:
        text, here = self.texts[row], str(row)
        for known, verdict in self._known.items():
            if here.join(known) == text:
                return verdict
        wanted = filled(self._template, row)
        verdict = canonical(text) == canonical(wanted), state_of(text, wanted, self._one.around)
        pieces = pieces_of(text, row) if len(self._known) < _MOST_SPELLINGS else None
        if pieces is not None:
            self._known[pieces] = verdict
        return verdict
