"""Tables beside each other, told from one table with a blank column in it."""

from itertools import pairwise

from rosterkit.lists.layout.headings import HeadingFinder, HeadingLines
from rosterkit.lists.layout.texts import normal
from rosterkit.lists.layout.view import View
from rosterkit.lists.vocabulary import is_total_word

MOST_GAPS = 20
"""A sheet with more blank columns is no list that is printed side by side."""
_TOP = 150
"""In so many filled lines from the top the headings of both tables stand."""
_ALIKE = 0.6
"""From this share of equal headings on two tables are the same one, continued beside itself."""
_FEWEST_LINES_ALONE = 2
"""So many lines at the end that only one side has tell that the other is a table of its own."""


def strips_of(view: View) -> list[View]:
    """Return the parts of a view that stand side by side, from the left; mostly there is one."""
    gaps = _gaps(view)
    if len(gaps) > MOST_GAPS:
        return [view]
    widest = max(view.columns)
    top = view.part((0, widest), (0, view.order[min(len(view.order), _TOP) - 1]))
    for left, right in gaps:
        first, rest = top.part((0, left)), top.part((right, widest))
        if first.cells and rest.cells and _are_two(first, rest):
            return [view.part((0, left)), *strips_of(view.part((right, widest)))]
    return _repeated(view, top)


def _gaps(view: View) -> list[tuple[int, int]]:
    """Return the columns to both sides of each blank one."""
    positions = list(view.columns)
    return [(one, other) for one, other in pairwise(positions) if other > one + 1]


def _are_two(left: View, right: View) -> bool:
    if min(len(left.columns), len(right.columns)) < 2:
        return False
    here, there = HeadingFinder(left), HeadingFinder(right)
    heading, other = here.first_heading(), there.first_heading()
    if heading is None or other is None or min(here.words(heading.last), there.words(other.last)) == 0:
        return False
    if (heading.first, heading.last) != (other.first, other.last):
        return _far_apart(heading, other)
    said, said_there = _texts(left, heading), _texts(right, other)
    equal = len(said & said_there) / max(1, min(len(said), len(said_there)))
    return equal >= _ALIKE or _end_apart(left, right, heading)


def _far_apart(heading: HeadingLines, other: HeadingLines) -> bool:
    """Whether headings share no line, so that they belong to two tables and are not one's two lines."""
    return heading.last < other.first or other.last < heading.first


def _texts(view: View, heading: HeadingLines) -> set[str]:
    return {normal(view.text(heading.last, one)) for one in view.lines[heading.last]}


def _end_apart(left: View, right: View, heading: HeadingLines) -> bool:
    """Whether each side is filled from the top without holes, and one goes on where the other has ended."""
    sides = [(set(one.lines_between(heading.last + 1, one.order[-1])), one) for one in (left, right)]
    (shorter, _), (longer, view) = sorted(sides, key=lambda side: len(side[0]))
    last = max(shorter, default=0)
    beyond = _records_first(view, sorted(one for one in longer if one > last), heading)
    if len(beyond) < _FEWEST_LINES_ALONE or not shorter:
        return False
    alone = len(shorter) + len(beyond)
    return shorter == {one for one in longer if one <= last} and 5 * len(shorter) <= 4 * alone


def _records_first(view: View, lines: list[int], heading: HeadingLines) -> list[int]:
    """Return the lines before the first total or sparse note: from there on they are a table's footer."""
    width = len(view.lines[heading.last])
    for number, line in enumerate(lines):
        cells = view.located(line)
        labelled = cells[0].cell.text.endswith(":")
        if labelled or 2 * len(cells) < width or any(is_total_word(one.cell.text) for one in cells):
            return lines[:number]
    return lines


def _repeated(view: View, top: View) -> list[View]:
    """Return the parts of a view whose headings are the same two or more times without a gap."""
    heading = HeadingFinder(top).first_heading()
    if heading is None:
        return [view]
    positions = view.lines[heading.last]
    texts = [normal(view.text(heading.last, one)) for one in positions]
    for period in range(2, len(texts) // 2 + 1):
        if len(texts) % period == 0 and texts == texts[:period] * (len(texts) // period):
            starts = positions[::period]
            ends = [*(one - 1 for one in starts[1:]), max(view.columns)]
            return [
                view.part((0 if number == 0 else start, end))
                for number, (start, end) in enumerate(zip(starts, ends, strict=True))
            ]
    return [view]
