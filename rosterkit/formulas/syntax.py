"""A formula's words made a tree: what is calculated from what."""

from collections.abc import Sequence
from dataclasses import dataclass

from rosterkit.formulas.references import Corner, corners, split, title_of
from rosterkit.formulas.tokens import Kind, Token, tokens
from rosterkit.formulas.values import BAD_REFERENCE, Content, FormulaError

DEEPEST = 64
"""Levels of a formula; spreadsheet programs have the same limit."""


class UnknownFormula(Exception):
    """A formula with something that is not calculated here: no fault of the formula."""


@dataclass(frozen=True, slots=True)
class Literal:
    """A number, a text, TRUE, FALSE or an error."""

    value: Content


@dataclass(frozen=True, slots=True)
class Cells:
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


Node = Literal | Cells | Sign | Operator | Call

_LEVELS = (("=", "<>", "<", ">", "<=", ">="), ("&",), ("+", "-"), ("*", "/"), ("^",))
"""Operators between two values, from those that bind least; a sign before a value binds more than any."""
_END = Token(Kind.OTHER, "")


def parsed(text: str) -> Node:
    """Return the tree of a formula (without the equals sign); UnknownFormula if it is none that is known."""
    return _Parser([token for token in tokens(text) if token.kind is not Kind.BLANK]).whole()


class _Parser:
    def __init__(self, words: Sequence[Token]) -> None:
        self._words = [*words, _END]
        self._at = 0
        self._depth = 0

    def whole(self) -> Node:
        node = self._between(0)
        if self._next is not _END:
            raise UnknownFormula(f"'{self._next.text}' stands where no value can end")
        return node

    @property
    def _next(self) -> Token:
        return self._words[self._at]

    def _take(self) -> Token:
        self._at += 1
        return self._words[self._at - 1]

    def _is_operator(self, *signs: str) -> bool:
        return self._next.kind is Kind.OPERATOR and self._next.text in signs

    def _between(self, level: int) -> Node:
        """Read operators of a level and of those that bind more; equal ones from left to right."""
        if level == len(_LEVELS):
            return self._signed()
        node = self._between(level + 1)
        terms = 0
        while self._is_operator(*_LEVELS[level]):
            sign = self._take().text
            terms += 1
            if sign == "^" and terms > 1:
                raise UnknownFormula("programs differ in a power of a power without brackets")
            if terms > DEEPEST:
                raise UnknownFormula("more terms than are calculated")
            node = Operator(sign, node, self._between(level + 1))
        return node

    def _signed(self) -> Node:
        self._depth += 1
        if self._depth > DEEPEST:
            raise UnknownFormula("more levels than spreadsheet programs take")
        sign = self._take().text if self._is_operator("-", "+") else ""
        node = self._signed() if sign else self._percent()
        self._depth -= 1
        return Sign(sign, node) if sign else node

    def _percent(self) -> Node:
        node = self._value()
        signs = 0
        while self._is_operator("%"):
            self._take()
            signs += 1
            if signs > DEEPEST:
                raise UnknownFormula("more signs than are calculated")
            node = Sign("%", node)
        return node

    def _value(self) -> Node:
        token = self._take()
        if token.kind is Kind.NUMBER:
            value = float(token.text)
            return Literal(int(value) if value.is_integer() and abs(value) < 2**53 else value)
        if token.kind is Kind.TEXT:
            return Literal(token.text[1:-1].replace('""', '"'))
        if token.kind is Kind.ERROR:
            return Literal(FormulaError(token.text))
        if token.kind is Kind.REFERENCE:
            return _cells(token.text)
        if token.kind is Kind.NAME:
            return self._named(token.text.upper())
        if token == Token(Kind.OPERATOR, "("):
            node = self._between(0)
            self._close()
            return node
        raise UnknownFormula(f"'{token.text}' is no value" if token.text else "a value is missing at the end")

    def _named(self, name: str) -> Node:
        is_call = self._is_operator("(")
        if not is_call and name not in {"TRUE", "FALSE"}:
            raise UnknownFormula(f"the name '{name}' is not known")
        arguments = self._arguments() if is_call else ()
        if name in {"TRUE", "FALSE"} and not arguments:
            return Literal(name == "TRUE")
        return Call(name, arguments)

    def _arguments(self) -> tuple[Node, ...]:
        self._take()
        found: list[Node] = []
        while not self._is_operator(")"):
            if found:
                self._comma()
            found.append(self._between(0))
        self._close()
        return tuple(found)

    def _comma(self) -> None:
        if not self._is_operator(","):
            raise UnknownFormula(f"'{self._next.text}' stands where an argument ends")
        self._take()

    def _close(self) -> None:
        if not self._is_operator(")"):
            raise UnknownFormula("a bracket is not closed")
        self._take()


def _cells(reference: str) -> Node:
    prefix, cells = split(reference)
    title = title_of(prefix)
    if title is not None and ("[" in title or ":" in title):
        raise UnknownFormula(f"'{reference}' is outside the workbook, or on several sheets")
    ends = corners(cells.upper())
    if not ends:
        return Literal(BAD_REFERENCE)
    if any(end.row is None or end.column is None for end in ends):
        raise UnknownFormula(f"'{reference}' is whole rows or columns")
    return Cells(title, ends[0], ends[-1])
