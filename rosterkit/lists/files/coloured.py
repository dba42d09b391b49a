"""Coloured blank cells, and merged areas: of those that go on to the end of a sheet, the used part."""

from collections.abc import Iterable, Mapping
from dataclasses import dataclass, replace

from rosterkit.lists.files.limits import MAX_COLOURED, MAX_LOOKED_AT
from rosterkit.lists.plain import PlainArea, PlainCell, PlainSheet


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


def bounded(sheet: PlainSheet) -> PlainSheet:
    """Return a sheet whose merged areas end with the cells that hold anything, if they are very large.

    What merges all of a sheet is a slip or hostile, and nobody has to go through its cells.
    """
    if not any(_size(area) > MAX_LOOKED_AT for area in sheet.merged):
        return sheet
    box = Box.around(sheet.cells)
    return replace(
        sheet,
        merged=tuple(
            replace(area, bottom=min(area.bottom, box.bottom), right=min(area.right, box.right))
            if _size(area) > MAX_LOOKED_AT
            else area
            for area in sheet.merged
            if area.top <= box.bottom and area.left <= box.right
        ),
    )


def _size(area: PlainArea) -> int:
    return (area.bottom - area.top + 1) * (area.right - area.left + 1)
