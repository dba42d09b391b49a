"""Whether lines without headings are a table nevertheless."""

from collections import Counter

from rosterkit.lists.layout.texts import is_number, is_sentence, shape
from rosterkit.lists.layout.view import View

_SHARE = 0.6
"""In this share of the lines at least one column holds values made alike, digits among them."""
_FEWEST = 2


def is_regular(view: View) -> bool:
    """Whether the lines of a view repeat a pattern, as data do: numbers, or labels with numbers.

    Lines of words are taken for notes.
    """
    lines = len(view.order)
    if lines < _FEWEST:
        return False
    texts = [one.cell.text for one in view.cells.values()]
    if 2 * sum(map(is_sentence, texts)) > len(texts):
        return False
    return any(_is_regular(view, one, lines) for one in view.columns)


def _is_regular(view: View, position: int, lines: int) -> bool:
    forms: Counter[str] = Counter()
    for line in view.columns[position]:
        cell = view.cells[line, position].cell
        forms["9" if is_number(cell) else shape(cell.text)] += 1
    with_digits = sum(count for form, count in forms.items() if "9" in form)
    return with_digits >= _SHARE * lines and forms.most_common(1)[0][1] > 1
