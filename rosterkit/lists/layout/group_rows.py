"""Whether a line with one text stands for the records below it: signals that add up."""

from collections import Counter
from collections.abc import Mapping

from rosterkit.lists.layout.texts import inline_label, is_number, is_sentence, is_word, shape
from rosterkit.lists.layout.view import View

MERGED = 2.0
"""A text over several merged columns stands for the records below it."""
APART = 1.0
"""A blank line, a total, or the headings stand above it."""
OVER_NUMBERS = 1.0
"""A name in a column of numbers is none of its values."""
PAINTED = 1.0
"""It has a colour, which the records have not."""
LIKE_A_GROUP = 1.0
"""Made like an earlier group of its column (M02 after M01)."""
CAPITALS = 0.5
ANOTHER = 0.5
"""An earlier line with one text in its column is a group."""
OFTEN = 0.5
"""There are several such lines in the table."""
FULL = 0.5
"""Most records of its table have many cells; one with a single cell would be odd."""
COLON = 0.5
LABELLED = 1.5
"""It says itself what it is: 'Owner: M01'."""
INDENTED = -0.5
"""It does not stand in the table's first column."""
LIKE_ITS_COLUMN = -2.0
"""Made like the values of its column (NE 5201 below NE 5200): an engine of which only the name is known."""
KNOWN_VALUE = -1.0
"""Its column says the same in records."""
NARROW = -1.0
"""In a table of two columns a record with one blank looks like a group."""
SENTENCE = -2.0
ENOUGH = 1.0
_MANY_CELLS = 6


class GroupJudge:
    """Says which lines of a table are group rows, asked from the top down."""

    def __init__(
        self,
        view: View,
        lines: tuple[int, ...],
        columns: tuple[int, ...],
        values: Mapping[int, Counter[str]],
    ) -> None:
        """``values`` counts by column the shapes of its values in records."""
        self._view, self._columns, self._values = view, columns, values
        sizes = Counter(len(view.lines[line]) for line in lines)
        self._full = sum(count for size, count in sizes.items() if size >= _MANY_CELLS) * 2 > len(lines)
        self._lone = Counter(view.lines[line][-1] for line in lines if len(view.lines[line]) == 1)
        self._said = Counter(
            (one, view.text(line, one).casefold())
            for line in lines
            if len(view.lines[line]) > 2
            for one in view.lines[line]
        )
        self._forms: set[tuple[int, str]] = set()
        """The columns and shapes of the groups so far."""

    def is_group(self, line: int, *, apart: bool) -> bool:
        """Whether a line is a group row; ``apart`` if nothing, a total or the headings stand above it."""
        if len(self._view.lines[line]) > 1 and not self.is_labelled_pair(line):
            return False
        position = self._view.lines[line][-1]
        if is_number(self._view.cells[line, position].cell) or self.score(line, apart=apart) < ENOUGH:
            return False
        self._forms.add((position, shape(self._view.text(line, position))))
        return True

    def score(self, line: int, *, apart: bool) -> float:
        """Return how much a line looks like a group row."""
        position = self._view.lines[line][-1]
        text = self._view.text(line, position)
        wide = self._view.wide(line, position) > 1
        score = MERGED * wide + APART * apart
        score += LABELLED * (self.is_labelled_pair(line) or inline_label(text) is not None)
        score += CAPITALS * (text.isupper() and len(text) > 3) + COLON * text.endswith(":")
        score += OFTEN * (self._lone[position] > 1) + FULL * self._full
        score += PAINTED * self._is_painted_alone(line, position)
        score += INDENTED * (position != self._columns[0] and not wide)
        score += NARROW * (len(self._columns) <= 2) + SENTENCE * is_sentence(text)
        score += KNOWN_VALUE * (self._said[position, text.casefold()] > 0)
        return score + self._by_its_column(position, text)

    def is_labelled_pair(self, line: int) -> bool:
        """Whether a line holds a label with a colon and its value, and no more."""
        cells = self._view.located(line)
        label = cells[0].cell.text
        return len(cells) == 2 < len(self._columns) and label.endswith(":") and is_word(label)

    def _by_its_column(self, position: int, text: str) -> float:
        """Return what the values of its column say of a text."""
        values, form = self._values[position], shape(text)
        filled = sum(values.values())
        if "9" in form and 3 * values[form] >= filled > 0:
            return LIKE_ITS_COLUMN
        score = LIKE_A_GROUP if "9" in form and (position, form) in self._forms else 0.0
        score += ANOTHER * any(position == one for one, _ in self._forms)
        return score + OVER_NUMBERS * (2 * values["9"] > filled)

    def _is_painted_alone(self, line: int, position: int) -> bool:
        fill = self._view.cells[line, position].cell.fill
        neighbours = [self._view.cells.get((line + step, position)) for step in (-1, 1)]
        return bool(fill) and all(one is None or one.cell.fill != fill for one in neighbours)
