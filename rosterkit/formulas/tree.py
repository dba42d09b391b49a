"""The parts of a formula as a tree: what is calculated from what."""

from collections.abc import Sequence
from dataclasses import dataclass

from rosterkit.formulas.references import Corner
from rosterkit.formulas.values import Content


@dataclass(frozen=True, slots=True)
class Literal:
    """A number, a text, TRUE, FALSE or an error."""

    value: Content


@dataclass(frozen=True, slots=True)
class Area:
    """One cell, or a range of cells if ``last`` is another corner than the first."""

    title: str | None
    first: Corner
    last: Corner

    @property
    def is_range(self) -> bool:
        """Whether it is written as a range."""
        return self.first is not self.last


@dataclass(frozen=True, slots=True)
class Sign:
    """A value with - or + before it or % after it."""

    sign: str
    value: "Node"


@dataclass(frozen=True, slots=True)
class Operator:
    """Two values with an operator between them."""

    sign: str
    left: "Node"
    right: "Node"


@dataclass(frozen=True, slots=True)
class Call:
    """A function, its name in capitals, with its arguments."""

    name: str
    arguments: tuple["Node", ...]


Node = Literal | Area | Sign | Operator | Call


def depth(node: Node) -> int:
    """Return how many parts of a formula are at most one inside the other."""
    deepest, waiting = 0, [(node, 1)]
    while waiting:
        part, level = waiting.pop()
        deepest = max(deepest, level)
        waiting += [(inner, level + 1) for inner in _inside(part)]
    return deepest


def _inside(node: Node) -> Sequence[Node]:
    if isinstance(node, Operator):
        return (node.left, node.right)
    if isinstance(node, Call):
        return node.arguments
    return (node.value,) if isinstance(node, Sign) else ()
