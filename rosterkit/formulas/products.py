"""Products of conditions on columns, such as (A1:A9=5)*ROW(A1:A9), worked out only where one holds.

Wherever one factor is FALSE the product is 0, as long as no other factor there is an error or a text.
"""

from collections.abc import Callable, Iterator, Sequence
from dataclasses import dataclass
from functools import reduce

from rosterkit.formulas.building import Builder, contents, span
from rosterkit.formulas.cells import Cells
from rosterkit.formulas.operators import COMPARISONS, OPERATIONS, times
from rosterkit.formulas.tree import Area, Call, Node, Operator
from rosterkit.formulas.values import Content, FormulaError


@dataclass(frozen=True, slots=True)
class Product:
    """The values of an array where they may be other than 0, and how many more there are, all of them 0."""

    values: Sequence[Content]
    zeros: int


@dataclass(frozen=True, slots=True)
class _Lane:
    """One factor, or one side of a comparison, for a formula in some row."""

    size: tuple[int, int] | None
    """Height and width; None for a single value."""
    at: Callable[[int], Content]
    """Its value at a place of the array, from 0."""
    places: Sequence[int] | None = None
    """The only places where a condition holds, if that is known."""


_Lanes = Callable[[Cells, int], _Lane | None]
"""Makes a lane; None if it may hold an error or, as a factor, a text."""


def product(node: Node, builder: Builder) -> Callable[[Cells, int], Product | None] | None:
    """Return how a product is worked out, None if no factor compares a column with a value for equality.

    What is returned gives None where cells hold something that has to be looked at one by one.
    """
    factors = list(_factors(node))
    if len(factors) < 2 or not any(_is_search(one) for one in factors):
        return None
    makers = [_factor(one, builder) for one in factors]

    def worked_out(cells: Cells, row: int) -> Product | None:
        lanes = [made for maker in makers if (made := maker(cells, row)) is not None]
        sizes = {lane.size for lane in lanes if lane.size is not None}
        known = [lane.places for lane in lanes if lane.places is not None]
        if len(lanes) < len(makers) or len(sizes) != 1 or not known:
            return None
        places = min(known, key=len)
        ((height, width),) = sizes
        found = [reduce(times, [lane.at(place) for lane in lanes]) for place in places]
        return Product(found, height * width - len(places))

    return worked_out


def _factors(node: Node) -> Iterator[Node]:
    if isinstance(node, Operator) and node.sign == "*":
        yield from _factors(node.left)
        yield from _factors(node.right)
    else:
        yield node


def _is_range(node: Node) -> bool:
    return isinstance(node, Area) and node.is_range


def _is_rows(node: Node) -> bool:
    return isinstance(node, Call) and node.name == "ROW" and len(node.arguments) == 1


def _is_array(node: Node) -> bool:
    if isinstance(node, Operator):
        return _is_array(node.left) or _is_array(node.right)
    return _is_range(node) or (_is_rows(node) and isinstance(node, Call) and _is_range(node.arguments[0]))


def _is_search(node: Node) -> bool:
    return (
        isinstance(node, Operator)
        and node.sign == "="
        and _is_range(node.left) is not _is_range(node.right)
        and _is_array(node.left) is not _is_array(node.right)
    )


def _factor(node: Node, builder: Builder) -> _Lanes:
    if isinstance(node, Operator) and node.sign in COMPARISONS and _is_array(node):
        return _comparison(node, builder)
    side = _side(node, builder)
    if _is_range(node):
        range_ = contents(node, builder)
        return lambda cells, row: side(cells, row) if range_(cells, row).only_numbers else None
    if _is_array(node):
        return side

    def number(cells: Cells, row: int) -> _Lane | None:
        lane = side(cells, row)
        return lane if lane is not None and isinstance(lane.at(0), int | float) else None

    return number


def _side(node: Node, builder: Builder) -> _Lanes:
    """Make a lane of cells, of the numbers of rows, or of a single value."""
    if _is_range(node):
        return _of_cells(node, builder)
    if _is_array(node):
        return _of_rows(node, builder)
    part = builder.scalar(node)

    def single(cells: Cells, row: int) -> _Lane | None:
        value = part(cells, row)
        return None if isinstance(value, FormulaError) else _Lane(None, lambda _: value)

    return single


def _of_cells(node: Node, builder: Builder) -> _Lanes:
    range_ = contents(node, builder)

    def lane(cells: Cells, row: int) -> _Lane | None:
        found = range_(cells, row)
        if found.error is not None:
            return None
        return _Lane((found.height, found.width), found.values.__getitem__)

    return lane


def _of_rows(node: Node, builder: Builder) -> _Lanes:
    if not (isinstance(node, Call) and _is_rows(node)):
        return lambda _cells, _row: None
    where = span(node.arguments[0], builder)

    def lane(_cells: Cells, row: int) -> _Lane:
        _, top, _, bottom, _ = where(row)
        return _Lane((bottom - top + 1, 1), range(top, bottom + 1).__getitem__)

    return lane


def _comparison(node: Operator, builder: Builder) -> _Lanes:
    work = OPERATIONS[node.sign]
    left, right = _side(node.left, builder), _side(node.right, builder)
    is_search = _is_search(node)
    range_ = contents(node.left if _is_range(node.left) else node.right, builder) if is_search else None

    def lane(cells: Cells, row: int) -> _Lane | None:
        one, other = left(cells, row), right(cells, row)
        if one is None or other is None or (one.size and other.size and one.size != other.size):
            return None
        places = None
        if range_ is not None:
            wanted = one.at(0) if one.size is None else other.at(0)
            places = range_(cells, row).places_of(wanted)
        return _Lane(one.size or other.size, lambda at: work(one.at(at), other.at(at)), places)

    return lane
