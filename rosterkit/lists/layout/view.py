"""A sheet, or a part of one, seen line by line: its rows, or its columns where engines stand side by side."""

from bisect import bisect_left, bisect_right
from collections.abc import Iterable, Mapping
from dataclasses import dataclass
from functools import cached_property

from rosterkit.cell_names import column_letters
from rosterkit.lists.plain import Place, PlainArea, PlainSheet
from rosterkit.lists.tables import Located

Spot = tuple[int, int]
"""Line and position in it: row and column, or column and row of a sheet that is seen across."""


@dataclass(frozen=True)
class View:
    """The filled cells of a part of a sheet; a cell that shows nothing is not there."""

    sheet: str
    cells: Mapping[Spot, Located]
    merged: tuple[PlainArea, ...] = ()
    """In lines and positions."""
    across: bool = False
    """Whether its lines are the columns of the sheet."""
    fold: tuple[int, int] = (0, 0)
    """Beyond this position stand the cells of a second line, whose headings stand in this row; 0 for none."""

    @cached_property
    def lines(self) -> dict[int, list[int]]:
        """The filled positions by line, both ascending."""
        found: dict[int, list[int]] = {}
        for line, position in sorted(self.cells):
            found.setdefault(line, []).append(position)
        return found

    @cached_property
    def order(self) -> list[int]:
        """The filled lines, ascending."""
        return list(self.lines)

    @cached_property
    def columns(self) -> dict[int, list[int]]:
        """The filled lines by position, both ascending."""
        found: dict[int, list[int]] = {}
        for position, line in sorted((position, line) for line, position in self.cells):
            found.setdefault(position, []).append(line)
        return found

    @cached_property
    def spans(self) -> dict[Spot, PlainArea]:
        """The merged areas by their first cell."""
        return {(area.top, area.left): area for area in self.merged}

    def text(self, line: int, position: int) -> str:
        """Return what a cell shows, blank where nothing stands."""
        found = self.cells.get((line, position))
        return found.cell.text if found else ""

    def located(self, line: int) -> list[Located]:
        """Return the filled cells of a line in their order."""
        return [self.cells[line, position] for position in self.lines.get(line, ())]

    def lines_between(self, first: int, last: int) -> list[int]:
        """Return the filled lines from the first to the last, both included."""
        return self.order[bisect_left(self.order, first) : bisect_right(self.order, last)]

    def is_blank(self, line: int) -> bool:
        """Whether nothing stands in a line."""
        return line not in self.lines

    def wide(self, line: int, position: int) -> int:
        """Return how many positions the cell takes: 1, or more where it is merged."""
        area = self.spans.get((line, position))
        return area.right - area.left + 1 if area else 1

    def line_key(self, line: int) -> str:
        """Return how a record or heading in this line is named: SHEET!5, or SHEET!B."""
        return f"{self.sheet}!{column_letters(line) if self.across else line}"

    def position_key(self, position: int) -> str:
        """Return how a heading over a position is named: SHEET!C, SHEET!5; SHEET!C2 in a second line."""
        width, row = self.fold
        if 0 < width < position:
            return f"{self.sheet}!{column_letters(position - width)}{row}"
        return f"{self.sheet}!{position if self.across else column_letters(position)}"

    def part(self, positions: tuple[int, int], lines: tuple[int, int] | None = None) -> "View":
        """Return the cells within positions and lines, both ends included."""
        left, right = positions
        top, bottom = lines or (0, max(self.order, default=0))
        cells = {
            (line, position): cell
            for (line, position), cell in self.cells.items()
            if left <= position <= right and top <= line <= bottom
        }
        merged = tuple(
            area for area in self.merged if left <= area.left <= right and top <= area.top <= bottom
        )
        return View(self.sheet, cells, merged, self.across)

    def without(self, taken: Iterable[Spot]) -> "View":
        """Return the view less some cells."""
        gone = set(taken)
        cells = {spot: cell for spot, cell in self.cells.items() if spot not in gone} if gone else self.cells
        return View(self.sheet, cells, self.merged, self.across)

    def turned(self) -> "View":
        """Return the same cells with lines and positions exchanged."""
        cells = {(position, line): cell for (line, position), cell in self.cells.items()}
        merged = tuple(PlainArea(one.left, one.top, one.right, one.bottom) for one in self.merged)
        return View(self.sheet, cells, merged, not self.across)


def view_of(sheet: PlainSheet) -> View:
    """Return what a sheet shows, row by row."""
    cells = {
        (row, column): Located(Place(sheet.title, row, column), cell)
        for (row, column), cell in sheet.cells.items()
        if cell.text
    }
    return View(sheet.title, cells, sheet.merged)
