"""Which lines are headings: signals that add up, weighed against what stands below them."""

import re
from dataclasses import dataclass

from rosterkit.lists.layout.heading_cells import SAME_KIND, HeadingCells
from rosterkit.lists.layout.texts import (
    LONGEST_HEADING,
    is_day_or_time,
    is_label,
    is_number,
    is_word,
    speaks_of_cvs,
)
from rosterkit.lists.layout.view import View

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
        self._first = next((n for n in view.order if len(view.lines[n]) > 1), 0)
        self._single = len(view.columns) == 1
        self._cells = HeadingCells(view, self._first)

    def score(self, line: int) -> float:
        """Return how much a line looks like headings."""
        positions = self.view.lines[line]
        if (len(positions) == 1 and not self._single) or self._is_labelled_value(line):
            return SAME_KIND
        mean = sum(self._cells.score(line, one) for one in positions) / len(positions)
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
        repeated = [self._cells.below.same_text(line, one, view.text(line, one)) > 0 for one in texts]
        scores = [self._cells.score(line, one) for one in positions]
        # What is repeated whole stands on each page; what is repeated in part, or made like data, is data.
        if not (repeated and all(repeated)) and (any(repeated) or min(scores) < 0):
            return False
        return sum(scores) >= ENOUGH_BELOW * len(positions)

    def _is_labelled_value(self, line: int) -> bool:
        """Whether a line is a label with its value, or several: 'Owner:', 'M05'."""
        texts = [one.cell.text for one in self.view.located(line)]
        return (
            len(texts) % 2 == 0
            and all(one.endswith(":") for one in texts[::2])
            and not any(map(is_label, texts[1::2]))
        )

    def _figures(self, line: int) -> bool:
        """Whether a line holds numbers or dates that are not CVs in headings."""
        cells = ((one, self.view.cells[line, one].cell) for one in self.view.lines[line])
        return any(
            (is_number(cell) or is_day_or_time(cell)) and not self._cells.is_under_cvs(line, position)
            for position, cell in cells
        )

    def below_is_filled(self, line: int) -> bool:
        """Whether anything stands below the cells of a line."""
        return any(self._cells.below.filled(line, one) for one in self.view.lines[line])

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
