"""Lists of CVs within a form: CV and Value above numbers."""

from dataclasses import dataclass

from rosterkit.lists.layout.texts import is_cv_word, is_number, plain_cv
from rosterkit.lists.layout.view import Spot, View
from rosterkit.lists.tables import Located

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


def _list_at(view: View, line: int, position: int) -> CvList | None:
    right = _end(view, line, position)
    value_position = _value_position(view, line, position, right)
    pairs, lone, words = [], [], _beside(view, line, position, value_position, right)
    last = line
    while (last + 1, position) in view.cells:
        cell = view.cells[last + 1, position]
        if plain_cv(cell.cell) is None:
            break
        last += 1
        value = view.cells.get((last, value_position))
        if value is None:
            lone.append(cell)
        else:
            pairs.append((cell, value))
        words += _beside(view, last, position, value_position, right)
    if not pairs:
        return None
    heading, value_heading = view.cells[line, position], view.cells.get((line, value_position))
    return CvList(line, last, heading, value_heading, tuple(pairs), tuple(lone), tuple(words))


def _end(view: View, line: int, position: int) -> int:
    """Return the last column of a list: before the next word CV of its line, or where the line ends."""
    nexts = [one for one in view.lines[line] if one > position and is_cv_word(view.text(line, one))]
    return nexts[0] - 1 if nexts else max(view.lines[line][-1], position + 1)


def _value_position(view: View, line: int, position: int, right: int) -> int:
    """Return the first column to the right with numbers below the headings, else the next one."""
    for one in range(position + 1, min(right, position + MOST_COLUMNS) + 1):
        cell = view.cells.get((line + 1, one))
        if cell is not None and is_number(cell.cell):
            return one
    return position + 1


def _beside(view: View, line: int, position: int, value: int, right: int) -> list[Located]:
    """Return the other cells of a list in one line."""
    return [view.cells[line, one] for one in view.lines[line] if position < one <= right and one != value]
