"""SUMPRODUCT: sums over arrays that operators make of ranges, cell by cell."""

from collections.abc import Callable, Sequence
from dataclasses import dataclass
from math import fsum

from rosterkit.formulas.aggregates import largest, ranked, smallest
from rosterkit.formulas.building import Builder, contents, span, takes
from rosterkit.formulas.cells import Cells, Scalar
from rosterkit.formulas.operators import OPERATIONS, Operation, equal, times
from rosterkit.formulas.products import Product, product
from rosterkit.formulas.ranges import RangeContent
from rosterkit.formulas.signs import SIGNS
from rosterkit.formulas.syntax import UnknownFormula
from rosterkit.formulas.tree import Area, Call, Node, Operator, Sign
from rosterkit.formulas.values import UNSURE, Content, Fault, FormulaError, whole


@dataclass(frozen=True, slots=True)
class Array:
    """Values row by row; ``plain`` if they are those of cells, of which texts and blanks count as 0."""

    height: int
    width: int
    values: Sequence[Content]
    plain: bool = False


Arrays = Callable[[Cells, int], Array]


def sumproduct(builder: Builder, nodes: Sequence[Node]) -> Scalar:
    """Make the call of SUMPRODUCT, with one array or several of the same size."""
    takes("SUMPRODUCT", nodes, 1, 30)
    one_by_one = _sum_of_products(builder, nodes)
    searched = product(nodes[0], builder) if len(nodes) == 1 else None
    if searched is None:
        return one_by_one

    def calculated(cells: Cells, row: int) -> Content:
        found = searched(cells, row)
        return one_by_one(cells, row) if found is None else fsum(_factor(value) for value in found.values)

    return calculated


def _sum_of_products(builder: Builder, nodes: Sequence[Node]) -> Scalar:
    parts = [_array(node, builder) for node in nodes]

    def calculated(cells: Cells, row: int) -> Content:
        found = [part(cells, row) for part in parts]
        if len({(one.height, one.width) for one in found}) > 1:
            raise Fault(UNSURE)
        return fsum(map(_product, zip(*map(_factors, found), strict=True)))

    return calculated


def _factors(array: Array) -> list[float]:
    return [_factor(value, plain=array.plain) for value in array.values]


def _factor(value: Content, *, plain: bool = False) -> float:
    if isinstance(value, bool) or (not plain and isinstance(value, str | None)):
        raise Fault(UNSURE)
    if isinstance(value, FormulaError):
        raise Fault(value)
    return value if isinstance(value, int | float) else 0


def _product(factors: Sequence[float]) -> float:
    result = factors[0]
    for factor in factors[1:]:
        result *= factor
    return result


def _array(node: Node, builder: Builder) -> Arrays:
    """Return how an array is made; a single value is an array of one."""
    if isinstance(node, Area) and node.is_range:
        return _of_cells(node, builder)
    if isinstance(node, Operator):
        return _of_operator(node, builder)
    if isinstance(node, Sign):
        return _of_sign(node, builder)
    if isinstance(node, Call) and node.name == "ROW" and node.arguments:
        return _of_rows(node.arguments, builder)
    single = _ranked(node, builder) if _is_ranked(node) else builder.scalar(node)
    return lambda cells, row: Array(1, 1, (single(cells, row),))


def _of_cells(node: Area, builder: Builder) -> Arrays:
    range_ = contents(node, builder)

    def found(cells: Cells, row: int) -> Array:
        content = range_(cells, row)
        return Array(content.height, content.width, content.values, plain=True)

    return found


def _of_rows(nodes: Sequence[Node], builder: Builder) -> Arrays:
    takes("ROW", nodes, 1, 1)
    where = span(nodes[0], builder)

    def found(_cells: Cells, row: int) -> Array:
        _, top, _, bottom, _ = where(row)
        return Array(bottom - top + 1, 1, range(top, bottom + 1))

    return found


def _of_operator(node: Operator, builder: Builder) -> Arrays:
    work = OPERATIONS[node.sign]
    left, right = _array(node.left, builder), _array(node.right, builder)
    return lambda cells, row: _each(work, left(cells, row), right(cells, row))


def _each(work: Operation, left: Array, right: Array) -> Array:
    """Work on two arrays of the same size, or on an array and a single value."""
    if len(right.values) == 1:
        (other,) = right.values
        return Array(left.height, left.width, _with_one(work, left.values, other))
    if len(left.values) == 1:
        (one,) = left.values
        return Array(right.height, right.width, [_worked(work, one, other) for other in right.values])
    if (left.height, left.width) != (right.height, right.width):
        raise Fault(UNSURE)
    pairs = zip(left.values, right.values, strict=True)
    if work is times:
        # Products of conditions and row numbers are what long columns are searched with.
        return Array(left.height, left.width, [_product_of_two(one, other) for one, other in pairs])
    return Array(left.height, left.width, [_worked(work, one, other) for one, other in pairs])


def _with_one(work: Operation, values: Sequence[Content], other: Content) -> list[Content]:
    if work is equal and type(other) is int:
        # A whole number is equal to itself only: most of a long column is told apart so.
        return [one == other if type(one) is int else _worked(equal, one, other) for one in values]
    return [_worked(work, one, other) for one in values]


def _product_of_two(one: Content, other: Content) -> Content:
    if one is False and type(other) is int:
        return 0
    if one is True and type(other) is int:
        return other
    return _worked(times, one, other)


def _worked(work: Operation, one: Content, other: Content) -> Content:
    """Work on two values such that an error is a value of the array."""
    try:
        return work(one, other)
    except Fault as fault:
        return fault.error


def _of_sign(node: Sign, builder: Builder) -> Arrays:
    sign, part = SIGNS[node.sign], _array(node.value, builder)

    def work(value: Content, _: Content) -> Content:
        return sign(value)

    def found(cells: Cells, row: int) -> Array:
        array = part(cells, row)
        return Array(array.height, array.width, [_worked(work, value, None) for value in array.values])

    return found


def _is_ranked(node: Node) -> bool:
    return isinstance(node, Call) and node.name in {"SMALL", "LARGE"}


def _some(known: Product, rank: int) -> Sequence[Content]:
    """Return the values of a product, with no more zeros than a rank may reach."""
    return [*known.values, *([0] * min(known.zeros, rank))]


def _ranked(node: Node, builder: Builder) -> Scalar:
    """Make SMALL or LARGE of an array."""
    if not isinstance(node, Call) or len(node.arguments) != 2:
        raise UnknownFormula("SMALL or LARGE with another number of arguments than two")
    part, rank = _array(node.arguments[0], builder), builder.scalar(node.arguments[1])
    searched = product(node.arguments[0], builder)
    place = smallest if node.name == "SMALL" else largest

    def found(cells: Cells, row: int) -> Content:
        wanted = rank(cells, row)
        known = searched(cells, row) if searched and isinstance(wanted, int | float) else None
        content = RangeContent([part(cells, row).values if known is None else _some(known, whole(wanted))])
        if content.error is not None:
            raise Fault(content.error)
        if content.has_truth:
            raise Fault(UNSURE)
        return ranked(content.in_order, wanted, place)

    return found
