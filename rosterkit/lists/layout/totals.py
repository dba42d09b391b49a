"""Which lines add up what stands above them."""

import re
from collections import Counter
from collections.abc import Sequence
from functools import lru_cache
from itertools import islice

from rosterkit.lists.layout.texts import is_number, shape
from rosterkit.lists.layout.view import View
from rosterkit.lists.plain import PlainCell
from rosterkit.lists.vocabulary import is_total_word

_FEWEST = 3
"""So many numbers at least stand above a total that has no word for it; fewer add up by chance."""
_SAMPLE = 200
_FEW = 3
"""A total with a text of its own fills at most one in so many columns."""
_NEAR = 1e-6
_LONGEST = 40
_ADDS_UP = re.compile(r"=\s*(?:SUM|SUBTOTAL|COUNTA?|AVERAGE)\(.*", re.IGNORECASE | re.DOTALL)
"""A formula without a stored result; readers show it as it stands."""


class _Sum:
    """The numbers of a column so far: how many, and what they come to."""

    __slots__ = ("count", "total")

    def __init__(self) -> None:
        self.count, self.total = 0, 0.0

    def add(self, number: float) -> None:
        self.count += 1
        self.total += number

    def says(self, number: float) -> bool:
        """Whether a number is the sum or the count of enough numbers."""
        return self.count >= _FEWEST and (abs(self.total - number) < _NEAR or number == self.count)


class TotalFinder:
    """Knows the totals among the lines of a table, which are asked for from the top down."""

    def __init__(self, view: View, lines: Sequence[int], width: int) -> None:
        self._view = view
        self._since: dict[int, _Sum] = {}
        """By position: the numbers since the last total."""
        self._whole: dict[int, _Sum] = {}
        """By position: all numbers, without totals."""
        looked_at = list(islice(lines, _SAMPLE))
        self._width = width
        self._texts = _text_columns(view, looked_at)
        self._lines = set(lines)
        self._said = Counter(
            (one, view.text(line, one).casefold()) for line in lines for one in view.lines[line]
        )

    def is_total(self, line: int, *, after_total: bool) -> bool:
        """Whether a line is a total; ``after_total`` if the line before it is one."""
        if self._is_total(line, after_total=after_total):
            self._since.clear()
            return True
        for position, number in self._numbers(line):
            self._since.setdefault(position, _Sum()).add(number)
            self._whole.setdefault(position, _Sum()).add(number)
        return False

    def _is_total(self, line: int, *, after_total: bool) -> bool:
        cells = self._view.located(line)
        texts = [one.cell.text for one in cells if not is_number(one.cell)]
        numbers = self._numbers(line)
        if len(cells) >= max(self._width, _FEW + 1):
            return False
        if texts and not is_number(cells[0].cell) and _is_word(texts[0]):
            # Formulas without a result, or a further word, may stand beside it, but no engine is told so.
            return len(texts) == 1 or 2 * len(cells) <= self._width
        if any(_ADDS_UP.fullmatch(one) for one in texts) and 2 * len(cells) <= self._width:
            return True
        if len(texts) == 1 and len(cells) == 2 and numbers and after_total and texts[0].endswith(":"):
            return True  # "engines in sound: 4" below the totals
        if not numbers or len(texts) > 1 or not all(self._is_sum(*one) for one in numbers):
            return False
        return self._lacks_its_texts(line) if not texts else self._is_odd(line)

    def _lacks_its_texts(self, line: int) -> bool:
        """Whether a line of numbers has nothing where records have words."""
        return bool(self._texts) and not any(one in self._texts for one in self._view.lines[line])

    def _is_odd(self, line: int) -> bool:
        """Whether a line begins with a text that no other has, has little else, and ends a block of lines."""
        here = self._view.lines[line]
        text = self._view.text(line, here[0])
        return (
            not is_number(self._view.cells[line, here[0]].cell)
            and _FEW * len(here) <= self._width
            and self._said[here[0], text.casefold()] <= 1
            and "9" not in shape(text)
            and line + 1 not in self._lines
        )

    def _is_sum(self, position: int, number: float) -> bool:
        sums = (self._since.get(position), self._whole.get(position))
        return any(one is not None and one.says(number) for one in sums)

    def _numbers(self, line: int) -> list[tuple[int, float]]:
        found = []
        for position in self._view.lines[line]:
            number = _number(self._view.cells[line, position].cell)
            if number is not None:
                found.append((position, number))
        return found


@lru_cache(maxsize=65536)
def _is_word(text: str) -> bool:
    return len(text) <= _LONGEST and is_total_word(text)


def _number(cell: PlainCell) -> float | None:
    if isinstance(cell.value, int | float) and not isinstance(cell.value, bool):
        return float(cell.value)
    if not is_number(cell):
        return None
    try:
        return float(cell.text.replace(",", "."))
    except ValueError:
        return None


def _text_columns(view: View, lines: Sequence[int]) -> set[int]:
    """Return the positions in which nine lines in ten hold a text."""
    counted = Counter(
        position
        for line in lines
        for position in view.lines[line]
        if not is_number(view.cells[line, position].cell)
    )
    return {position for position, count in counted.items() if 10 * count >= 9 * (len(lines) - 1)}
