"""What each line below the headings of a table is: a record, a group, a total, a note."""

from collections import Counter
from dataclasses import dataclass
from enum import Enum

from rosterkit.lists.layout.texts import inline_label, is_number, is_sentence, is_word, shape
from rosterkit.lists.layout.totals import TotalFinder
from rosterkit.lists.layout.view import View


class LineKind(Enum):
    """What a line below headings is."""

    RECORD = "record"
    GROUP = "group"
    TOTAL = "total"
    NOTE = "note"
    CONTINUATION = "continuation"


MERGED = 2.0
"""A text over several merged columns stands for the records below it."""
APART = 1.0
"""A blank line, a total, or the headings stand above it."""
OVER_NUMBERS = 1.0
"""A name in a column of numbers is none of its values."""
PAINTED = 1.0
"""It has a colour, which the records have not."""
CAPITALS = 0.5
OFTEN = 0.5
"""There are several such lines in the table."""
COLON = 0.5
LABELLED = 1.5
"""It says itself what it is: 'Owner: M01'."""
INDENTED = -0.5
"""It does not stand in the table's first column."""
LIKE_ITS_COLUMN = -2.0
"""Made like the values of its column (NE 5201 below NE 5200): an engine of which only the name is known."""
KNOWN_VALUE = -1.0
"""Its column says the same elsewhere."""
NARROW = -1.0
"""In a table of two columns a record with one blank looks like a group."""
SENTENCE = -2.0
ENOUGH = 1.0
_FEW = 3
"""A continuation or footer fills at most one in so many columns."""


@dataclass(frozen=True, slots=True)
class Body:
    """The lines below a table's headings, and its columns."""

    view: View
    lines: tuple[int, ...]
    columns: tuple[int, ...]


