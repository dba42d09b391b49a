"""Records of two lines, with two lines of headings: each second line is laid beside its first."""

from collections.abc import Sequence
from dataclasses import replace

from rosterkit.lists.layout.bands import Band
from rosterkit.lists.layout.headings import HeadingLines
from rosterkit.lists.layout.texts import is_number, is_word
from rosterkit.lists.layout.view import View

FEWEST_RECORDS = 2
_ALTERNATING = 0.9
"""In this share of the records at least a column has numbers in one line and words in the other."""
_WORDS = 2


def folded(view: View, band: Band) -> tuple[View, Band] | None:
    """Return a table of two-line records with each in one line, None if a table is of another kind."""
    heading = band.heading
    if heading is None or heading.last != heading.first + 1 or band.again or len(band.body) % 2:
        return None
    pairs = list(zip(band.body[::2], band.body[1::2], strict=True))
    if len(pairs) < FEWEST_RECORDS or any(second != first + 1 for first, second in pairs):
        return None
    if not _both_are_headings(view, heading) or not _alternates(view, pairs):
        return None
    width = max(view.columns)
    seconds = {heading.last: heading.first} | {second: first for first, second in pairs}
    cells = {
        (seconds[line], position + width) if line in seconds else (line, position): cell
        for (line, position), cell in view.cells.items()
    }
    merged = tuple(one for one in view.merged if one.top not in seconds)
    laid = replace(view, cells=cells, merged=merged, fold=(width, heading.last))
    body = tuple(first for first, _ in pairs)
    return laid, replace(band, heading=HeadingLines(heading.first, heading.first), body=body)


def _both_are_headings(view: View, heading: HeadingLines) -> bool:
    """Whether both lines have words of headings over the same columns, none of them merged."""
    upper, lower = set(view.lines[heading.first]), set(view.lines[heading.last])
    if any(view.wide(heading.first, one) > 1 for one in upper):
        return False
    words = [
        sum(is_word(view.text(line, one)) for one in view.lines[line])
        for line in (heading.first, heading.last)
    ]
    return min(words) >= _WORDS and 2 * len(upper & lower) >= min(len(upper), len(lower))


def _alternates(view: View, pairs: Sequence[tuple[int, int]]) -> bool:
    """Whether a column has numbers in the first lines and words in the second ones, or vice versa."""
    for position in view.columns:
        kinds = [
            (is_number(view.cells[first, position].cell), is_number(view.cells[second, position].cell))
            for first, second in pairs
            if (first, position) in view.cells and (second, position) in view.cells
        ]
        if len(kinds) >= _ALTERNATING * len(pairs) and (
            kinds.count((True, False)) >= _ALTERNATING * len(pairs)
            or kinds.count((False, True)) >= _ALTERNATING * len(pairs)
        ):
            return True
    return False
