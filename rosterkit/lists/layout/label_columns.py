"""Whether labels run down a sheet (a form, a notebook, engines across) instead of along its top."""

from dataclasses import dataclass

from rosterkit.lists.layout.cv_lists import cv_lists
from rosterkit.lists.layout.headings import HeadingFinder
from rosterkit.lists.layout.texts import (
    inline_label,
    is_cv_word,
    is_label,
    is_number,
    label_text,
    normal,
    plain_cv,
)
from rosterkit.lists.layout.view import View
from rosterkit.roster.schema import SETTING_HEADINGS

FEWEST_LABELS = 3
"""So many labels below each other at least make a form."""
_FEWEST_COLONS = 2
"""So many with a colon make a further column of labels."""
_SHARE = 0.6
"""This share of a column's texts at least are labels in a column of labels."""
SHARE_IN_A_FORM = 0.3
"""This share is enough where the sheet is known to be a form: members have labels of their own."""
_VALUED = 1 / 3
"""This share of the labels at least has a value to the right of it."""
_SAME_KIND = 0.6
"""In this share of the rows at least engines side by side have values of one kind."""
_SAMPLE = 400
"""So many texts tell that a long column is none of labels."""
_FEWEST_CVS = 2
_WORDS_OF_A_TABLE = 2


@dataclass(frozen=True, slots=True)
class LabelColumn:
    """A column of labels."""

    position: int
    labels: tuple[int, ...]
    """The lines in which they stand."""


def label_columns(view: View, share: float = _SHARE) -> list[LabelColumn]:
    """Return the columns whose texts are mostly labels (or at least ``share``) with values to the right."""
    found: list[LabelColumn] = []
    fewest = FEWEST_LABELS if share >= _SHARE else FEWEST_LABELS - 1
    for position, lines in view.columns.items():
        texts = [one for one in lines if not is_number(view.cells[one, position].cell)]
        if (
            len(texts) > _SAMPLE
            and sum(
                is_label(view.text(one, position)) or is_inline(view, one, position)
                for one in texts[:_SAMPLE]
            )
            < _SAMPLE / 4
        ):
            continue
        labels = [
            one for one in texts if is_label(view.text(one, position)) or is_inline(view, one, position)
        ]
        colons = bool(found) and all(view.text(one, position).endswith(":") for one in labels)
        if len(labels) < (_FEWEST_COLONS if colons else fewest) or len(labels) < share * len(texts):
            continue
        if found and found[-1].position == position - 1:
            continue
        valued = sum(
            is_inline(view, one, position) or value_beside(view, one, position) is not None for one in labels
        )
        several = len({said(view, one, position) for one in labels}) > 1
        if valued >= _VALUED * len(labels) and (several or colons):
            found.append(LabelColumn(position, tuple(labels)))
    return found


def is_inline(view: View, line: int, position: int) -> bool:
    """Whether a cell that stands alone in its row is a label with its value: 'Owner: M01'."""
    return len(view.lines[line]) == 1 and inline_label(view.text(line, position)) is not None


def said(view: View, line: int, position: int) -> str:
    """Return what a label says, for comparing it with others."""
    text = view.text(line, position)
    pair = inline_label(text) if len(view.lines[line]) == 1 else None
    return normal(pair[0] if pair else label_text(text))


def value_beside(view: View, line: int, position: int) -> int | None:
    """Return where the value of a label stands: the next filled cell, three columns to the right at most."""
    beyond = position + view.wide(line, position)
    near = [one for one in view.lines[line] if beyond <= one < beyond + 3]
    if not near or view.text(line, near[0]).endswith(":"):
        return None
    return near[0]


def is_settings(view: View) -> bool:
    """Whether a sheet is our own list of settings: 'Setting' and 'Value' in its first line."""
    line = view.order[0]
    texts = [normal(view.text(line, one)) for one in view.lines[line][:2]]
    return texts == [normal(one) for one in SETTING_HEADINGS[:2]]


def runs_down(view: View, columns: list[LabelColumn], finder: HeadingFinder) -> bool:
    """Whether more labels stand below each other than headings beside each other."""
    if not columns or is_settings(view):
        return False
    heading = finder.first_heading()
    words = (
        max((finder.words(one) for one in range(heading.first, heading.last + 1)), default=0)
        if heading
        else 0
    )
    cells = len(columns[0].labels)
    labels = len({said(view, one, columns[0].position) for one in columns[0].labels})
    colons = sum(view.text(one, columns[0].position).endswith(":") for one in columns[0].labels)
    if colons > 1 and cv_lists(view):
        return True
    if words < _WORDS_OF_A_TABLE and cells >= 2 * labels:
        return labels > 1  # the same two labels again and again, as a notebook has them
    return labels > words and labels >= FEWEST_LABELS


def cv_numbers_down(view: View) -> int | None:
    """Return the line of a heading CV over CV numbers, beside engines with a value for each, or None."""
    for line in view.order[:10]:
        first = view.lines[line][0]
        if not is_cv_word(view.text(line, first)) or len(view.lines[line]) < 2:
            continue
        below = [one for one in view.columns[first] if one > line]
        numbers = [plain_cv(view.cells[one, first].cell) for one in below]
        of_cvs = [one for one, number in zip(below, numbers, strict=True) if number is not None]
        others = [one for one in below if is_number(view.cells[one, first].cell) and one not in of_cvs]
        many = len(of_cvs) >= max(_FEWEST_CVS, _SAME_KIND * len(below)) and not others
        if many and len({*numbers} - {None}) == len(of_cvs):
            return line if _all_name_engines(view, line, of_cvs) else None
    return None


def _all_name_engines(view: View, line: int, below: list[int]) -> bool:
    """Whether two or more columns right of CV hold values of CVs under headings that are no words."""
    columns = view.lines[line][1:]
    of_values = [
        one
        for one in columns
        if not is_label(view.text(line, one)) and all(_is_value(view, row, one) for row in below)
    ]
    return len(of_values) > 1 or (len(of_values) == 1 == len(columns))


def _is_value(view: View, line: int, position: int) -> bool:
    cell = view.cells.get((line, position))
    return cell is None or is_number(cell.cell)
