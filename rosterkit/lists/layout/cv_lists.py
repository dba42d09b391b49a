"""Lists of CVs within a form: CV and Value above numbers."""

from dataclasses import dataclass

from rosterkit.lists.layout.skipping import CV_BESIDE, CV_IN_WORDS, LONE_CV, UNSURE_VALUES, Skips
from rosterkit.lists.layout.texts import is_cv_word, is_number, plain_cv
from rosterkit.lists.layout.view import Spot, View
from rosterkit.lists.tables import Located
from rosterkit.lists.vocabulary import fields_of

MOST_COLUMNS = 4
"""A value stands so near to the right of its CV."""


@dataclass(frozen=True, slots=True)
class CvList:
    """CV numbers below each other, with their values."""

    line: int
    """The line of its headings."""
    last: int
    heading: Located
    value_heading: Located | None
    pairs: tuple[tuple[Located, Located], ...]
    lone: tuple[Located, ...]
    """CVs without a value."""
    words: tuple[Located, ...]
    """What stands beside the pairs: what a CV does, in words."""
    unsure: bool = False
    """Whether numbers stand beside the CVs, and nothing says which of them are the values."""


def cv_lists(view: View) -> list[CvList]:
    """Return the lists of CVs of a view: below the word CV stand CV numbers."""
    return [
        found
        for line, positions in view.lines.items()
        for position in positions
        if is_cv_word(view.text(line, position)) and (found := _list_at(view, line, position)) is not None
    ]


def spots_of(found: CvList, view: View) -> set[Spot]:
    """Return the cells of a list of CVs, its headings and words too."""
    cells = [found.heading, *found.lone, *found.words, *(one for pair in found.pairs for one in pair)]
    cells += [found.value_heading] if found.value_heading else []
    return {
        (one.place.column, one.place.row) if view.across else (one.place.row, one.place.column)
        for one in cells
    }


def skip_beside(found: CvList, skips: Skips) -> None:
    """Skip what stands beside the values of CVs, CVs without one, and all where the values are not sure."""
    if found.unsure:
        skips.cells([found.heading, *found.lone, *found.words], UNSURE_VALUES)
        return
    skips.cells([one for one in found.words if not is_number(one.cell)], CV_IN_WORDS)
    skips.cells([one for one in found.words if is_number(one.cell)], CV_BESIDE)
    skips.cells(found.lone, LONE_CV)


def _list_at(view: View, line: int, position: int) -> CvList | None:
    right = _end(view, line, position)
    last = _last_line(view, line, position)
    if last == line:
        return None
    value_position = _value_position(view, line, last, position, right)
    pairs, lone, words = [], [], _beside(view, line, position, value_position, right)
    for one in range(line + 1, last + 1):
        cell, value = view.cells[one, position], view.cells.get((one, value_position))
        if value is None:
            lone.append(cell)
        else:
            pairs.append((cell, value))
        words += _beside(view, one, position, value_position, right)
    if not pairs and value_position:
        return None
    heading, value_heading = view.cells[line, position], view.cells.get((line, value_position))
    lists = (tuple(pairs), tuple(lone), tuple(words))
    return CvList(line, last, heading, value_heading, *lists, unsure=not value_position)


def _last_line(view: View, line: int, position: int) -> int:
    """Return the last line of the CV numbers below a heading, its own line where there are none."""
    last = line
    while (cell := view.cells.get((last + 1, position))) is not None and plain_cv(cell.cell) is not None:
        last += 1
    return last


def _end(view: View, line: int, position: int) -> int:
    """Return the last column of a list: before the next word CV of its line, or where the line ends."""
    nexts = [one for one in view.lines[line] if one > position and is_cv_word(view.text(line, one))]
    return nexts[0] - 1 if nexts else max(view.lines[line][-1], position + 1)


def _value_position(view: View, line: int, last: int, position: int, right: int) -> int:
    """Return the column of the values, 0 where two would do: a value from the wrong one harms an engine.

    A heading that says so decides, also to the left of the CVs. Else it is the one column to the right with
    numbers whose heading says nothing else (as factory values do), or, without any, the next one.
    """
    after = range(position + 1, min(right, position + MOST_COLUMNS) + 1)
    before = range(max(1, position - 2), position)
    said = [one for one in after if _means(view, line, one) == "value"]
    said = said or [one for one in before if _means(view, line, one) == "value"]
    if said:
        return said[0] if len(said) == 1 else 0
    numbers = [one for one in after if _has_numbers(view, line, last, one)]
    free = [one for one in numbers if _means(view, line, one) is None]
    if len(free) == 1 and (len(numbers) == 1 or not view.text(line, free[0])):
        return free[0]
    return 0 if numbers else position + 1


def _means(view: View, line: int, position: int) -> str | None:
    """Return what a heading means first of all, None where that is not known."""
    return next(iter(fields_of(view.text(line, position))), None)


def _has_numbers(view: View, line: int, last: int, position: int) -> bool:
    cells = (view.cells.get((one, position)) for one in range(line + 1, last + 1))
    return any(cell is not None and is_number(cell.cell) for cell in cells)


def _beside(view: View, line: int, position: int, value: int, right: int) -> list[Located]:
    """Return the other cells of a list in one line."""
    within = (one for one in view.lines[line] if position < one <= right and one != value)
    return [view.cells[line, one] for one in within]
