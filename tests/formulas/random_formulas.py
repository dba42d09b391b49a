"""Formulas at random over the sheet of values, of every function, some levels deep."""

from collections.abc import Callable, Mapping
from random import Random

from tests.formulas.sheets import COLUMNS

_LONGEST = 700
_COMPARISONS = ("=", "<>", "<", ">", "<=", ">=")
_NUMBERS = ("0", "1", "2", "3", "5", "7", "10", "200", "256", "1.5")
_TEXTS = ('""', '"a"', '"B"', '"abc"', '"3"', '"kred"', '" "', '"k1"', '";"')
_Part = Callable[[], str]


def random_formulas(seed: int, count: int) -> list[str]:
    """Return so many formulas, the same ones for the same seed."""
    writer = _Writer(Random(seed))  # noqa: S311 - nothing is kept secret by it
    found: list[str] = []
    while len(found) < count:
        text = writer.formula()
        if len(text) < _LONGEST:
            found.append(text)
    return found


class _Writer:
    def __init__(self, random: Random) -> None:
        self._random = random

    def formula(self) -> str:
        depth = self._random.randint(1, 3)
        return self._random.choice((self._number, self._text, self._condition))(depth)

    def _one_of(self, parts: Mapping[str, _Part]) -> str:
        """Write one of some parts; their names say what they are."""
        return parts[self._random.choice(list(parts))]()

    def _cell(self) -> str:
        column, row = self._random.choice(list(COLUMNS)), self._random.randint(1, 10)
        across, down = self._random.choice(("", "$")), self._random.choice(("", "$"))
        return f"'My data'!{across}{column}{down}{row}"

    def _range(self, columns: str = "ABCDEFGHI") -> str:
        column, first, last = self._random.choice(columns), *sorted(self._random.sample(range(1, 11), 2))
        return f"'My data'!${column}${first}:${column}${last}"

    def _literal(self) -> str:
        return self._random.choice((*_NUMBERS, *_TEXTS, "TRUE", "FALSE", "#N/A"))

    def _compare(self) -> str:
        return self._random.choice(_COMPARISONS)

    def _any(self, depth: int) -> str:
        return self._random.choice((self._number, self._text))(depth)

    def _number(self, depth: int) -> str:
        if depth <= 0:
            return self._random.choice((self._cell, self._cell, lambda: self._random.choice(_NUMBERS)))()

        def number() -> str:
            return self._number(depth - 1)

        def text() -> str:
            return self._text(depth - 1)

        return self._one_of(
            {
                "operator": lambda: f"({number()}{self._random.choice('+-*/')}{number()})",
                "power": lambda: f"({number()})^{self._random.randint(0, 3)}",
                "minus": lambda: f"-{number()}",
                "per cent": lambda: f"{number()}%",
                "INT": lambda: f"INT({number()})",
                "MOD": lambda: f"MOD({number()},{number()})",
                "ABS": lambda: f"ABS({number()})",
                "LEN": lambda: f"LEN({text()})",
                "FIND": lambda: f"FIND({text()},{text()})",
                "VALUE": lambda: f"VALUE({text()})",
                "N": lambda: f"N({self._cell()})",
                "IF": lambda: f"IF({self._condition(depth - 1)},{number()},{number()})",
                "CHOOSE": lambda: f"CHOOSE({number()},{number()},{number()},{number()})",
                "IFERROR": lambda: f"IFERROR({number()},{number()})",
                "ROW": lambda: self._random.choice(("ROW()", f"ROW({self._cell()})")),
                "of ranges": lambda: self._of_ranges(depth),
            }
        )

    def _of_ranges(self, depth: int) -> str:
        def number() -> str:
            return self._number(depth - 1)

        rank = self._random.randint(1, 4)
        return self._one_of(
            {
                "COUNT": lambda: f"COUNT({self._range()},{self._cell()})",
                "COUNTA": lambda: f"COUNTA({self._range()})",
                "SUM": lambda: f"SUM({self._range()},{number()})",
                "MIN": lambda: f"MIN({self._range()},{number()})",
                "MAX": lambda: f"MAX({number()},{self._cell()})",
                "SMALL": lambda: f"SMALL({self._range()},{rank})",
                "LARGE": lambda: f"LARGE({self._range()},{number()})",
                "COUNTIF": lambda: f"COUNTIF({self._range()},{self._any(depth - 1)})",
                "MATCH": lambda: f"MATCH({self._any(depth - 1)},{self._range()},0)",
                "MATCH in order": lambda: f"MATCH({number()},{self._range('BFHI')},1)",
                "INDEX": lambda: f"INDEX({self._range()},{number()})",
                "SUMPRODUCT": lambda: f"SUMPRODUCT({self._array()})",
                "two ranges": lambda: "SUMPRODUCT('My data'!H1:H3,'My data'!D1:D3)",
                "the largest": lambda: f"SUMPRODUCT(LARGE({self._array()},{rank}))",
            }
        )

    def _array(self) -> str:
        first, last = sorted(self._random.sample(range(1, 11), 2))

        def column() -> str:
            letter = self._random.choice("BCDEFHI")
            return f"'My data'!${letter}${first}:${letter}${last}"

        def which() -> str:
            return f"({column()}{self._compare()}{self._any(1)})"

        return self._one_of(
            {
                "and": lambda: f"{which()}*{which()}",
                "times 1": lambda: f"{which()}*1",
                "signs": lambda: f"--{which()}",
                "rows": lambda: f"{which()}*ROW({column()})",
                "numbers": lambda: f"{column()}*1",
                "all": lambda: f"{which()}*{which()}*ROW({column()})",
                "texts": lambda: f'({column()}&""={self._any(1)})*1',
            }
        )

    def _text(self, depth: int) -> str:
        if depth <= 0:
            return self._random.choice((self._cell, self._literal))()

        def number() -> str:
            return self._number(depth - 1)

        def text() -> str:
            return self._text(depth - 1)

        return self._one_of(
            {
                "&": lambda: f"({text()}&{text()})",
                "LEFT": lambda: f"LEFT({text()},{number()})",
                "RIGHT": lambda: f"RIGHT({text()},{number()})",
                "MID": lambda: f"MID({text()},{number()},{number()})",
                "LOWER": lambda: f"LOWER({text()})",
                "TRIM": lambda: f"TRIM({text()})",
                "SUBSTITUTE": lambda: f"SUBSTITUTE({text()},{text()},{text()})",
                "SUBSTITUTE one": lambda: f'SUBSTITUTE({text()},"a","z",{number()})',
                "IF": lambda: f"IF({self._condition(depth - 1)},{text()},{text()})",
                "IFERROR": lambda: f"IFERROR({text()},{text()})",
                "INDEX": lambda: f"INDEX({self._range()},{number()})&{text()}",
                "cell": self._cell,
            }
        )

    def _condition(self, depth: int) -> str:
        if depth <= 0:
            return f"{self._cell()}={self._literal()}"

        def some() -> str:
            return self._any(depth - 1)

        def condition() -> str:
            return self._condition(depth - 1)

        return self._one_of(
            {
                "comparison": lambda: f"{some()}{self._compare()}{some()}",
                "AND": lambda: f"AND({condition()},{condition()})",
                "OR": lambda: f"OR({condition()},{self._cell()})",
                "NOT": lambda: f"NOT({condition()})",
                "ISERROR": lambda: f"ISERROR({some()})",
                "ISNUMBER": lambda: f"ISNUMBER({some()})",
                "ISBLANK": lambda: f"ISBLANK({self._cell()})",
                "number": lambda: self._number(depth - 1),
                "IFERROR": lambda: f"IFERROR({condition()},FALSE)",
            }
        )
