"""One search for the cheapest change of an assignment that lets one more row in."""

from collections.abc import Mapping, Sequence
from heapq import heappop, heappush

from rosterkit.planning.addresses.flow import FREE, Assignment, Edge
from rosterkit.planning.addresses.path_graph import NO_COLUMN, PathGraph


def cheapest_assignment(
    edges: Sequence[Sequence[Edge]],
    without: Sequence[int],
    lines: PathGraph,
    start: Mapping[int, int] | None = None,
) -> Assignment:
    """Assign each row a column, no column twice, or leave it without, at the least total cost.

    The rows come in one by one along shortest augmenting paths with dual prices, which proves each stage to
    be the cheapest (successive shortest paths, as in the Hungarian method; R. Jonker and A. Volgenant, "A
    shortest augmenting path algorithm for dense and sparse linear assignment problems", 1987). Costs are
    whole numbers of any size, so that nothing is rounded.

    Edges are each row's columns and places by ascending cost, no cost below 0; ``without`` is what it costs
    a row to go without a column, at least 0; ``start`` has the columns, by row, of rows that begin with one
    that costs them nothing.
    """
    assignment = Assignment(edges, without, lines)
    assignment.begin(start or {})
    augment(assignment)
    return assignment


def augment(assignment: Assignment) -> None:
    """Let all rows in that wait.

    Where a row goes without, every edge of it costs more with the prices, and prices only rise. So whoever
    has the same edges at the same costs goes without too.
    """
    known: dict[tuple[tuple[Edge, ...], int], int] = {}
    alike = [
        known.setdefault((tuple(edges), without), len(known))
        for edges, without in zip(assignment.edges, assignment.without, strict=True)
    ]
    left: set[int] = set()
    for row in assignment.waiting:
        if alike[row] in left:
            assignment.leave(row)
            continue
        last = _Search(assignment, assignment.first_row + row).run()
        if last >= assignment.first_row:
            left.add(alike[last - assignment.first_row])


class _Search:
    """The shortest path from a row to a column that is free, or to a row that goes without (E. W. Dijkstra).

    Distances count from the differences of prices. Of nodes at one distance the last found comes first: where
    many are at one distance, that leads straight on.
    """

    def __init__(self, assignment: Assignment, row: int) -> None:
        self._all = assignment
        self._first = row
        self._best = assignment.without[row - assignment.first_row]
        self._end = row
        """Where the best path so far ends."""
        self._beyond = self._best + 1
        self._distance = {row: 0}
        self._before: dict[int, int] = {}
        self._heap = [(0, 0, row)]
        self._serial = 0

    def run(self) -> int:
        """Let the row in by the cheapest change, set the prices so that they prove it, and give its end."""
        heap, distances = self._heap, self._distance
        columns, first_row = self._all.lines.columns, self._all.first_row
        while heap:
            distance, _, node = heappop(heap)
            if distance >= self._best:
                break
            if distance > distances[node]:
                continue
            if node >= first_row:
                self._leave_row(node, distance)
            else:
                self._leave_place(node, node - columns, distance)
        price, best = self._all.price, self._best
        for node, distance in distances.items():
            if distance < best:
                price[node] += distance - best
        self._all.change(self._path())
        return self._end

    def _leave_row(self, row: int, distance: int) -> None:
        price, known, beyond = self._all.price, self._distance.get, self._beyond
        base = distance + price[row]
        index = row - self._all.first_row
        if base + self._all.without[index] < self._best:
            self._best, self._end = base + self._all.without[index], row
        for cost, node in self._all.edges[index]:
            # No price is above 0, so what follows is no nearer.
            if (bound := base + cost) >= self._best:
                return
            bound -= price[node]
            if bound < self._best and bound < known(node, beyond):
                self._reach(row, node, bound)

    def _leave_place(self, place: int, index: int, distance: int) -> None:
        column = self._all.lines.column_at[index]
        if self._all.holder[column] == place:
            # The column's price goes with the place's.
            self._distance[column] = min(distance, self._distance.get(column, distance))
        else:
            bound = distance + self._all.price[place] - self._all.price[column]
            if bound < self._best and bound < self._distance.get(column, self._beyond):
                self._reach(place, column, bound)
        for row in self._all.entered_at.get(index, ()):
            if distance < self._distance.get(row, self._beyond):
                self._reach(place, row, distance)
        before = self._before[place]
        # This is where most of the time goes, so that both directions are written out.
        column_at, lies_at, flow = self._all.lines.column_at, self._all.lines.lies_at, self._all.flow
        price = self._all.price
        if before != place + 1 and column_at[index + 1] != NO_COLUMN:
            apart = lies_at[index + 1] - lies_at[index]
            bound = distance + price[place] - price[place + 1] + (apart if flow[index] >= 0 else -apart)
            if bound < self._best and bound < self._distance.get(place + 1, self._beyond):
                self._reach(place, place + 1, bound)
        if before != place - 1 and column_at[index - 1] != NO_COLUMN:
            apart = lies_at[index] - lies_at[index - 1]
            bound = distance + price[place] - price[place - 1] + (apart if flow[index - 1] <= 0 else -apart)
            if bound < self._best and bound < self._distance.get(place - 1, self._beyond):
                self._reach(place, place - 1, bound)
        if abs(before - place) != 1:
            self._look_along(place, distance)

    def _reach(self, before: int, node: int, distance: int) -> None:
        """Note a shorter path to a node; from a column that is held it goes on to the holder at no cost."""
        self._before[node] = before
        if node < self._all.lines.columns:
            holder = self._all.holder[node]
            if holder == FREE:
                self._best, self._end = distance, node
                return
            self._distance[node] = distance
            if distance >= self._distance.get(holder, self._beyond):
                return
            self._before[holder] = node
            node = holder
        self._distance[node] = distance
        self._serial -= 1
        heappush(self._heap, (distance, self._serial, node))

    def _look_along(self, place: int, distance: int) -> None:
        """See whether the nearest free columns of a line end the search, before all places up to them."""
        lines, price = self._all.lines, self._all.price
        base = distance + price[place]
        for step in (1, -1):
            free = self._all.free_beside(place, step)
            if free is None:
                continue
            column = lines.column_at[free - lines.columns]
            apart = abs(lines.lies_at[free - lines.columns] - lines.lies_at[place - lines.columns])
            if base + apart - price[column] >= self._best:
                continue
            bound = base + self._all.along(place, free) - price[column]
            if bound < self._best:
                self._best, self._end, self._before[column] = bound, column, place

    def _path(self) -> list[int]:
        path = [self._end]
        while path[-1] != self._first:
            path.append(self._before[path[-1]])
        path.reverse()
        column_at, columns = self._all.lines.column_at, self._all.lines.columns
        if path[-1] < columns <= path[-2] < self._all.first_row:
            # The column was seen from afar: go on along the line to its place. That passes no place for the
            # second time: seen from there the column was as near, and was noted first.
            column = path.pop()
            step = 1 if column > column_at[path[-1] - columns] else -1
            while column_at[path[-1] - columns] != column:
                path.append(path[-1] + step)
            path.append(column)
        return path
