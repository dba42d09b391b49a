"""Functions that work out only what they need: choices, errors caught, and what kind of cell it is."""

from collections.abc import Callable, Mapping, Sequence

from rosterkit.formulas.building import Build, Builder, caught, contents, is_reference, row_of, takes
from rosterkit.formulas.cells import Cells, Scalar
from rosterkit.formulas.syntax import UnknownFormula
from rosterkit.formulas.tree import Area, Literal, Node
from rosterkit.formulas.values import UNSURE, VALUE, Content, Fault, FormulaError, truth, whole


def _if(builder: Builder, nodes: Sequence[Node]) -> Scalar:
    takes("IF", nodes, 2, 3)
    condition, then = builder.scalar(nodes[0]), builder.scalar(nodes[1])
    otherwise = builder.scalar(nodes[2]) if len(nodes) == 3 else _false

    def chosen(cells: Cells, row: int) -> Content:
        value = condition(cells, row)
        if value is True or (value is not False and truth(value)):
            return then(cells, row)
        return otherwise(cells, row)

    return chosen


def _false(_cells: Cells, _row: int) -> Content:
    return False


def _choose(builder: Builder, nodes: Sequence[Node]) -> Scalar:
    takes("CHOOSE", nodes, 2, 30)
    which, *choices = map(builder.scalar, nodes)

    def chosen(cells: Cells, row: int) -> Content:
        value = which(cells, row)
        if isinstance(value, str | bool):
            raise Fault(UNSURE)
        place = whole(value)
        return _not_blank(choices[place - 1](cells, row)) if 1 <= place <= len(choices) else VALUE

    return chosen


def _not_blank(value: Content) -> Content:
    """Return a value; unsure for a blank cell, which one program makes 0 or "" when it hands it on."""
    if value is None:
        raise Fault(UNSURE)
    return value


def _all_of(name: str, settles: bool) -> Build:
    """Make AND (which False settles) or OR (which True settles); an error anywhere is the result."""

    def build(builder: Builder, nodes: Sequence[Node]) -> Scalar:
        takes(name, nodes, 1, 30)
        parts = [_judged(builder, node) for node in nodes]

        def calculated(cells: Cells, row: int) -> Content:
            known = [one for part in parts for one in part(cells, row) if one is not None]
            if not known:
                return VALUE
            return settles if settles in known else not settles

        return calculated

    return build


def _judged(builder: Builder, node: Node) -> Callable[[Cells, int], Sequence[bool | None]]:
    if isinstance(node, Area) and node.is_range:
        range_ = contents(node, builder)
        return lambda cells, row: [_condition(value, True) for value in range_(cells, row).values]
    part, skips = builder.scalar(node), is_reference(node)
    return lambda cells, row: (_condition(part(cells, row), skips),)


def _condition(value: Content, skips: bool) -> bool | None:
    """Return a condition, None if it is a cell that counts for nothing."""
    if value is True or value is False:
        return value
    if skips and (value is None or isinstance(value, str)):
        return None
    if value is None:
        # A blank cell that IF hands on counts in one program, and in the other not.
        raise Fault(UNSURE)
    return truth(value)


def _iferror(builder: Builder, nodes: Sequence[Node]) -> Scalar:
    takes("IFERROR", nodes, 2, 2)
    part, instead = map(builder.scalar, nodes)

    def calculated(cells: Cells, row: int) -> Content:
        value = caught(part, cells, row)
        return _not_blank(instead(cells, row) if isinstance(value, FormulaError) else value)

    return calculated


def _iserror(builder: Builder, nodes: Sequence[Node]) -> Scalar:
    takes("ISERROR", nodes, 1, 1)
    part = builder.scalar(nodes[0])
    return lambda cells, row: isinstance(caught(part, cells, row), FormulaError)


def _isnumber(builder: Builder, nodes: Sequence[Node]) -> Scalar:
    takes("ISNUMBER", nodes, 1, 1)
    part = builder.scalar(nodes[0])

    def calculated(cells: Cells, row: int) -> Content:
        value = caught(part, cells, row)
        if value is True or value is False:
            raise Fault(UNSURE)
        return isinstance(value, int | float)

    return calculated


def _isblank(builder: Builder, nodes: Sequence[Node]) -> Scalar:
    takes("ISBLANK", nodes, 1, 1)
    if not is_reference(nodes[0]):
        raise UnknownFormula("ISBLANK of something else than one cell")
    part = builder.scalar(nodes[0])
    return lambda cells, row: caught(part, cells, row) is None


def _row(builder: Builder, nodes: Sequence[Node]) -> Scalar:
    takes("ROW", nodes, 0, 1)
    if not nodes:
        return lambda _cells, row: row
    node = nodes[0]
    if isinstance(node, Literal) and isinstance(node.value, FormulaError):
        return builder.scalar(node)
    if not isinstance(node, Area) or node.is_range:
        raise UnknownFormula("ROW of something else than one cell")
    found = row_of(node.first, builder)
    return lambda _cells, row: found(row)


CONDITIONS: Mapping[str, Build] = {
    "IF": _if,
    "CHOOSE": _choose,
    "AND": _all_of("AND", False),
    "OR": _all_of("OR", True),
    "IFERROR": _iferror,
    "ISERROR": _iserror,
    "ISNUMBER": _isnumber,
    "ISBLANK": _isblank,
    "ROW": _row,
}
"""How the calls of these functions are made."""
