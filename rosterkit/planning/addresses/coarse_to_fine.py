"""The exact assignment of rows to columns, by way of rough prices where many crowd for little room."""

from collections.abc import Callable, Mapping, Sequence
from functools import cache
from itertools import pairwise

from rosterkit.planning.addresses.flow import Assignment, Edge
from rosterkit.planning.addresses.path_graph import NO_COLUMN, PathGraph
from rosterkit.planning.addresses.shortest_path import augment, cheapest_assignment

EdgesByGrain = Callable[[int], tuple[list[list[Edge]], PathGraph]]
"""Each row's edges, and the paths that they speak of, with distances in so many numbers at a time."""

GRAIN = 512
"""How many numbers at a time distances are reckoned in for rough prices."""

FINER = 32
"""The same for a second time, where most rows go by distance alone."""

MARGINS = (4, 64)
"""By how many grains rough prices are lowered; where they were too high still, the next is tried."""

CROWD = 1000
"""From so many rows on that need a column rough prices are worth their while, where room is short."""


def crowded_assignment(
    edges_by_grain: EdgesByGrain, without: Sequence[int], start: Mapping[int, int], distance: int
) -> Assignment:
    """Return the cheapest assignment (see cheapest_assignment), where a distance of 1 costs so much.

    A crowd pushes for the last free addresses from all over the layout, one number further each time, and
    every push raises all prices by a little. In rough distances hundreds of pushes go the same way at the
    same price. The exact search then begins with those prices, a little lowered, and with no row in.
    That is proven all the same if no column is left free at a price above nothing; else it begins at 0.
    """
    # Edges are the same whatever the prices, and nothing that works with them changes them.
    edges_by_grain = cache(edges_by_grain)
    edges, lines = edges_by_grain(1)
    waiting = len(without) - len(start)
    if waiting >= CROWD and 2 * waiting > len(set(lines.column_at) - {NO_COLUMN}):
        rough_edges, rough_lines = edges_by_grain(GRAIN)
        rough = cheapest_assignment(rough_edges, without, rough_lines, start)
        along = sum(map(len, rough.entered_at.values()))
        grains = (GRAIN, FINER, 1) if 2 * along > waiting else (GRAIN, 1)
        for margin in MARGINS:
            found = rough
            for coarse, fine in pairwise(grains):
                lower = margin * coarse * distance
                prices = [min(0, price + lower) for price in found.lasting_prices]
                finer_edges, finer_lines = edges_by_grain(fine)
                found = Assignment(finer_edges, without, finer_lines, finer_lines.bounded(prices))
                augment(found)
            if found.proven:
                return found
    return cheapest_assignment(edges, without, lines, start)
