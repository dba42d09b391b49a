"""What stands below a cell: counted once for a whole view, asked for in the time of a search."""

from bisect import bisect_left, bisect_right
from collections import defaultdict

from rosterkit.lists.layout.texts import is_day_or_time, is_number, is_sentence, shape
from rosterkit.lists.layout.view import View

WINDOW = 60
"""So many lines below a heading say what its column is like; later ones may belong to another table."""


class ColumnsBelow:
    """Counts what a view has below its cells, by position."""

    def __init__(self, view: View) -> None:
        self._filled: dict[int, list[int]] = defaultdict(list)
        self._figures: dict[int, list[int]] = defaultdict(list)
        self._texts: dict[tuple[int, str], list[int]] = defaultdict(list)
        self._sentences: dict[int, list[int]] = defaultdict(list)
        self._shapes: dict[tuple[int, str], list[int]] = defaultdict(list)
        for line, positions in view.lines.items():
            for position in positions:
                cell = view.cells[line, position].cell
                self._filled[position].append(line)
                self._texts[position, cell.text.casefold()].append(line)
                self._shapes[position, shape(cell.text)].append(line)
                if is_sentence(cell.text):
                    self._sentences[position].append(line)
                if is_number(cell) or is_day_or_time(cell):
                    self._figures[position].append(line)

    def filled(self, line: int, position: int) -> int:
        """Return how many cells below are filled."""
        return _within(self._filled[position], line)

    def figures(self, line: int, position: int) -> int:
        """Return how many cells below hold numbers or dates."""
        return _within(self._figures[position], line)

    def sentences(self, line: int, position: int) -> int:
        """Return how many cells below say more than a name does."""
        return _within(self._sentences[position], line)

    def same_text(self, line: int, position: int, text: str) -> int:
        """Return how many cells below show this text, in capitals or not."""
        return _within(self._texts.get((position, text.casefold()), []), line)

    def same_shape(self, line: int, position: int, text: str) -> int:
        """Return how many cells below have digits and letters in the order of this text."""
        return _within(self._shapes.get((position, shape(text)), []), line)


def _within(lines: list[int], line: int) -> int:
    return bisect_right(lines, line + WINDOW) - bisect_left(lines, line + 1)
