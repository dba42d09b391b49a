"""Functions that look something up in a range: COUNTIF, MATCH, INDEX."""

import re
from collections.abc import Mapping, Sequence

from rosterkit.formulas.building import Build, Builder, contents, span, takes
from rosterkit.formulas.cells import Cells, Scalar
from rosterkit.formulas.ranges import RangeContent
from rosterkit.formulas.syntax import UnknownFormula
from rosterkit.formulas.tree import Literal, Node
from rosterkit.formulas.values import (
    BAD_REFERENCE,
    NOT_AVAILABLE,
    UNSURE,
    Content,
    Fault,
    FormulaError,
    may_be_number,
    number,
    whole,
)

_PATTERN = re.compile(r"[*?~]")
"""Signs that stand for others in what is looked up."""
_BEGINNING = re.compile(r"[a-z]+\*\Z")
"""A word that texts may go on behind, which programs count alike; only the last sign stands for others."""


def _countif(builder: Builder, nodes: Sequence[Node]) -> Scalar:
    takes("COUNTIF", nodes, 2, 2)
    range_, criterion = contents(nodes[0], builder), builder.scalar(nodes[1])

    def counted(cells: Cells, row: int) -> Content:
        wanted = criterion(cells, row)
        found = range_(cells, row)
        if found.is_unsure or wanted is None or isinstance(wanted, bool):
            raise Fault(UNSURE)
        if isinstance(wanted, FormulaError):
            return wanted
        if isinstance(wanted, str):
            return _count_of_text(found, wanted)
        return _count_of_number(found, wanted)

    return counted


def _count_of_number(found: RangeContent, wanted: float) -> int:
    if (found.has_truth and wanted in {0, 1}) or not found.text_numbers.isdisjoint({wanted, None}):
        raise Fault(UNSURE)
    return found.number_counts[found.number(wanted)]


def _count_of_text(found: RangeContent, wanted: str) -> int:
    if not wanted:
        return found.blanks + found.text_counts[""]
    if _BEGINNING.match(wanted):
        return sum(count for one, count in found.text_counts.items() if one.startswith(wanted[:-1]))
    if _PATTERN.search(wanted) or wanted[0] in "<>=" or may_be_number(wanted):
        raise Fault(UNSURE)
    return found.text_counts[found.text(wanted)]


def _match(builder: Builder, nodes: Sequence[Node]) -> Scalar:
    takes("MATCH", nodes, 2, 3)
    kind = nodes[2] if len(nodes) == 3 else Literal(1)
    if kind not in (Literal(0), Literal(1)):
        raise UnknownFormula("MATCH in descending order, or in an order that is not fixed")
    wanted, range_ = builder.scalar(nodes[0]), contents(nodes[1], builder)
    place = _exact_place if kind == Literal(0) else _place_before

    def matched(cells: Cells, row: int) -> Content:
        value = wanted(cells, row)
        if isinstance(value, FormulaError):
            return value
        found = range_(cells, row)
        if (
            value is None
            or isinstance(value, bool)
            or found.is_unsure
            or 1 not in {found.height, found.width}
        ):
            raise Fault(UNSURE)
        return place(found, value) or NOT_AVAILABLE

    return matched


def _exact_place(found: RangeContent, wanted: str | float) -> int:
    """Return the first position of a value in a range, 0 if it is not there."""
    if isinstance(wanted, str):
        if not wanted or _PATTERN.search(wanted) or may_be_number(wanted):
            raise Fault(UNSURE)
        return found.first_texts.get(found.text(wanted), 0)
    if found.has_truth and wanted in {0, 1}:
        raise Fault(UNSURE)
    return found.first_numbers.get(found.number(wanted), 0)


def _place_before(found: RangeContent, wanted: str | float) -> int:
    """Return the position of the last number up to the one wanted in a range that ascends, 0 if none is."""
    if isinstance(wanted, str) or found.ascending is None:
        raise Fault(UNSURE)
    return found.ascending.position(found.number(wanted))


def _place(value: Content) -> int:
    """Return the number of a row or a column; Fault UNSURE for 0 or nearly so, which is all of them."""
    if -1 < number(value) < 1:
        raise Fault(UNSURE)
    return whole(value)


def _index(builder: Builder, nodes: Sequence[Node]) -> Scalar:
    takes("INDEX", nodes, 2, 3)
    where, row_part = span(nodes[0], builder), builder.scalar(nodes[1])
    column_part = builder.scalar(nodes[2]) if len(nodes) == 3 else None

    def found(cells: Cells, row: int) -> Content:
        sheet, top, left, bottom, right = where(row)
        down = _place(row_part(cells, row))
        across = 1 if column_part is None else _place(column_part(cells, row))
        if column_part is None and top == bottom:
            # One program takes the number for that of a column, the other for that of a row.
            raise Fault(UNSURE)
        if not (1 <= down <= bottom - top + 1 and 1 <= across <= right - left + 1):
            return BAD_REFERENCE
        return cells.value(sheet, top + down - 1, left + across - 1)

    return found


LOOKUPS: Mapping[str, Build] = {"COUNTIF": _countif, "MATCH": _match, "INDEX": _index}
"""How the calls of these functions are made."""
