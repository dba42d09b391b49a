"""Functions that come from many values to one: sums, counts, the smallest and the largest."""

import math
from collections.abc import Callable, Iterator, Mapping, Sequence

from rosterkit.formulas.building import Build, Builder, Contents, caught, contents, is_reference, takes
from rosterkit.formulas.cells import Cells, Scalar
from rosterkit.formulas.ranges import RangeContent
from rosterkit.formulas.tree import Area, Node
from rosterkit.formulas.values import BAD_NUMBER, UNSURE, Content, Fault, number

Parts = Sequence[Contents]


def _found(part: Scalar) -> Contents:
    return lambda cells, row: RangeContent([[part(cells, row)]])


def _parts(builder: Builder, nodes: Sequence[Node]) -> Parts:
    """Return what each argument holds; a value that is no cell is like a range of its own, if a number."""
    return [_part(builder, node) for node in nodes]


def _part(builder: Builder, node: Node) -> Contents:
    if isinstance(node, Area):
        return contents(node, builder)
    part = builder.scalar(node)
    return _found(part) if is_reference(node) else _single(part)


def _single(part: Scalar) -> Contents:
    def found(cells: Cells, row: int) -> RangeContent:
        value = caught(part, cells, row)
        if isinstance(value, str):
            # Texts that are no cells are taken for numbers, for errors, or for nothing.
            raise Fault(UNSURE)
        return RangeContent([[value]])

    return found


def _numbers(parts: Parts, cells: Cells, row: int) -> Iterator[RangeContent]:
    """Return the ranges, of whose numbers all programs make the same; Fault with the first error in them."""
    for part in parts:
        found = part(cells, row)
        if found.error is not None:
            raise Fault(found.error)
        if found.has_truth:
            raise Fault(UNSURE)
        yield found


def _of_numbers(name: str, work: Callable[[list[RangeContent]], Content]) -> Build:
    def build(builder: Builder, nodes: Sequence[Node]) -> Scalar:
        takes(name, nodes, 1, 30)
        parts = _parts(builder, nodes)
        return lambda cells, row: work(list(_numbers(parts, cells, row)))

    return build


def _sum(found: list[RangeContent]) -> Content:
    return math.fsum(value for one in found for value in one.numbers)


def _min(found: list[RangeContent]) -> Content:
    return min((one.in_order[0] for one in found if one.numbers), default=0)


def _max(found: list[RangeContent]) -> Content:
    return max((one.in_order[-1] for one in found if one.numbers), default=0)


def _count(builder: Builder, nodes: Sequence[Node]) -> Scalar:
    takes("COUNT", nodes, 1, 30)
    parts = _parts(builder, nodes)

    def counted(cells: Cells, row: int) -> Content:
        found = [part(cells, row) for part in parts]
        if any(one.has_truth or one.is_unsure for one in found):
            raise Fault(UNSURE)
        return sum(len(one.numbers) for one in found)

    return counted


def _counta(builder: Builder, nodes: Sequence[Node]) -> Scalar:
    takes("COUNTA", nodes, 1, 30)
    parts = [
        contents(node, builder) if isinstance(node, Area) else _found(builder.scalar(node)) for node in nodes
    ]

    def counted(cells: Cells, row: int) -> Content:
        found = [part(cells, row) for part in parts]
        return sum(len(one.values) - one.blanks for one in found)

    return counted


def _ranked(name: str, place: Callable[[list[float], int], float]) -> Build:
    def build(builder: Builder, nodes: Sequence[Node]) -> Scalar:
        takes(name, nodes, 2, 2)
        part, rank = _parts(builder, nodes[:1]), builder.scalar(nodes[1])

        def found(cells: Cells, row: int) -> Content:
            (range_,) = _numbers(part, cells, row)
            return ranked(range_.in_order, rank(cells, row), place)

        return found

    return build


def ranked(in_order: list[float], rank: Content, place: Callable[[list[float], int], float]) -> Content:
    """Return the number of a rank; an error if there are fewer, UNSURE for a text or a fraction."""
    wanted = number(rank)
    if wanted != int(wanted) or isinstance(rank, str):
        raise Fault(UNSURE)
    return place(in_order, int(wanted)) if 1 <= wanted <= len(in_order) else BAD_NUMBER


def smallest(in_order: list[float], rank: int) -> float:
    """Return the number of a rank from the smallest."""
    return in_order[rank - 1]


def largest(in_order: list[float], rank: int) -> float:
    """Return the number of a rank from the largest."""
    return in_order[-rank]


AGGREGATES: Mapping[str, Build] = {
    "SUM": _of_numbers("SUM", _sum),
    "MIN": _of_numbers("MIN", _min),
    "MAX": _of_numbers("MAX", _max),
    "COUNT": _count,
    "COUNTA": _counta,
    "SMALL": _ranked("SMALL", smallest),
    "LARGE": _ranked("LARGE", largest),
}
"""How the calls of these functions are made."""
