"""Sheets of values and formulas, each cell worked out once, when it is first asked for."""

from collections.abc import Collection, Mapping, Sequence
from dataclasses import dataclass, field

from rosterkit.formulas.formula import Formula
from rosterkit.formulas.values import BAD_REFERENCE, UNSURE, Content

Place = tuple[int, int]
"""A row and a column, from 1."""

_DEEPEST = 600
"""Calls one inside the other before the cell that is met is put first: Python has a thousand of them."""
_PER_PART, _PER_CELL = 3, 10
"""Calls that a part of a formula takes at most, and to get from a cell to another through a range."""
_RUNNING = object()


@dataclass(frozen=True, slots=True, kw_only=True)
class SheetCells:
    """What stands on one sheet; a formula stands for whatever value is in its place."""

    values: Mapping[int, Sequence[Content]] = field(default_factory=dict)
    """By column, from row 1; cells that are not given are blank."""
    fills: Mapping[int, tuple[Formula, Collection[int]]] = field(default_factory=dict)
    """By column: a formula and the rows to which it is filled down; a set or a range is quick."""
    single: Mapping[Place, Formula] = field(default_factory=dict)
    """By row and column: formulas of one cell each, which go before those that are filled down."""


class _TooDeepError(Exception):
    """Cells hang together in so long a row that the one at its end has to be worked out first."""

    def __init__(self, sheet: str, place: Place) -> None:
        super().__init__(sheet, place)
        self.cell = (sheet, place)


class _Sheet:
    """One sheet with the results of its formulas as far as they were asked for."""

    def __init__(self, cells: SheetCells) -> None:
        self.values = cells.values
        self.fills = cells.fills
        self.single = cells.single
        self.columns = frozenset(cells.fills) | {column for _, column in cells.single}
        self.results: dict[Place, Content | object] = {}

    def formula(self, row: int, column: int) -> Formula | None:
        found = self.single.get((row, column)) if self.single else None
        if found is None and column in self.fills:
            formula, rows = self.fills[column]
            return formula if row in rows else None
        return found


class Calculation:
    """The cells of a workbook as a spreadsheet program shows them after it has calculated.

    A cell that hangs on itself is UNSURE.
    """

    def __init__(self, sheets: Mapping[str, SheetCells]) -> None:
        """Take sheets by their titles, which are the same in any case."""
        self._sheets: dict[str, _Sheet | None] = {}
        for title, cells in sheets.items():
            self._sheets[title] = self._sheets[title.lower()] = _Sheet(cells)
        self._depth = 0

    def value(self, sheet: str, row: int, column: int) -> Content:
        """Return what a cell shows; #REF! on a sheet that is not there, as after somebody deleted it."""
        found = self._sheet(sheet)
        if found is None:
            return BAD_REFERENCE
        known = found.results.get((row, column), self)
        if known is not self:
            return UNSURE if known is _RUNNING else known  # type: ignore[return-value]
        formula = found.formula(row, column)
        if formula is None:
            column_values = found.values.get(column, ())
            return column_values[row - 1] if row <= len(column_values) else None
        if self._depth:
            return self._worked_out(found, formula, sheet, (row, column))
        return self._from_the_innermost(sheet, (row, column))

    def block(self, sheet: str, top: int, left: int, bottom: int, right: int) -> Sequence[Sequence[Content]]:
        """Return the rows of cells of a range."""
        columns = [self._column(sheet, column, top, bottom) for column in range(left, right + 1)]
        return list(zip(*columns, strict=True))

    def _column(self, title: str, column: int, top: int, bottom: int) -> Sequence[Content]:
        sheet = self._sheet(title)
        if sheet is None or column in sheet.columns:
            return [self.value(title, row, column) for row in range(top, bottom + 1)]
        values = list(sheet.values.get(column, ())[top - 1 : bottom])
        return values + [None] * (bottom - top + 1 - len(values))

    def _sheet(self, title: str) -> _Sheet | None:
        try:
            return self._sheets[title]
        except KeyError:
            found = self._sheets[title] = self._sheets.get(title.lower())
            return found

    def _worked_out(self, sheet: _Sheet, formula: Formula, title: str, place: Place) -> Content:
        calls = _PER_PART * formula.depth + _PER_CELL
        if self._depth > 1 and self._depth + calls > _DEEPEST:
            raise _TooDeepError(title, place)
        sheet.results[place] = _RUNNING
        self._depth += calls
        try:
            result = formula.value(self, place[0])
        except _TooDeepError:
            del sheet.results[place]
            raise
        finally:
            self._depth -= calls
        sheet.results[place] = result
        return result

    def _from_the_innermost(self, title: str, place: Place) -> Content:
        """Work out a cell; where too many hang one on the other, those at the end first."""
        waiting = [(title, place)]
        result: Content = None
        while waiting:
            title, place = waiting[-1]
            sheet = self._sheet(title)
            formula = sheet.formula(*place) if sheet else None
            if sheet is None or formula is None:
                raise AssertionError("only cells with a formula wait")
            self._depth = 1
            try:
                result = self._worked_out(sheet, formula, title, place)
            except _TooDeepError as deep:
                if deep.cell in waiting:
                    sheet.results[place] = UNSURE
                else:
                    waiting.append(deep.cell)
                    continue
            finally:
                self._depth = 0
            waiting.pop()
        return result