class LineJudge:
    """Says of each line of a table what it is."""

    def __init__(self, body: Body) -> None:
        self._view, self._lines, self._columns = body.view, body.lines, body.columns
        self._width = len(body.columns)
        self._lone = Counter(self._only(line) for line in body.lines if len(self._view.lines[line]) == 1)
        self._values = self._counted()
        self._said = Counter(
            (one, body.view.text(line, one).casefold())
            for line in body.lines
            if len(body.view.lines[line]) > 2
            for one in body.view.lines[line]
        )
        self._totals = TotalFinder(body.view, body.lines)

    def kinds(self) -> dict[int, LineKind]:
        """Return what every line is."""
        kinds: dict[int, LineKind] = {}
        before: int | None = None
        for number, line in enumerate(self._lines):
            apart = before is None or line > before + 1 or kinds[before] is LineKind.TOTAL
            following = self._lines[number + 1] if number + 1 < len(self._lines) else None
            kinds[line] = self._kind(line, before, following, apart=apart, kinds=kinds)
            before = line
        return self._without_empty_groups(self._without_footers(kinds))

    def _kind(
        self,
        line: int,
        before: int | None,
        following: int | None,
        *,
        apart: bool,
        kinds: dict[int, LineKind],
    ) -> LineKind:
        after_total = before is not None and kinds[before] is LineKind.TOTAL
        if self._totals.is_total(line, after_total=after_total):
            return LineKind.TOTAL
        if self._is_labelled_pair(line) or len(self._view.lines[line]) == 1:
            if following is not None and self._group_score(line, apart=apart) >= ENOUGH:
                return LineKind.GROUP
            if self._is_note(line, apart=apart):
                return LineKind.NOTE
        if not apart and before is not None and self._continues(line, before):
            return LineKind.CONTINUATION
        return LineKind.RECORD

    def _group_score(self, line: int, *, apart: bool) -> float:
        view, position = self._view, self._only(line)
        cell = view.cells[line, position].cell
        if is_number(cell):
            return SENTENCE
        text = cell.text
        values = self._values[position]
        filled = sum(values.values())
        alike = values[shape(text)]
        score = MERGED if view.wide(line, position) > 1 else 0.0
        score += APART * apart + LABELLED * (self._is_labelled_pair(line) or inline_label(text) is not None)
        score += OVER_NUMBERS * (2 * values["9"] > filled) + CAPITALS * (text.isupper() and len(text) > 3)
        score += OFTEN * (self._lone[position] > 1) + COLON * text.endswith(":")
        score += PAINTED * self._is_painted_alone(line, position)
        score += INDENTED * (position != self._columns[0] and view.wide(line, position) == 1)
        score += LIKE_ITS_COLUMN * ("9" in shape(text) and 3 * alike >= filled)
        score += NARROW * (self._width <= 2) + SENTENCE * is_sentence(text)
        return score + KNOWN_VALUE * self._is_known(line, position)

    def _is_labelled_pair(self, line: int) -> bool:
        cells = self._view.located(line)
        return (
            len(cells) == 2
            and self._width > 2
            and cells[0].cell.text.endswith(":")
            and is_word(cells[0].cell.text)
        )

    def _is_painted_alone(self, line: int, position: int) -> bool:
        fill = self._view.cells[line, position].cell.fill
        neighbours = [self._view.cells.get((line + step, position)) for step in (-1, 1)]
        return bool(fill) and all(one is None or one.cell.fill != fill for one in neighbours)

    def _is_known(self, line: int, position: int) -> bool:
        return self._said[position, self._view.text(line, position).casefold()] > 0

    def _is_note(self, line: int, *, apart: bool) -> bool:
        cells = self._view.located(line)
        return len(cells) == 1 and is_sentence(cells[0].cell.text) and (apart or self._width > _FEW)

    def _continues(self, line: int, before: int) -> bool:
        """Whether a line has only some words more for the line above, and nothing that names an engine."""
        view = self._view
        here, above = view.lines[line], view.lines[before]
        cells = [view.cells[line, one].cell for one in here]
        return (
            here[0] > above[0]
            and here[0] > self._columns[0]
            and _FEW * len(here) <= self._width
            and len(above) > len(here)
            and not any(is_number(one) for one in cells)
            and not any(area.top <= line <= area.bottom for area in view.merged if area.bottom > area.top)
        )

    def _without_empty_groups(self, kinds: dict[int, LineKind]) -> dict[int, LineKind]:
        """A group without a record below it is none: it is a note, or where it may be an engine a record."""
        followed = False
        for line in reversed(self._lines):
            if kinds[line] is LineKind.GROUP and not followed:
                kinds[line] = LineKind.NOTE
            if kinds[line] is not LineKind.NOTE:
                followed = kinds[line] is not LineKind.TOTAL
        return kinds

    def _without_footers(self, kinds: dict[int, LineKind]) -> dict[int, LineKind]:
        """Sparse lines of words at the end, apart from the table, are notes."""
        footers: list[int] = []
        for line in reversed(self._lines):
            if kinds[line] is LineKind.RECORD and not self._is_sparse(line):
                break
            footers.insert(0, line)
        previous = (
            self._lines[len(self._lines) - len(footers) - 1] if len(footers) < len(self._lines) else None
        )
        apart = False
        for line in footers:
            apart = apart or (previous is not None and line > previous + 1)
            previous = line
            if kinds[line] is LineKind.RECORD and apart:
                kinds[line] = LineKind.NOTE
        return kinds

    def _is_sparse(self, line: int) -> bool:
        """Whether a line has one cell in three at most, and none that is made like its column."""
        here = self._view.lines[line]
        return _FEW * len(here) <= max(self._width, _FEW) and not any(
            self._is_like_its_column(line, one) for one in here
        )

    def _is_like_its_column(self, line: int, position: int) -> bool:
        values = self._values[position]
        cell = self._view.cells[line, position].cell
        form = "9" if is_number(cell) else shape(cell.text)
        others = values[form] - (len(self._view.lines[line]) > 1)
        return "9" in form and 3 * others >= sum(values.values()) > 2

    def _only(self, line: int) -> int:
        return self._view.lines[line][-1]

    def _counted(self) -> dict[int, Counter[str]]:
        """Count the shapes of the cells by position, numbers as 9; lines with one cell do not count."""
        counted: dict[int, Counter[str]] = {one: Counter() for one in self._columns}
        for line in self._lines:
            if len(self._view.lines[line]) == 1:
                continue
            for position in self._view.lines[line]:
                cell = self._view.cells[line, position].cell
                form = "9" if is_number(cell) else shape(cell.text)
                counted[position][form] += 1
        return counted
