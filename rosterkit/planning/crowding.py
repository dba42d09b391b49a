"""The exact assignment of parties to addresses, by way of rough prices where many crowd for little room."""

from collections.abc import Iterable, Mapping, Sequence

from rosterkit.addressing import Address
from rosterkit.planning.assignment import Assignment, Edge
from rosterkit.planning.costs import Weights
from rosterkit.planning.lanes import Lanes
from rosterkit.planning.lines import NO_COLUMN
from rosterkit.planning.parties import Party
from rosterkit.planning.roads import Roads
from rosterkit.planning.searching import cheapest_assignment, let_in
from rosterkit.planning.territory import Territory

GRAIN = 256
"""How many numbers at a time distances are reckoned in for rough prices."""

MARGINS = (4, 64)
"""By how many grains the rough prices are lowered; where they were too high still, the next is tried."""

CROWD = 1000
"""From so many parties on that need an address rough prices are worth their while, where room is short."""


class Crowd:
    """Parties that want a column each: who may keep one, and what it costs the others."""

    def __init__(
        self, parties: Sequence[Party], territory: Territory, weights: Weights, closed: Iterable[Address]
    ) -> None:
        self._parties, self._territory, self._weights = parties, territory, weights
        self._lanes = Lanes(territory, closed)

    def assigned(
        self,
        keeps: Sequence[int | None],
        moving: Sequence[int],
        without: Sequence[int],
        start: Mapping[int, int],
    ) -> Assignment:
        """Find the cheapest assignment.

        A crowd pushes for the last free addresses from all over the layout, one number further each time, and
        every push raises all prices by a little. In rough distances hundreds of pushes go the same way at the
        same price. The exact search then begins with those prices, a little lowered, and with no party in.
        That is proven all the same if no column is left free at a price above nothing; else it begins at 0.

        Args:
            keeps: the column that a party may keep at no cost.
            moving: what it costs a party to move at all.
            without: what it costs a party to be left.
            start: columns to begin with, by party, out of ``keeps``.
        """
        roads, ways = self._ways(keeps, moving, 1)
        if self._crowded(roads, len(keeps) - len(start)):
            coarse, rough_ways = self._ways(keeps, moving, GRAIN)
            rough = cheapest_assignment(rough_ways, without, coarse.lines, start)
            for margin in MARGINS:
                lower = margin * GRAIN * self._weights.of["distance"]
                prices = [min(0, price + lower) for price in rough.price[: rough.first_row]]
                found = Assignment(ways, without, roads.lines, roads.lines.bounded(prices))
                let_in(found)
                if found.proven:
                    return found
        return cheapest_assignment(ways, without, roads.lines, start)

    def _ways(
        self, keeps: Sequence[int | None], moving: Sequence[int], grain: int
    ) -> tuple[Roads, list[list[Edge]]]:
        roads = Roads(self._parties, self._territory, self._weights, self._lanes, grain)
        ways = []
        for party, column, base in zip(self._parties, keeps, moving, strict=True):
            kept = [] if column is None else [(0, column)]
            ways.append(kept + [(base + cost, node) for cost, node in roads.ways(party)])
        return roads, ways

    def _crowded(self, roads: Roads, waiting: int) -> bool:
        return waiting >= CROWD and 2 * waiting > len(set(roads.lines.column_at) - {NO_COLUMN})
