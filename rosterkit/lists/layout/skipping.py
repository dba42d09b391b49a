"""What is no record: each cell of it named once, with why."""

from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass, field

from rosterkit.lists.layout.view import View
from rosterkit.lists.plain import Place
from rosterkit.lists.tables import MOST_SHOWN, Located, Skipped, shortened

HEADING_AGAIN = "the headings again"
TITLE = "a title"
TOTAL = "a total"
LEGEND = "a legend"
NOTE = "a note"
RULE = "a rule"
CONTINUES = "continues the row above"
NO_TABLE = "no table there"
BESIDE = "beside a value"
CV_IN_WORDS = "says in words what a CV does"
LONE_CV = "a CV without a value"
NO_RECORD = "headings with nothing below them"
CV_BESIDE = "stands beside the value of a CV"
SECTION = "a heading within a form"
UNSURE_VALUES = "numbers stand beside these CVs, and nothing says which of them are the values"
NO_HEADINGS = "its row was said to hold the headings, but these stand above it"
_DOUBTED = {UNSURE_VALUES, NO_HEADINGS}
"""What somebody has to look at."""


@dataclass
class Skips:
    """Gathers the cells that are skipped, in the order in which they are met."""

    _entries: list[tuple[list[Located], str]] = field(default_factory=list)

    def cells(self, cells: Iterable[Located], why: str) -> None:
        """Add some cells of one sheet."""
        added = list(cells)
        if added:
            self._entries.append((added, why))

    def line(self, view: View, line: int, why: str) -> None:
        """Add all that stands in a line; lines next to each other that are skipped for one reason are one."""
        cells = view.located(line)
        before, why_before = self._entries[-1] if self._entries else ([], "")
        if before and why_before == why and _is_next(before[-1].place, cells[0].place, across=view.across):
            before += cells
        else:
            self.cells(cells, why)

    def found(self, sheets: Mapping[str, View]) -> tuple[Skipped, ...]:
        """Return the areas that are skipped; none holds a filled cell of its sheet that is not."""
        return tuple(one for cells, why in self._entries for one in _areas(cells, why, sheets))


def _is_next(before: Place, here: Place, *, across: bool) -> bool:
    """Whether a line is the next one on the same sheet."""
    step = here.column - before.column if across else here.row - before.row
    return step == 1 and here.sheet == before.sheet


def _areas(cells: Sequence[Located], why: str, sheets: Mapping[str, View]) -> list[Skipped]:
    """Return one area for all cells, or one for each run of them where others stand between them."""
    view = sheets[cells[0].place.sheet]
    first, last = _corners(one.place for one in cells)
    spots = {(one.place.row, one.place.column) for one in cells}
    within = sum(
        first.column <= column <= last.column
        for row in view.lines_between(first.row, last.row)
        for column in view.lines[row]
    )
    if within == len(spots):
        text = _joined(one.cell.text for one in cells)
        return [Skipped(first, last, text, why, doubt=why in _DOUBTED)]
    runs: list[list[Located]] = []
    for row in sorted({row for row, _ in spots}):
        joined = False
        for column in view.lines[row]:
            here = (row, column) in spots
            if here and joined:
                runs[-1].append(view.cells[row, column])
            elif here:
                runs.append([view.cells[row, column]])
            joined = here
    return [one for run in runs for one in _areas(run, why, sheets)]


def _corners(places: Iterable[Place]) -> tuple[Place, Place]:
    all_of_them = list(places)
    rows = [one.row for one in all_of_them]
    columns = [one.column for one in all_of_them]
    sheet = all_of_them[0].sheet
    return Place(sheet, min(rows), min(columns)), Place(sheet, max(rows), max(columns))


def _joined(texts: Iterable[str]) -> str:
    text = ""
    for one in texts:
        text = f"{text} {one}".strip()
        if len(text) > MOST_SHOWN:
            break
    return shortened(" ".join(text.split()))
