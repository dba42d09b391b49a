"""Finds the cheapest way to give every row a column of its own, exactly, looking at few of the pairs."""

from collections.abc import Mapping, Sequence
from itertools import pairwise

from rosterkit.planning.addresses.path_graph import NO_COLUMN, PathGraph

Edge = tuple[int, int]
"""What a column, or a place on a line of columns, costs a row; and which it is."""

FREE = -1
"""What a column's holder is as long as it has none."""

_WITHOUT = -1
_OUTSIDE = -2
"""Where a row is that goes without a column, and one that has not come in yet."""


class Assignment:
    """Rows, their columns and what proves them the cheapest: a price of each row, column and place.

    A column is held by a row or by a place on a line; to that place a row was passed on along the line from
    the place where it came in. So the whole is a flow of least cost, and a change of it a path. Nodes are
    numbered: columns, then places on lines, then rows.

    Every step that is left for a change costs at least the difference of the prices at its ends, and every
    step in use exactly that; a price is never above 0, and 0 for a column that is free. While this holds no
    change can make the assignment cheaper (complementary slackness of linear programming).
    """

    def __init__(
        self,
        edges: Sequence[Sequence[Edge]],
        without: Sequence[int],
        lines: PathGraph,
        prices: Sequence[int] | None = None,
    ) -> None:
        """Begin with no row in; see cheapest_assignment.

        Prices, if any, are what those of columns and places begin with, bounded by the lines.
        """
        self.edges, self.without, self.lines = edges, without, lines
        self.first_row = lines.columns + len(lines.column_at)
        self.price = [*(prices or [0] * self.first_row), *([0] * len(edges))]
        self.holder = [FREE] * lines.columns
        """The row or place, as a node, that holds a column; none becomes free again."""
        self.flow = [0] * len(lines.column_at)
        """How many more rows are passed on from a place to the next one than back."""
        self.entered_at: dict[int, list[int]] = {}
        """The rows, as nodes, that come in at a place on a line."""
        self._at = [_OUTSIDE] * len(edges)
        self._onward: dict[int, dict[int, int]] = {-1: {}, 1: {}}

    def begin(self, start: Mapping[int, int]) -> None:
        """Let rows come in with a column that costs them nothing, where all prices are still 0."""
        for row, column in start.items():
            self._at[row] = column
            self.holder[column] = self.first_row + row

    @property
    def waiting(self) -> list[int]:
        """The rows that have not come in; first whose way out is cheapest, so that few push others."""
        cheapest = (some[0][0] if some else left for some, left in zip(self.edges, self.without, strict=True))
        gains = [cost - left for cost, left in zip(cheapest, self.without, strict=True)]
        return sorted((row for row, at in enumerate(self._at) if at == _OUTSIDE), key=gains.__getitem__)

    @property
    def proven(self) -> bool:
        """Whether every column that is free has the price 0, as it must where prices were given."""
        return all(self.price[at] == 0 for at, one in enumerate(self.holder) if one == FREE)

    def free_beside(self, place: int, step: int) -> int | None:
        """Return the nearest place on the same line, this one or one that way, whose column is free.

        A column once held stays held, so the way there is remembered for all places on it.
        """
        column_at, holder, onward = self.lines.column_at, self.holder, self._onward[step]
        at = index = place - self.lines.columns
        while column_at[at] != NO_COLUMN and holder[column_at[at]] != FREE:
            at = onward.get(at, at + step)
        while index != at:
            onward[index], index = at, onward.get(index, index + step)
        return None if column_at[at] == NO_COLUMN else at + self.lines.columns

    def along(self, place: int, other: int) -> int:
        """Return what it costs to be passed on from a place to another on the same line.

        A step costs as much as it is long; it saves as much where it takes another back.
        """
        step = 1 if place < other else -1
        lies_at, total = self.lines.lies_at, 0
        for index in range(place - self.lines.columns, other - self.lines.columns, step):
            first = min(index, index + step)
            apart = lies_at[first + 1] - lies_at[first]
            total += apart if self.flow[first] * step >= 0 else -apart
        return total

    def leave(self, row: int) -> None:
        """Let a row go without from the first."""
        self._at[row] = _WITHOUT
        self.price[self.first_row + row] = -self.without[row]

    def change(self, path: Sequence[int]) -> None:
        """Pass on along a path: from a row that comes in to a free column, or to a row that goes without."""
        columns, first_row = self.lines.columns, self.first_row
        for before, node in pairwise(path):
            if before < columns:
                continue  # to its holder, which lets it go
            if before >= first_row:
                self._at[before - first_row] = node
            if node < columns:
                self.holder[node] = before
            elif before >= first_row:
                self.entered_at.setdefault(node - columns, []).append(before)
            elif node >= first_row:
                self.entered_at[before - columns].remove(node)
            else:
                self.flow[min(before, node) - columns] += node - before
        if path[-1] >= first_row:
            self._at[path[-1] - first_row] = _WITHOUT

    @property
    def column_prices(self) -> dict[int, int]:
        """What columns ask of whoever wants them, where that is more than nothing."""
        return {column: -price for column, price in enumerate(self.price[: self.lines.columns]) if price}

    @property
    def lasting_prices(self) -> list[int]:
        """The prices of columns and places for another assignment to begin with: 0 for what was left free."""
        found = self.price[: self.first_row]
        for column, holder in enumerate(self.holder):
            if holder == FREE:
                found[column] = 0
        return found

    @property
    def columns(self) -> list[int | None]:
        """The column of each row.

        Who came in first along a line, counted from its beginning, gets the first column that the line
        holds: no other order makes the distances smaller in sum.
        """
        found = [at if 0 <= at < self.lines.columns else None for at in self._at]
        rows = [row for index in sorted(self.entered_at) for row in self.entered_at[index]]
        held = sorted(one for one in self.holder if self.lines.columns <= one < self.first_row)
        for row, place in zip(rows, held, strict=True):
            found[row - self.first_row] = self.lines.column_at[place - self.lines.columns]
        return found
