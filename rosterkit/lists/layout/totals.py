"""Which lines add up what stands above them."""

from collections.abc import Sequence
from itertools import islice

from rosterkit.lists.layout.texts import is_number
from rosterkit.lists.layout.view import View
from rosterkit.lists.plain import PlainCell
from rosterkit.lists.vocabulary import is_total_word

_FEWEST = 3
"""So many numbers at least stand above a total that has no word for it; fewer add up by chance."""
_NEAR = 1e-6


class TotalFinder:
    """Knows the totals among the lines of a table, which are asked for from the top down."""

    def __init__(self, view: View, lines: Sequence[int]) -> None:
        self._view = view
        self._above: dict[int, list[float]] = {}
        """By position: the numbers since the last total."""
        self._whole: dict[int, list[float]] = {}
        """By position: all numbers, without totals."""
        self._texts = _text_columns(view, lines)
        self._columns = {position for line in lines for position in view.lines[line]}

    def is_total(self, line: int, *, after_total: bool) -> bool:
        """Whether a line is a total; ``after_total`` if the line before it is one."""
        found = self._is_total(line, after_total=after_total)
        if found:
            self._above.clear()
            return True
        for position, number in self._numbers(line):
            self._above.setdefault(position, []).append(number)
            self._whole.setdefault(position, []).append(number)
        return False

    def _is_total(self, line: int, *, after_total: bool) -> bool:
        cells = self._view.located(line)
        texts = [one.cell.text for one in cells if not is_number(one.cell)]
        numbers = self._numbers(line)
        if texts and is_total_word(texts[0]) and not is_number(cells[0].cell):
            # Formulas without a result, or a further word, may stand beside it, but no engine is told so.
            return len(texts) == 1 or 2 * len(cells) <= len(self._columns)
        if len(texts) == 1 and len(cells) == 2 and numbers:
            # "engines in sound: 4" below the totals, or a label of its own with a colon.
            return after_total and texts[0].endswith(":")
        return not texts and bool(numbers) and self._adds_up(line, numbers)

    def _adds_up(self, line: int, numbers: list[tuple[int, float]]) -> bool:
        """Whether every number is the sum or the count of those above it, where records have words."""
        if not self._texts or any(one in self._texts for one in self._view.lines[line]):
            return False
        return all(self._is_sum(position, number) for position, number in numbers)

    def _is_sum(self, position: int, number: float) -> bool:
        for known in (self._above.get(position, []), self._whole.get(position, [])):
            if len(known) >= _FEWEST and (abs(sum(known) - number) < _NEAR or number == len(known)):
                return True
        return False

    def _numbers(self, line: int) -> list[tuple[int, float]]:
        found = []
        for position in self._view.lines[line]:
            number = _number(self._view.cells[line, position].cell)
            if number is not None:
                found.append((position, number))
        return found


def _number(cell: PlainCell) -> float | None:
    if isinstance(cell.value, int | float) and not isinstance(cell.value, bool):
        return float(cell.value)
    text = cell.text.replace(",", ".")
    try:
        return float(text) if is_number(cell) else None
    except ValueError:
        return None


def _text_columns(view: View, lines: Sequence[int]) -> set[int]:
    """Return the positions in which nine lines in ten hold a text."""
    counted: dict[int, int] = {}
    looked_at = list(islice(lines, 200))
    for line in looked_at:
        for position in view.lines[line]:
            if not is_number(view.cells[line, position].cell):
                counted[position] = counted.get(position, 0) + 1
    return {position for position, count in counted.items() if 10 * count >= 9 * (len(looked_at) - 1)}
