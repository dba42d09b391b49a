"""Finds the cheapest way to give every row a column of its own, exactly, looking at few of the pairs."""

from collections.abc import Iterable, Mapping, Sequence
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
        ways: Sequence[Sequence[Edge]],
        without: Sequence[int],
        lines: PathGraph,
        prices: Sequence[int] | None = None,
    ) -> None:
        """Begin with no row in.

        Args:
            ways: each row's columns and places by ascending cost, no cost below 0.
            without: what it costs a row to go without a column, at least 0.
            lines: the columns, and the lines of them.
            prices: what the prices of columns and places begin with, bounded by the lines.
        """
        self.ways, self.without, self.lines = ways, without, lines
        self.first_row = lines.columns + len(lines.column_at)
        self.price = [*(prices or [0] * self.first_row), *([0] * len(ways))]
        self.holder = [FREE] * lines.columns
        self._held: set[int] = set()
        """The columns that are not free; none becomes free again."""
        self.flow = [0] * len(lines.column_at)
        """How many more rows are passed on from a place to the next one than back."""
        self.entered_at: dict[int, list[int]] = {}
        """The rows, as nodes, that come in at a place on a line."""
        self._at = [_OUTSIDE] * len(ways)
        self._onward: dict[int, dict[int, int]] = {-1: {}, 1: {}}

    def begin(self, start: Mapping[int, int]) -> None:
        """Let rows come in with a column that costs them nothing, where all prices are still 0."""
        for row, column in start.items():
            self._at[row] = column
            self._hold(column, self.first_row + row)

    def _hold(self, column: int, holder: int) -> None:
        self.holder[column] = holder
        self._held.add(column)

    @property
    def waiting(self) -> list[int]:
        """The rows that have not come in."""
        return [row for row, at in enumerate(self._at) if at == _OUTSIDE]

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

    def next_along(self, index: int, step: int) -> int:
        """Return what one step along a line costs; it saves as much where it takes another back."""
        first = index if step > 0 else index - 1
        apart = self.lines.lies_at[first + 1] - self.lines.lies_at[first]
        return apart if self.flow[first] * step >= 0 else -apart

    def along(self, place: int, other: int) -> int:
        """Return what it costs to be passed on from a place to another on the same line."""
        step = 1 if place < other else -1
        columns = self.lines.columns
        return sum(self.next_along(index, step) for index in range(place - columns, other - columns, step))

    def leave(self, row: int) -> None:
        """Let a row go without from the first."""
        self._at[row] = _WITHOUT
        self.price[self.first_row + row] = -self.without[row]

    def change(self, path: Sequence[int]) -> None:
        """Pass on along a path: from a row that comes in to a free column, or to a row that goes without."""
        for before, node in pairwise(path):
            if before >= self.first_row:
                self._enter(before, node)
            elif before >= self.lines.columns:
                self._pass_on(before, node)
        if path[-1] >= self.first_row:
            self._at[path[-1] - self.first_row] = _WITHOUT

    def _enter(self, row: int, node: int) -> None:
        self._at[row - self.first_row] = node
        if node < self.lines.columns:
            self._hold(node, row)
        else:
            self.entered_at.setdefault(node - self.lines.columns, []).append(row)

    def _pass_on(self, place: int, node: int) -> None:
        if node >= self.first_row:
            self.entered_at[place - self.lines.columns].remove(node)
        elif node < self.lines.columns:
            self._hold(node, place)
        elif node > place:
            self.flow[place - self.lines.columns] += 1
        else:
            self.flow[node - self.lines.columns] -= 1

    @property
    def column_prices(self) -> dict[int, int]:
        """What each column that is held asks of whoever wants it."""
        return {column: -self.price[column] for column in self._held}

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
        holders = (self.holder[column] for column in self._held)
        held = sorted(one for one in holders if self.lines.columns <= one < self.first_row)
        for row, place in zip(rows, held, strict=True):
            found[row - self.first_row] = self.lines.column_at[place - self.lines.columns]
        return found


def in_turn(assignment: Assignment, rows: Iterable[int]) -> list[int]:
    """Put rows in an order in which few of them push others: whose way out is cheapest comes in first."""
    ways, without = assignment.ways, assignment.without
    return sorted(rows, key=lambda row: (ways[row][0][0] if ways[row] else without[row]) - without[row])
