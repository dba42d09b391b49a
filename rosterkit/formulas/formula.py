"""A formula made ready to be calculated in every row that it is filled down to."""

from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from functools import lru_cache

from rosterkit.formulas.aggregates import AGGREGATES
from rosterkit.formulas.arrays import sumproduct
from rosterkit.formulas.building import Build, rows_down, takes
from rosterkit.formulas.cells import Cells, Scalar
from rosterkit.formulas.conditions import CONDITIONS
from rosterkit.formulas.functions import FUNCTIONS, Function
from rosterkit.formulas.lookups import LOOKUPS
from rosterkit.formulas.operators import OPERATIONS
from rosterkit.formulas.references import LAST_ROW
from rosterkit.formulas.shift import moved_rows
from rosterkit.formulas.signs import SIGNS
from rosterkit.formulas.syntax import UnknownFormula, parsed
from rosterkit.formulas.tree import Area, Call, Literal, Node, Operator, Sign, depth
from rosterkit.formulas.values import BAD_REFERENCE, UNSURE, Content, Fault, FormulaError

_MIDDLE = LAST_ROW // 2
"""The row in which formulas are compared: one is another filled down if they are the same there."""
_DEEPEST = 150
"""Parts one inside the other: several calls of Python each, which has no more than a thousand of them."""
_BUILDERS: Mapping[str, Build] = {**CONDITIONS, **AGGREGATES, **LOOKUPS, "SUMPRODUCT": sumproduct}


@dataclass(frozen=True, slots=True)
class Formula:
    """A formula that was read once, for any row."""

    _work: Scalar
    depth: int
    """How many parts are one inside the other."""

    def value(self, cells: Cells, row: int) -> Content:
        """Return what the formula comes to as if filled down to a row: a value or an error.

        Errors are values. UNSURE is the error where LibreOffice and Gnumeric differ, or may: it equals no
        value that is expected, and no function of a formula turns it into another. A formula that comes to a
        blank cell is such a case: it shows 0, which is equal to "" in one program and not in the other.
        """
        try:
            result = self._work(cells, row)
        except Fault as fault:
            return fault.error
        except (OverflowError, ValueError):
            # A cell of the file says infinite, or no number: there is no whole number of that.
            return UNSURE
        return UNSURE if result is None else result


def compiled(text: str, sheet: str, row: int) -> Formula:
    """Return a formula (without the equals sign) made ready; it stands on a sheet and, as written, in a row.

    References whose row has no $ are relative to that row. Formulas that are one filled down are read once.
    Raises UnknownFormula for anything outside the functions and references that are known here.
    """
    moved = moved_rows(text, _MIDDLE - row)
    return _made_ready(text, sheet, row) if moved is None else _made_ready(moved, sheet, _MIDDLE)


@lru_cache(maxsize=1000)
def _made_ready(text: str, sheet: str, row: int) -> Formula:
    tree = parsed(text)
    levels = depth(tree)
    if levels > _DEEPEST:
        raise UnknownFormula("more parts inside one another than are calculated")
    return Formula(_Compiler(sheet, row).scalar(tree), levels)


@dataclass(frozen=True, slots=True)
class _Compiler:
    """Makes the parts of one formula."""

    sheet: str
    row: int

    def scalar(self, node: Node) -> Scalar:
        if isinstance(node, Literal):
            return _literal(node.value)
        if isinstance(node, Area):
            return self._cell(node)
        if isinstance(node, Sign):
            return self._sign(node)
        if isinstance(node, Operator):
            return self._operator(node)
        return self._call(node)

    def _cell(self, node: Area) -> Scalar:
        if node.is_range:
            raise UnknownFormula("a range stands where one value is needed")
        title = self.sheet if node.title is None else node.title
        column, fixed = node.first.column or 0, node.first.row or 0
        if node.first.row_fixed:
            return lambda cells, _row: cells.value(title, fixed, column)
        down = rows_down(node.first, self)
        if not down:
            return lambda cells, row: cells.value(title, row, column)

        def relative(cells: Cells, row: int) -> Content:
            return cells.value(title, row + down, column) if 1 <= row + down <= LAST_ROW else BAD_REFERENCE

        return relative

    def _sign(self, node: Sign) -> Scalar:
        work, part = SIGNS[node.sign], self.scalar(node.value)
        return lambda cells, row: work(part(cells, row))

    def _operator(self, node: Operator) -> Scalar:
        work = OPERATIONS[node.sign]
        left, right = self.scalar(node.left), self.scalar(node.right)
        return lambda cells, row: work(left(cells, row), right(cells, row))

    def _call(self, node: Call) -> Scalar:
        build = _BUILDERS.get(node.name)
        if build is not None:
            return build(self, node.arguments)
        function = FUNCTIONS.get(node.name)
        if function is None:
            raise UnknownFormula(f"the function {node.name} is not known")
        takes(node.name, node.arguments, function.least, function.most)
        return _eager(function, [self.scalar(argument) for argument in node.arguments])


def _literal(value: Content) -> Scalar:
    if isinstance(value, FormulaError):
        return lambda _cells, _row: value
    return lambda _cells, _row: value


def _eager(function: Function, parts: Sequence[Scalar]) -> Scalar:
    work = function.work
    if len(parts) == 1:
        (only,) = parts
        return lambda cells, row: work(only(cells, row))
    if len(parts) == 2:
        first, second = parts
        return lambda cells, row: work(first(cells, row), second(cells, row))
    return lambda cells, row: work(*[part(cells, row) for part in parts])
