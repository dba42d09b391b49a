"""The headings of a table's columns, of one to three lines: joined, and spread over what they cover."""

from collections.abc import Sequence

from rosterkit.lists.layout.headings import HeadingLines
from rosterkit.lists.layout.texts import is_word, plain_cv, speaks_of_cvs
from rosterkit.lists.layout.view import View
from rosterkit.lists.tables import Located


class HeadingTexts:
    """Reads the headings of a table's columns."""

    def __init__(self, view: View, heading: HeadingLines, columns: Sequence[int]) -> None:
        self._view, self._columns = view, columns
        self._lines = range(heading.first, heading.last + 1)
        self._covering = {line: self._spread(line) for line in self._lines}

    def cells(self, position: int) -> list[Located]:
        """Return the cells over a column from the top, those that are merged or spread over it too."""
        found: list[Located] = []
        for line in self._lines:
            cell = self._covering[line].get(position)
            if cell is not None and cell not in found:
                found.append(cell)
        return found

    def text(self, position: int) -> str:
        """Return a column's heading, its lines joined by a blank, each text once."""
        texts: list[str] = []
        for cell in self.cells(position):
            text = " ".join(cell.cell.text.split())
            if text not in texts:
                texts.append(text)
        return " ".join(texts)

    def _spread(self, line: int) -> dict[int, Located]:
        """Return the cell of a heading line that holds for each column."""
        view, covering = self._view, {}
        for position in view.lines.get(line, ()):
            for one in range(position, position + view.wide(line, position)):
                covering[one] = view.cells[line, position]
        is_upper = line < self._lines[-1]
        if is_upper:
            nearest: Located | None = None
            for position in self._columns:
                here = covering.get(position)
                nearest = here or nearest
                if here is None and nearest is not None and self._needs(position, line, nearest):
                    covering[position] = nearest
        return covering

    def _needs(self, position: int, line: int, upper: Located) -> bool:
        """Whether a column that has nothing above its lower heading takes the one to the left of that.

        A CV number needs its word CV. Another lower heading that is known alone needs none, nor does a
        column without any.
        """
        lower = self._view.cells.get((line + 1, position))
        if lower is None:
            return False
        if speaks_of_cvs(upper.cell.text):
            return plain_cv(lower.cell) is not None
        return line == self._lines[0] and not is_word(lower.cell.text) and plain_cv(lower.cell) is None
