"""What the functions that see more than values are made with: parts of formulas, cells and ranges."""

from collections.abc import Callable, Sequence
from typing import Protocol

from rosterkit.formulas.cells import Cells, Scalar, Span, content
from rosterkit.formulas.ranges import RangeContent
from rosterkit.formulas.references import LAST_ROW, Corner
from rosterkit.formulas.syntax import UnknownFormula
from rosterkit.formulas.tree import Area, Call, Literal, Node
from rosterkit.formulas.values import BAD_REFERENCE, UNSURE, Content, Fault, FormulaError

Contents = Callable[[Cells, int], RangeContent]
"""What a range holds, as it lies for a formula in some row."""


class Builder(Protocol):
    """Makes the parts of one formula."""

    @property
    def sheet(self) -> str:
        """The sheet on which the formula stands."""

    @property
    def row(self) -> int:
        """The row to which its relative references belong."""

    def scalar(self, node: Node) -> Scalar:
        """Return a part that comes to one value; UnknownFormula for a range, or what is not known."""


Build = Callable[[Builder, Sequence[Node]], Scalar]
"""Makes the call of a function from its arguments."""


def rows_down(corner: Corner, builder: Builder) -> int:
    """Return how far below the formula a relative row lies."""
    return (corner.row or 0) - builder.row


def row_of(corner: Corner, builder: Builder) -> Callable[[int], int]:
    """Return which row a corner means for a formula in some row; it raises Fault for one beyond the sheet."""
    fixed = corner.row or 0
    if corner.row_fixed:
        return lambda _row: fixed
    down = rows_down(corner, builder)

    def relative(row: int) -> int:
        if 1 <= row + down <= LAST_ROW:
            return row + down
        raise Fault(BAD_REFERENCE)

    return relative


def span(node: Node, builder: Builder) -> Callable[[int], Span]:
    """Return which cells a range means for a formula in some row; UnknownFormula if it is no reference."""
    if isinstance(node, Literal) and isinstance(node.value, FormulaError):
        return _lost(node.value)
    if not isinstance(node, Area):
        raise UnknownFormula("a range of cells is expected")
    title = builder.sheet if node.title is None else node.title
    left, right = sorted((node.first.column or 0, node.last.column or 0))
    one, other = row_of(node.first, builder), row_of(node.last, builder)
    if node.first.row_fixed and node.last.row_fixed:
        fixed = Span(title, min(one(0), other(0)), left, max(one(0), other(0)), right)
        return lambda _row: fixed

    def found(row: int) -> Span:
        first, last = one(row), other(row)
        return Span(title, min(first, last), left, max(first, last), right)

    return found


def _lost(error: FormulaError) -> Callable[[int], Span]:
    def found(_row: int) -> Span:
        raise Fault(error)

    return found


def contents(node: Node, builder: Builder) -> Contents:
    """Return what a range holds for a formula in some row; UnknownFormula if it is no reference."""
    where = span(node, builder)
    return lambda cells, row: content(cells, where(row))


def is_reference(node: Node) -> bool:
    """Tell whether a part of a formula is a cell or a range, of which functions skip blanks and texts."""
    return isinstance(node, Area) or (isinstance(node, Call) and node.name == "INDEX")


def caught(part: Scalar, cells: Cells, row: int) -> Content:
    """Work out a part such that errors are values, all but UNSURE, which is raised."""
    try:
        value = part(cells, row)
    except Fault as fault:
        value = fault.error
    if value == UNSURE:
        raise Fault(UNSURE)
    return value


def takes(name: str, nodes: Sequence[Node], least: int, most: int) -> None:
    """Raise UnknownFormula unless a function has a fitting number of arguments."""
    if not least <= len(nodes) <= most:
        raise UnknownFormula(f"{name} with {len(nodes)} arguments")
