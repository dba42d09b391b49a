"""What each line below the headings of a table is: a record, a group, a total, a note."""

from collections import Counter
from dataclasses import dataclass
from enum import Enum

from rosterkit.lists.layout.group_rows import GroupJudge
from rosterkit.lists.layout.texts import is_number, is_sentence, shape
from rosterkit.lists.layout.totals import TotalFinder
from rosterkit.lists.layout.view import View


class LineKind(Enum):
    """What a line below headings is."""

    RECORD = "record"
    GROUP = "group"
    TOTAL = "total"
    NOTE = "note"
    CONTINUATION = "continuation"


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
        self._values = self._counted()
        self._totals = TotalFinder(body.view, body.lines, len(body.columns))
        self._groups = GroupJudge(body.view, body.lines, body.columns, self._values)

    def kinds(self) -> dict[int, LineKind]:
        """Return what every line is."""
        kinds: dict[int, LineKind] = {}
        before: int | None = None
        for number, line in enumerate(self._lines):
            above = kinds[before] if before is not None else None
            apart = before is None or line > before + 1 or above is LineKind.TOTAL
            is_last = number + 1 == len(self._lines)
            if self._totals.is_total(line, after_total=above is LineKind.TOTAL):
                kinds[line] = LineKind.TOTAL
            elif not is_last and self._groups.is_group(line, apart=apart):
                kinds[line] = LineKind.GROUP
            elif self._is_note(line, apart=apart):
                kinds[line] = LineKind.NOTE
            elif not apart and above in _RECORDS and self._continues(line):
                kinds[line] = LineKind.CONTINUATION
            else:
                kinds[line] = LineKind.RECORD
            before = line
        return self._without_empty_groups(self._without_footers(kinds))

    def _is_note(self, line: int, *, apart: bool) -> bool:
        cells = self._view.located(line)
        return len(cells) == 1 and is_sentence(cells[0].cell.text) and (apart or self._width > _FEW)

    def _continues(self, line: int) -> bool:
        """Whether a line has only some words more for the line above, and nothing that names an engine."""
        here = self._view.lines[line]
        return (
            here[0] > self._columns[0]
            and _FEW * len(here) <= self._width
            and not any(is_number(self._view.cells[line, one].cell) for one in here)
            and not any(self._is_like_its_column(line, one) for one in here)
        )

    def _without_empty_groups(self, kinds: dict[int, LineKind]) -> dict[int, LineKind]:
        """A group without a record below it is none, but a note."""
        followed = False
        for line in reversed(self._lines):
            if kinds[line] is LineKind.GROUP and not followed:
                kinds[line] = LineKind.NOTE
            if kinds[line] is not LineKind.NOTE:
                followed = kinds[line] is not LineKind.TOTAL
        return kinds

    def _without_footers(self, kinds: dict[int, LineKind]) -> dict[int, LineKind]:
        """Sparse lines of words at the end, apart from the table, are notes."""
        start = len(self._lines)
        while start and (kinds[self._lines[start - 1]] is not LineKind.RECORD or self._is_sparse(start - 1)):
            start -= 1
        if 2 * start < len(self._lines):
            return kinds
        apart = False
        for before, line in zip(self._lines[start - 1 :], self._lines[start:], strict=False):
            apart = apart or line > before + 1
            if kinds[line] in _RECORDS and apart:
                kinds[line] = LineKind.NOTE
        return kinds

    def _is_sparse(self, number: int) -> bool:
        """Whether a line has one cell in three at most, and none that is made like its column."""
        line = self._lines[number]
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


_RECORDS = (LineKind.RECORD, LineKind.CONTINUATION)
