"""The exact assignment of parties to addresses, by way of rough prices where many crowd for little room."""

from collections.abc import Callable, Iterable, Mapping, Sequence
from dataclasses import dataclass
from functools import cache, partial
from itertools import pairwise

from rosterkit.cv.addresses import Address
from rosterkit.planning.addresses.address_classes import EquivalenceClasses
from rosterkit.planning.addresses.allowed import AllowedAddresses
from rosterkit.planning.addresses.costs import Weights
from rosterkit.planning.addresses.edges import PartyEdges
from rosterkit.planning.addresses.flow import Assignment, Edge
from rosterkit.planning.addresses.parties import Party
from rosterkit.planning.addresses.path_graph import NO_COLUMN, PathGraph
from rosterkit.planning.addresses.shortest_path import augment, cheapest_assignment

EdgesOnPaths = tuple[list[list[Edge]], PathGraph]
"""What the addresses cost each party, and the lines that this speaks of."""

GRAIN = 512
"""How many numbers at a time distances are reckoned in for rough prices."""

FINER = 32
"""The same for a second time, where most parties go by distance alone."""

MARGINS = (4, 64)
"""By how many grains rough prices are lowered; where they were too high still, the next is tried."""

CROWD = 1000
"""From so many parties on that need an address rough prices are worth their while, where room is short."""


@dataclass(frozen=True, slots=True, kw_only=True)
class AssignmentProblem:
    """What parties want, each by its place among them."""

    keeps: Sequence[int | None]
    """The column that it may keep at no cost."""
    moving: Sequence[int]
    """What it costs to move at all."""
    without: Sequence[int]
    """What it costs to be left."""
    start: Mapping[int, int]
    """Columns to begin with, by party, out of ``keeps``."""


class Crowd:
    """Parties that want an address each; ``closed`` ones are not to be had."""

    def __init__(
        self,
        parties: Sequence[Party],
        permitted: AllowedAddresses,
        weights: Weights,
        closed: Iterable[Address],
    ) -> None:
        self._parties, self._permitted, self._weights = parties, permitted, weights
        self._classes = EquivalenceClasses(permitted, closed)

    def assigned(self, wishes: AssignmentProblem) -> Assignment:
        """Find the cheapest assignment.

        A crowd pushes for the last free addresses from all over the layout, one number further each time, and
        every push raises all prices by a little. In rough distances hundreds of pushes go the same way at the
        same price. The exact search then begins with those prices, a little lowered, and with no party in.
        That is proven all the same if no column is left free at a price above nothing; else it begins at 0.
        """
        # Each grain's ways are the same whatever the prices, and nothing that works with them changes them.
        ways_of = cache(partial(self._ways, wishes))
        ways, lines = ways_of(1)
        waiting = len(wishes.keeps) - len(wishes.start)
        if waiting >= CROWD and 2 * waiting > len(set(lines.column_at) - {NO_COLUMN}):
            rough_ways, rough_lines = ways_of(GRAIN)
            rough = cheapest_assignment(rough_ways, wishes.without, rough_lines, wishes.start)
            for margin in MARGINS:
                found = self._refined(rough, wishes, ways_of, margin)
                if found.proven:
                    return found
        return cheapest_assignment(ways, wishes.without, lines, wishes.start)

    def _refined(
        self,
        rough: Assignment,
        wishes: AssignmentProblem,
        ways_of: Callable[[int], EdgesOnPaths],
        margin: int,
    ) -> Assignment:
        along = sum(len(some) for some in rough.entered_at.values())
        grains = (GRAIN, FINER, 1) if 2 * along > len(wishes.keeps) - len(wishes.start) else (GRAIN, 1)
        found = rough
        for coarse, fine in pairwise(grains):
            lower = margin * coarse * self._weights.of["distance"]
            prices = [min(0, price + lower) for price in found.lasting_prices]
            ways, lines = ways_of(fine)
            found = Assignment(ways, wishes.without, lines, lines.bounded(prices))
            augment(found)
        return found

    def _ways(self, wishes: AssignmentProblem, grain: int) -> EdgesOnPaths:
        edges = PartyEdges(self._parties, self._permitted, self._weights, self._classes, grain)
        ways = []
        for party, column, base in zip(self._parties, wishes.keeps, wishes.moving, strict=True):
            kept = [] if column is None else [(0, column)]
            ways.append(kept + [(base + cost, node) for cost, node in edges.ways(party)])
        return ways, edges.lines
