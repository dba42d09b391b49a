"""Blank cells that are coloured: patches of a legend, marks on rows; of whole columns the used part."""

from collections.abc import Iterable, Mapping
from dataclasses import dataclass

from rosterkit.lists.files.limits import MAX_COLOURED
from rosterkit.lists.plain import PlainCell


@dataclass(frozen=True, slots=True)
class Box:
    """The rectangle around the cells that hold anything, and one row and column more on each side.

    A patch of a legend stands beside its text; a column that is coloured down to the last row of a sheet says
    nothing more for that.
    """

    top: int
    left: int
    bottom: int
    right: int

    @classmethod
    def around(cls, cells: Mapping[tuple[int, int], PlainCell]) -> "Box":
        """Return the box of a sheet's cells; one that holds none if there are none."""
        if not cells:
            return cls(1, 1, 0, 0)
        rows, columns = [row for row, _ in cells], [column for _, column in cells]
        return cls(max(1, min(rows) - 1), max(1, min(columns) - 1), max(rows) + 1, max(columns) + 1)

    @property
    def area(self) -> int:
        """How many cells it has."""
        return (self.bottom - self.top + 1) * (self.right - self.left + 1)

    def holds(self, row: int, column: int) -> bool:
        """Whether a cell lies inside."""
        return self.top <= row <= self.bottom and self.left <= column <= self.right


def coloured_blanks(
    cells: Mapping[tuple[int, int], PlainCell], colours: Iterable[tuple[tuple[int, int], str]]
) -> dict[tuple[int, int], PlainCell]:
    """Return the blank cells among those that are coloured, ``MAX_COLOURED`` at most.

    Args:
        cells: Those that are not blank.
        colours: Place and colour of cells in and around them.
    """
    found: dict[tuple[int, int], PlainCell] = {}
    kinds: dict[str, PlainCell] = {}
    for at, fill in colours:
        if at not in cells:
            found[at] = kinds.setdefault(fill, PlainCell("", "", fill=fill))
            if len(found) == MAX_COLOURED:
                break
    return found
