"""Finds the cheapest way to give every row a column of its own, exactly, looking at few of the pairs."""

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass, field
from heapq import heappop, heappush
from itertools import count

Edge = tuple[int, int]
"""What a column costs a row, and the column."""


class _Edges:
    """A row's columns from the cheapest on, fetched as far as the search has come."""

    __slots__ = ("_rest", "_seen")

    def __init__(self, ascending: Iterator[Edge]) -> None:
        self._rest = ascending
        self._seen: list[Edge] = []

    def at(self, index: int) -> Edge | None:
        """Give the edge of that rank from 0; None where the row has no more."""
        while len(self._seen) <= index:
            edge = next(self._rest, None)
            if edge is None:
                return None
            self._seen.append(edge)
        return self._seen[index]


@dataclass(slots=True)
class _Search:
    """One search for the shortest way from a row to a column that is free, or to a row that goes without."""

    heap: list[tuple[int, int, int, int, int]] = field(default_factory=list)
    """Distance, serial number, and what is there: a row's next edge, a column, or a row that goes without."""
    serial: Iterator[int] = field(default_factory=count)
    reached: dict[int, tuple[int, int]] = field(default_factory=dict)
    """Column to its distance so far and the row before it."""
    final: dict[int, int] = field(default_factory=dict)
    """Column to its distance, once it cannot become shorter."""


_EDGE, _COLUMN, _WITHOUT = range(3)


def cheapest_assignment(
    edges: Sequence[Iterator[Edge]], without: Sequence[int], start: Mapping[int, int] | None = None
) -> list[int | None]:
    """Give each row a column, no column twice, or leave it without, at the least total cost.

    The rows come in one by one along shortest augmenting paths with dual prices, which proves each stage to
    be the cheapest (successive shortest paths, as in the Hungarian method; R. Jonker and A. Volgenant, "A
    shortest augmenting path algorithm for dense and sparse linear assignment problems", 1987). Costs are
    whole numbers of any size, so that nothing is rounded.

    Args:
        edges: each row's columns by ascending cost, no cost below 0.
        without: what it costs a row to go without a column, at least 0.
        start: column by row for rows that begin with a column that costs them nothing.

    Returns:
        The column of each row, or None.
    """
    solver = _Solver([_Edges(row) for row in edges], without, dict(start or {}))
    for row in range(len(edges)):
        if solver.column_of[row] is None:
            solver.insert(row)
    return solver.column_of


class _Solver:
    def __init__(self, edges: list[_Edges], without: Sequence[int], start: dict[int, int]) -> None:
        self._edges = edges
        self._without = without
        self._row_price = [0] * len(edges)
        self._column_price: dict[int, int] = {}
        """Never above 0, and 0 for a column that is free: so a row's edges bound what is still unseen."""
        self.column_of: list[int | None] = [start.get(row) for row in range(len(edges))]
        self._row_of = {column: row for row, column in start.items()}

    def insert(self, row: int) -> None:
        """Give one more row a column, and move those before it where that is cheaper."""
        search = _Search()
        self._reach_row(search, row, 0)
        while True:
            distance, _, what, at, rank = heappop(search.heap)
            if what == _EDGE:
                held = self.column_of[at]
                self._follow(search, at, rank, 0 if held is None else search.final[held])
            elif what == _WITHOUT:
                self._settle(search, row, distance)
                self._shift(search, row, at)
                return
            elif at not in self._row_of:
                self._settle(search, row, distance)
                self._hand_on(search, row, at)
                return
            elif at not in search.final:
                search.final[at] = distance
                self._reach_row(search, self._row_of[at], distance)

    def _reach_row(self, search: _Search, row: int, distance: int) -> None:
        price = self._row_price[row]
        alone = distance + self._without[row] - price
        heappush(search.heap, (alone, next(search.serial), _WITHOUT, row, 0))
        self._follow(search, row, 0, distance)

    def _follow(self, search: _Search, row: int, rank: int, distance: int) -> None:
        """Look along a row's edges from a rank on, as far as they can be nearer than what else is known."""
        edges, heap, base = self._edges[row], search.heap, distance - self._row_price[row]
        while (edge := edges.at(rank)) is not None:
            cost, column = edge
            bound = base + cost
            if bound > heap[0][0]:
                heappush(heap, (bound, next(search.serial), _EDGE, row, rank))
                return
            rank += 1
            if column not in search.final:
                nearer = bound - self._column_price.get(column, 0)
                if column not in search.reached or nearer < search.reached[column][0]:
                    search.reached[column] = nearer, row
                    heappush(heap, (nearer, next(search.serial), _COLUMN, column, 0))

    def _settle(self, search: _Search, row: int, length: int) -> None:
        """Change the prices so that every column in use is still the best its row can have."""
        self._row_price[row] += length
        for column, distance in search.final.items():
            self._column_price[column] = self._column_price.get(column, 0) + distance - length
            self._row_price[self._row_of[column]] += length - distance

    def _hand_on(self, search: _Search, first: int, column: int) -> None:
        """Give a column to the row that reached it, that row's column to the one before, and so on."""
        while True:
            row = search.reached[column][1]
            freed = self.column_of[row]
            self.column_of[row], self._row_of[column] = column, row
            if row == first or freed is None:
                return
            column = freed

    def _shift(self, search: _Search, first: int, last: int) -> None:
        """Leave a row without, and give its column to the row that reached it."""
        freed = self.column_of[last]
        self.column_of[last] = None
        if last != first and freed is not None:
            self._hand_on(search, first, freed)
