"""Where the forms of a strip begin: at their titles, or where a label comes again."""

from collections import Counter

from rosterkit.lists.layout.label_columns import LabelColumn, said
from rosterkit.lists.layout.view import Spot, View

_SAME_FORM = 0.6
"""This share of the titles at least stands above one and the same label."""


class FormStarts:
    """Finds the first lines of forms below each other."""

    def __init__(self, view: View, columns: list[LabelColumn]) -> None:
        self._view = view
        self.positions = [one.position for one in columns]
        self.labels: set[Spot] = {(line, one.position) for one in columns for line in one.labels}

    def starts(self) -> list[int]:
        """Return the first lines of the forms: titles followed by one label, else where labels come again."""
        by_titles = self._starts_by_titles()
        return by_titles or self._starts_by_labels()

    def _starts_by_titles(self) -> list[int]:
        view, starts = self._view, []
        for number, line in enumerate(view.order[:-1]):
            following = view.order[number + 1]
            if (
                self._is_title(line)
                and self._has_label(following)
                and not (number and self._is_title(view.order[number - 1]))
            ):
                starts.append(line)
        firsts = Counter(self._first_label(one) for one in starts)
        if len(starts) < 2 or not firsts or firsts.most_common(1)[0][1] < _SAME_FORM * len(starts):
            return []
        return [view.order[0], *starts[1:]]

    def _starts_by_labels(self) -> list[int]:
        view = self._view
        starts = [view.order[0]]
        seen: set[str] = set()
        for number, line in enumerate(view.order):
            labels = {said(view, line, one) for one in view.lines[line] if (line, one) in self.labels}
            if labels & seen:
                starts.append(self._title_above(number, starts[-1]))
                seen = set()
            seen |= labels
        return starts

    def _title_above(self, number: int, after: int) -> int:
        """Return the first of the titles right above a line, or the line."""
        order = self._view.order
        while number and order[number - 1] > after and self._is_title(order[number - 1]):
            number -= 1
        return order[number]

    def _is_title(self, line: int) -> bool:
        return (
            len(self._view.lines[line]) == 1
            and not self._has_label(line)
            and (self._view.lines[line][0] <= self.positions[0])
        )

    def _has_label(self, line: int) -> bool:
        return any((line, one) in self.labels for one in self._view.lines[line])

    def _first_label(self, start: int) -> str:
        view = self._view
        for line in view.lines_between(start, start + 3):
            for one in view.lines[line]:
                if (line, one) in self.labels:
                    return said(view, line, one)
        return ""
