"""The cheapest addresses for all parties of one layout together."""

from collections.abc import Mapping, Sequence
from dataclasses import replace

from rosterkit.cv.addresses import Address
from rosterkit.cv.number_to_address import NOT_KEPT
from rosterkit.planning.addresses.allowed import SIZE, AllowedAddresses
from rosterkit.planning.addresses.coarse_to_fine import crowded_assignment
from rosterkit.planning.addresses.columns import address_at, key_of
from rosterkit.planning.addresses.costs import Cost, Weights, weighed
from rosterkit.planning.addresses.edges import PartyEdges
from rosterkit.planning.addresses.fixed_parties import (
    DualPrices,
    MoveCosts,
    settled_at_first,
    unproven_assignments,
)
from rosterkit.planning.addresses.flow import Edge
from rosterkit.planning.addresses.parties import Party
from rosterkit.planning.addresses.path_graph import PathGraph


def cheapest_places(
    parties: Sequence[Party], permitted: AllowedAddresses, weights: Weights, move_costs: MoveCosts
) -> dict[int, Address | None]:
    """Assign every party its address, or None, at the least cost.

    Most of those who are alone at an address keep it in every cheapest plan. So they are left out at first
    with their addresses, and what is found for the others is checked to be the cheapest for all together;
    whom the check leaves unproven comes in, and the search is made again.
    """
    move_costs = replace(move_costs, holders=_first_of_alike(parties, permitted, move_costs))
    most = weighed(Cost(ambiguous=1, outside=1, number_lost=NOT_KEPT, distance=SIZE), weights)
    settled = settled_at_first(move_costs, most)
    columns: dict[int, int | None] = {}
    while len(settled) < len(parties):
        columns, dual_prices = _without(settled, parties, permitted, weights, move_costs)
        unproven = unproven_assignments(parties, permitted, move_costs, settled, dual_prices)
        if not unproven:
            break
        settled = {party: column for party, column in settled.items() if party not in unproven}
    found = columns | settled
    return {party: None if column is None else address_at(column) for party, column in found.items()}


def _first_of_alike(
    parties: Sequence[Party], permitted: AllowedAddresses, move_costs: MoveCosts
) -> dict[int, list[int]]:
    """Keep one holder of a column out of those who could have the same ones at the same costs.

    If another of them kept it, the two could change places, which costs nothing more where the one that stays
    is the dearest to move.
    """
    found = {}
    for column, some in move_costs.holders.items():
        dearest: dict[object, int] = {}
        for index in sorted(some, key=move_costs.moving.__getitem__):
            party, leaving = parties[index], move_costs.left[index] - move_costs.moving[index]
            dearest[key_of(party, permitted), party.number, leaving] = index
        found[column] = list(dearest.values())
    return found


def _without(
    settled: Mapping[int, int],
    parties: Sequence[Party],
    permitted: AllowedAddresses,
    weights: Weights,
    move_costs: MoveCosts,
) -> tuple[dict[int, int | None], DualPrices]:
    """Return the columns for all but the settled parties, and the prices that prove them the cheapest."""
    rows = [party for party in range(len(parties)) if party not in settled]
    closed, moving = set(settled.values()), move_costs.moving
    holders = {column: some for column, some in move_costs.holders.items() if column not in closed}
    keeps = {party: column for column, some in holders.items() for party in some}
    # What every edge of a row costs is left out: the numbers stay small.
    offset = {row: 0 if row in keeps else moving[row] for row in rows}

    def edges_by_grain(grain: int) -> tuple[list[list[Edge]], PathGraph]:
        edges = PartyEdges([parties[row] for row in rows], permitted, weights, closed, grain)
        found = []
        for row in rows:
            kept = [(0, keeps[row])] if row in keeps else []
            base = moving[row] - offset[row]
            found.append(kept + [(base + cost, node) for cost, node in edges.of(parties[row])])
        return found, edges.lines

    place = {row: at for at, row in enumerate(rows)}
    found = crowded_assignment(
        edges_by_grain,
        without=[move_costs.left[row] - offset[row] for row in rows],
        # The one that is the dearest to move begins with the column that it holds.
        start={place[max(some, key=moving.__getitem__)]: column for column, some in holders.items()},
        distance=weights["distance"],
    )
    prices = found.price[found.first_row :]
    row_prices = {row: offset[row] - price for row, price in zip(rows, prices, strict=True)}
    return dict(zip(rows, found.columns, strict=True)), DualPrices(
        row_prices=row_prices, column_prices=found.column_prices
    )
