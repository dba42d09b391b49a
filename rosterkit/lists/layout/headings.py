"""Which lines are headings: signals that add up, weighed against what stands below them."""

import re
from bisect import bisect_right
from dataclasses import dataclass

from rosterkit.lists.layout.columns_below import ColumnsBelow
from rosterkit.lists.layout.texts import (
    LONGEST_HEADING,
    is_day_or_time,
    is_label,
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
FIRST = 0.4
"""The first line with several cells: headings stand above."""
PAINTED = 0.3
"""All its cells have a colour that the line below has not."""
ENOUGH = 0.5
"""From this on a line is a heading."""
ENOUGH_BELOW = 0.7
"""From this on the line below a heading is a second line of it; data taken for headings would be lost."""
ENOUGH_LATER = 1.5
"""From this on a line among records starts another table (two words in three)."""
DEEPEST = 60
"""A first heading stands among the first so many filled lines."""
MOST_LINES = 3
_MOSTLY = 0.7
_COUNTED = 5
_UNIT = re.compile(r"[(\[].*[)\]]|mm|cm|m|in\.?|inch|zoll|g|kg|oz|V|A|mA", re.IGNORECASE)


@dataclass(frozen=True, slots=True)
class HeadingLines:
    """The lines of one table's headings, both included."""

    first: int
    last: int


class HeadingFinder:
    """Finds the heading lines of a view."""

    def __init__(self, view: View) -> None:
        self.view = view
        self.below = ColumnsBelow(view)
        self._first = next((n for n in view.order if len(view.lines[n]) > 1), 0)
        self._single = len(view.columns) == 1
        self._counting = _counting(view, self._first)

    def cell_score(self, line: int, position: int) -> float:
        """Return what one cell says for (positive) or against its being a heading."""
        cell, below = self.view.cells[line, position].cell, self.below
        filled = below.filled(line, position)
        mostly_figures = filled > 0 and below.figures(line, position) >= _MOSTLY * filled
        repeated = below.same_text(line, position, cell.text)
        if is_number(cell) or is_day_or_time(cell):
            if self._under_cvs(line, position) or (line == self._first and position in self._counting):
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

    def score(self, line: int) -> float:
        """Return how much a line looks like headings."""
        positions = self.view.lines[line]
        if (len(positions) == 1 and not self._single) or self._is_labelled_value(line):
            return SAME_KIND
        mean = sum(self.cell_score(line, one) for one in positions) / len(positions)
        bonus = FIRST * (line == self._first) + PAINTED * self._painted(line)
        return mean + bonus + min(0.0, self._coverage(line) - 1)

    def words(self, line: int) -> int:
        """Return how many cells of a line are words of headings."""
        return sum(is_word(self.view.text(line, one)) for one in self.view.lines.get(line, ()))

    def first_heading(self) -> HeadingLines | None:
        """Return the heading lines of the first table, None if no line looks like one."""
        for line in self.view.order[:DEEPEST]:
            if self.score(line) >= ENOUGH and not self._is_last(line):
                return self.grown(line)
        return None

    def later_heading(self, line: int) -> bool:
        """Whether a line among records starts another table."""
        cells = len(self.view.lines[line])
        if cells < 2 or self._figures(line):
            return False
        words = self.words(line)
        apart = self.view.is_blank(line - 1) or len(self.view.lines[line - 1]) == 1
        return (
            words > (1 if apart else 2)
            and (2 if apart else 1) * words >= cells
            and not self._is_last(line)
            and self.score(line) >= ENOUGH_LATER
        )

    def grown(self, line: int, *, downwards: bool = True) -> HeadingLines:
        """Return a heading line with those above and below it that are headings too."""
        first = last = line
        while last - first + 1 < MOST_LINES and self._belongs_above(first - 1, first):
            first -= 1
        while downwards and last - first + 1 < MOST_LINES and self._belongs_below(last + 1):
            last += 1
        return HeadingLines(first, last)

    def _belongs_above(self, line: int, below: int) -> bool:
        """Whether a line is the upper part of the headings below it."""
        if self.view.is_blank(line):
            return False
        cells = [one.cell for one in self.view.located(line)]
        if self._is_labelled_value(line):
            return False
        if any(is_number(one) or is_day_or_time(one) or len(one.text) > LONGEST_HEADING for one in cells):
            return False
        widest = max(self.view.wide(line, one) for one in self.view.lines[line])
        spread = 1 < widest < len(self.view.lines[below])
        over_numbers = any(speaks_of_cvs(one.text) for one in cells)
        if len(cells) == 1:
            return spread
        return spread or over_numbers or 2 * self.words(line) >= len(cells)

    def _belongs_below(self, line: int) -> bool:
        """Whether a line is a further line of the headings above it: more texts over numbers."""
        view = self.view
        if view.is_blank(line) or self._is_last(line) or not self.below_is_filled(line):
            return False
        if self._figures(line) or self._is_labelled_value(line):
            return False
        positions = view.lines[line]
        if len(positions) == 1 and not self._single and not _UNIT.fullmatch(view.text(line, positions[0])):
            return False  # a group of the records below it
        texts = [one for one in positions if not is_number(view.cells[line, one].cell)]
        repeated = [self.below.same_text(line, one, view.text(line, one)) > 0 for one in texts]
        scores = [self.cell_score(line, one) for one in positions]
        # What is repeated whole stands on each page; what is repeated in part, or made like data, is data.
        if not (repeated and all(repeated)) and (any(repeated) or min(scores) < 0):
            return False
        return sum(scores) >= ENOUGH_BELOW * len(positions)

    def _is_labelled_value(self, line: int) -> bool:
        """Whether a line is one label with its value: 'Owner:', 'M05'."""
        texts = [one.cell.text for one in self.view.located(line)]
        return len(texts) == 2 and texts[0].endswith(":") and not is_label(texts[1])

    def _figures(self, line: int) -> bool:
        """Whether a line holds numbers or dates that are not CVs in headings."""
        cells = ((one, self.view.cells[line, one].cell) for one in self.view.lines[line])
        return any(
            (is_number(cell) or is_day_or_time(cell)) and not self._under_cvs(line, position)
            for position, cell in cells
        )

    def below_is_filled(self, line: int) -> bool:
        """Whether anything stands below the cells of a line."""
        return any(self.below.filled(line, one) for one in self.view.lines[line])

    def _under_cvs(self, line: int, position: int) -> bool:
        """Whether a number stands below the word CV, or right of it in its row, and may be a CV."""
        view = self.view
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
        column = self.view.columns[position]
        start = bisect_right(column, line)
        lines = column[start : start + DEEPEST // 2]
        texts = {self.view.text(one, position).casefold() for one in lines}
        return len(lines) >= 4 and len(texts) <= _MOSTLY * len(lines)

    def _painted(self, line: int) -> bool:
        fills = {one.cell.fill for one in self.view.located(line)}
        beneath = {one.cell.fill for one in self.view.located(line + 1)}
        return len(fills) == 1 and "" not in fills and bool(beneath) and not fills & beneath

    def _coverage(self, line: int) -> float:
        """Return which share of the cells of the fullest of the next lines this line has, at most 1."""
        here = sum(self.view.wide(line, one) for one in self.view.lines[line])
        following = self.view.lines_between(line + 1, line + 10)
        return min(1.0, here / max((len(self.view.lines[one]) for one in following), default=here))

    def _is_last(self, line: int) -> bool:
        return line == self.view.order[-1]


def _counting(view: View, line: int) -> set[int]:
    """Return the positions of a line that count 1, 2, 3 … as headings of steps do, five or more of them."""
    positions = view.lines.get(line, [])
    for start, first in enumerate(positions):
        counted = positions[start:]
        numbers = [plain_cv(view.cells[line, one].cell) for one in counted]
        if numbers[0] == 1:
            run = [one for n, one in enumerate(counted) if numbers[n] == n + 1 and one == first + n]
            return set(run) if len(run) >= _COUNTED else set()
    return set()
