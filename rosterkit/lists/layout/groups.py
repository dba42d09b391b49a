"""Group rows: texts above the records that they hold for, in one level or two."""

from collections.abc import Sequence
from dataclasses import dataclass, replace

from rosterkit.lists.layout.texts import inline_label
from rosterkit.lists.layout.view import View
from rosterkit.lists.tables import Heading, Located, Origin


@dataclass(frozen=True, slots=True)
class _Style:
    """By what groups of different levels are told apart."""

    label: str
    position: int
    merged: bool
    fill: str
    capitals: bool


class Groups:
    """Keeps which groups hold for the next record."""

    def __init__(self, view: View, first: int) -> None:
        self._view = view
        self.headings: list[Heading] = []
        self._first = first
        """The number of the first group's heading in its table."""
        self._styles: dict[_Style, int] = {}
        self._held: dict[int, Located] = {}
        self._pending: dict[int, int] = {}
        """Groups without a record as yet: level and line."""

    def enter(self, line: int) -> list[int]:
        """Take a group row; return the lines of earlier ones that it replaces before any record."""
        text, value = label_and_value(self._view.located(line))
        style = self._style(line, text)
        if style not in self._styles:
            self._styles[style] = self._new_level(text)
        level = self._styles[style]
        replaced = sorted(at for one, at in self._pending.items() if one >= level)
        for one in [deeper for deeper in self._pending if deeper >= level]:
            self._forget_label(one, self._pending.pop(one))
        self._held = {one: cell for one, cell in self._held.items() if one < level}
        self._held[level] = value
        self._pending[level] = line
        if len(self._view.lines[line]) > 1:
            known = self.headings[level]
            self.headings[level] = replace(known, at=(*known.at, self._view.located(line)[0]))
        return replaced

    def _forget_label(self, level: int, line: int) -> None:
        """Take the label of a group that holds for nothing from its heading: its line is a note."""
        label = self._view.located(line)[0]
        known = self.headings[level]
        self.headings[level] = replace(known, at=tuple(one for one in known.at if one is not label))

    def held(self) -> dict[int, Located]:
        """Return the groups of the next record by the number of their heading."""
        self._pending.clear()
        return {self._first + level: cell for level, cell in self._held.items()}

    def _style(self, line: int, label: str) -> _Style:
        position = self._view.lines[line][-1]
        cell = self._view.cells[line, position].cell
        if label:
            return _Style(label, 0, merged=False, fill="", capitals=False)
        wide = self._view.wide(line, position) > 1
        return _Style("", position, wide, cell.fill, cell.text.isupper())

    def _new_level(self, label: str) -> int:
        """Return the level of a group of a new style: below one right above it, else the first."""
        if label or self._pending or not self.headings:
            number = len(self.headings)
            name = f"group {label}" if label else "group" if number == 0 else f"group {number + 1}"
            self.headings.append(Heading(f"{self._view.sheet}!{name}", label, Origin.GROUP_ROW))
            return number
        return 0


def label_and_value(cells: Sequence[Located]) -> tuple[str, Located]:
    """Return the label of 'Owner: M01' and M01, in one cell or two; a blank label where there is none."""
    if len(cells) > 1:
        return cells[0].cell.text.rstrip(": "), cells[1]
    pair = inline_label(cells[0].cell.text)
    if pair is None:
        return "", cells[0]
    return pair[0], Located(cells[0].place, replace(cells[0].cell, text=pair[1], value=pair[1]))
