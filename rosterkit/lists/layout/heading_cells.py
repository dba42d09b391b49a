"""What one cell says for or against its being a heading, by itself and by what stands below it."""

from bisect import bisect_right

from rosterkit.lists.layout.columns_below import ColumnsBelow
from rosterkit.lists.layout.texts import (
    is_day_or_time,
    is_number,
    is_sentence,
    is_word,
    plain_cv,
    shape,
    speaks_of_cvs,
)
from rosterkit.lists.layout.view import View

WORD = 2.0
"""A word of the trade's headings: the strongest sign there is."""
CONTRAST = 1.0
"""A text over numbers or dates."""
NOVEL = 0.5
"""A text that its column never repeats, though the column repeats others (owners, decoders)."""
SAME_KIND = -1.5
"""A number or date over others: data."""
REPEATED = -1.0
"""The column below says the same: data."""
SAME_SHAPE = -1.0
"""Made like most below it, digits and letters alike (NE 5201 over NE 5202): data."""
LONG = -2.0
"""A sentence over others: notes."""
_MOSTLY = 0.7
_COUNTED = 5
_SAMPLE = 30
"""So many cells of a column tell whether it repeats its texts."""


class HeadingCells:
    """Weighs the cells of a view."""

    def __init__(self, view: View, first: int) -> None:
        """``first`` is the first line with several cells."""
        self.below = ColumnsBelow(view)
        self._view, self._first = view, first
        self._counting = _counting(view, first)

    def score(self, line: int, position: int) -> float:
        """Return what one cell says for (positive) or against its being a heading."""
        cell, below = self._view.cells[line, position].cell, self.below
        filled = below.filled(line, position)
        mostly_figures = filled > 0 and below.figures(line, position) >= _MOSTLY * filled
        repeated = below.same_text(line, position, cell.text)
        if is_number(cell) or is_day_or_time(cell):
            if self.is_under_cvs(line, position) or (line == self._first and position in self._counting):
                return WORD
            return SAME_KIND if mostly_figures else REPEATED
        if is_word(cell.text):
            return 0.0 if repeated > _MOSTLY * filled else WORD
        if mostly_figures:
            return CONTRAST
        if is_sentence(cell.text):
            # A question over short answers is a heading, one among others is a note.
            return LONG if below.sentences(line, position) or not filled else NOVEL
        if repeated:
            return REPEATED
        if filled > 1 and self._made_like_most(line, position, cell.text, filled):
            return SAME_SHAPE
        return NOVEL if self._repeats_itself(line, position) else 0.0

    def is_under_cvs(self, line: int, position: int) -> bool:
        """Whether a number stands below the word CV, or right of it in its row, and may be a CV."""
        view = self._view
        if plain_cv(view.cells[line, position].cell) is None:
            return False
        above = view.lines.get(line - 1, ())
        nearest = max((one for one in above if one <= position), default=0)
        return bool(nearest) and speaks_of_cvs(view.text(line - 1, nearest))

    def _made_like_most(self, line: int, position: int, text: str, filled: int) -> bool:
        alike = self.below.same_shape(line, position, text)
        return "9" in shape(text) and 2 * alike > filled

    def _repeats_itself(self, line: int, position: int) -> bool:
        """Whether a column of four or more repeats some of its texts."""
        column = self._view.columns[position]
        start = bisect_right(column, line)
        lines = column[start : start + _SAMPLE]
        texts = {self._view.text(one, position).casefold() for one in lines}
        return len(lines) >= 4 and len(texts) <= _MOSTLY * len(lines)


def _counting(view: View, line: int) -> set[int]:
    """Return the positions of a line that count 1, 2, 3 … as headings of steps do, five or more of them."""
    positions = view.lines.get(line, [])
    numbers = [plain_cv(view.cells[line, one].cell) for one in positions]
    if 1 not in numbers:
        return set()
    start = numbers.index(1)
    counted = enumerate(zip(positions[start:], numbers[start:], strict=True))
    run = {one for n, (one, number) in counted if number == n + 1 and one == positions[start] + n}
    return run if len(run) >= _COUNTED else set()
