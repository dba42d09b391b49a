"""A formula's words made a tree: what is calculated from what."""

from collections.abc import Callable, Mapping, Sequence
from functools import lru_cache

from rosterkit.formulas.references import corners, split, title_of
from rosterkit.formulas.tokens import Kind, Token, tokens
from rosterkit.formulas.tree import Area, Call, Literal, Node, Operator, Sign
from rosterkit.formulas.values import BAD_REFERENCE, Content, FormulaError

DEEPEST = 64
"""Levels of a formula; spreadsheet programs have the same limit."""


class UnknownFormula(Exception):
    """A formula with something that is not calculated here: no fault of the formula."""


_BINDING = {
    **dict.fromkeys(("=", "<>", "<", ">", "<=", ">="), 1),
    "&": 2,
    **dict.fromkeys(("+", "-"), 3),
    **dict.fromkeys(("*", "/"), 4),
    "^": 5,
}
"""How much an operator between two values binds; a sign before a value binds more than any."""
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

    def _is_operator(self, sign: str) -> bool:
        token = self._words[self._at]
        return token.text == sign and token.kind is Kind.OPERATOR

    def _between(self, least: int) -> Node:
        """Read values and the operators between them that bind more than so much, from left to right."""
        node = self._signed()
        terms = 0
        while (binding := _BINDING.get(self._words[self._at].text, 0)) > least:
            sign = self._take().text
            terms += 1
            if sign == "^" and isinstance(node, Operator) and node.sign == "^" and terms > 1:
                raise UnknownFormula("programs differ in a power of a power without brackets")
            if terms > DEEPEST:
                raise UnknownFormula("more terms than are calculated")
            node = Operator(sign, node, self._between(binding))
        return node

    def _signed(self) -> Node:
        sign = self._words[self._at].text
        if sign not in {"-", "+"}:
            return self._percent()
        self._at += 1
        self._deeper()
        node = Sign(sign, self._signed())
        self._depth -= 1
        return node

    def _deeper(self) -> None:
        self._depth += 1
        if self._depth > DEEPEST:
            raise UnknownFormula("more levels than spreadsheet programs take")

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
        if token.kind in _LITERALS:
            return Literal(_LITERALS[token.kind](token.text))
        if token.kind is Kind.REFERENCE:
            return _cells(token.text)
        if token.kind is Kind.NAME:
            return self._named(token.text.upper())
        if token.text == "(":
            self._deeper()
            node = self._between(0)
            self._depth -= 1
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
        self._deeper()
        found: list[Node] = []
        while not self._is_operator(")"):
            if found:
                self._comma()
            found.append(self._between(0))
        self._depth -= 1
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


def _number(text: str) -> float:
    value = float(text)
    return int(value) if value.is_integer() and value < 2**53 else value


_LITERALS: Mapping[Kind, Callable[[str], Content]] = {
    Kind.NUMBER: _number,
    Kind.TEXT: lambda text: text[1:-1].replace('""', '"'),
    Kind.ERROR: FormulaError,
}


@lru_cache(maxsize=4096)
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
    return Area(title, ends[0], ends[-1])
