"""Whether engines stand side by side, right of a column of labels, in one block or in several."""

from rosterkit.lists.layout.label_columns import LabelColumn, said
from rosterkit.lists.layout.texts import is_day_or_time, is_number
from rosterkit.lists.layout.view import View

_SAME_KIND = 0.6
"""In this share of the rows at least engines side by side have values of one kind."""
_FILLED = 0.5
"""In this share of the labels' rows at least an engine has a value."""
_MOST_BLOCKS = 200
"""Blocks of engines side by side that stand below each other; longer lists are forms."""


def blocks_across(view: View, columns: list[LabelColumn]) -> list[View]:
    """Return the parts of a sheet, below each other, in which two or more engines stand side by side.

    There is one, unless the labels are repeated; none if the sheet is of another kind.
    """
    if len(columns) != 1:
        return []
    starts = [0]
    seen: set[str] = set()
    for line in columns[0].labels:
        label = said(view, line, columns[0].position)
        if label in seen:
            starts.append(line)
            seen = set()
        seen.add(label)
    if len(starts) > _MOST_BLOCKS:
        return []
    ends = [*(start - 1 for start in starts[1:]), view.order[-1]]
    parts: list[View] = []
    for start, end in zip(starts, ends, strict=True):
        part = view.part((0, max(view.columns)), (start, end))
        labels = tuple(one for one in columns[0].labels if start <= one <= end)
        if not engines_across(part, [LabelColumn(columns[0].position, labels)]):
            return []
        parts.append(part)
    return parts


def engines_across(view: View, columns: list[LabelColumn]) -> bool:
    """Whether two or more engines stand side by side, right of one column of labels."""
    if len(columns) != 1:
        return False
    labels = columns[0]
    texts = [said(view, one, labels.position) for one in labels.labels]
    if len(set(texts)) < len(texts):
        return False
    values = [
        one
        for one in view.columns
        if one > labels.position
        and sum((line, one) in view.cells for line in labels.labels) >= _FILLED * len(texts)
    ]
    return len(values) > 1 and _alike(view, labels.labels, values)


def _alike(view: View, lines: tuple[int, ...], values: list[int]) -> bool:
    """Whether the values of a line are of one kind, numbers or words, in most lines."""
    alike = 0
    for line in lines:
        cells = [view.cells[line, one].cell for one in values if (line, one) in view.cells]
        kinds = {is_number(one) or is_day_or_time(one) for one in cells}
        alike += len(kinds) < 2
    return alike >= _SAME_KIND * len(lines)
