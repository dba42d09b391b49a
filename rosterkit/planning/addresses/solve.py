"""The cheapest addresses for all parties of one layout together."""

from collections.abc import Mapping, Sequence
from dataclasses import replace

from rosterkit.cv.addresses import Address
from rosterkit.cv.number_to_address import NOT_KEPT
from rosterkit.planning.addresses.address_classes import address_at, column_of, key_of
from rosterkit.planning.addresses.allowed import SIZE, AllowedAddresses
from rosterkit.planning.addresses.coarse_to_fine import AssignmentProblem, Crowd
from rosterkit.planning.addresses.costs import Cost, Weights
from rosterkit.planning.addresses.fixed_parties import (
    DualPrices,
    MoveCosts,
    UnprovenAssignments,
    settled_at_first,
)
from rosterkit.planning.addresses.parties import Party


def cheapest_places(
    parties: Sequence[Party], permitted: AllowedAddresses, weights: Weights, move_costs: MoveCosts
) -> dict[int, Address | None]:
    """Assign every party its address, or None, at the least cost.

    Most of those who are alone at an address keep it in every cheapest plan. So they are left out at first
    with their addresses, and what is found for the others is checked to be the cheapest for all together;
    whom the check unproven comes in, and the search is made again.
    """
    move_costs = replace(move_costs, holders=_first_of_alike(parties, permitted, move_costs))
    most = weights.total(Cost(doubtful=1, outside=1, number_lost=NOT_KEPT, distance=SIZE))
    settled = settled_at_first(move_costs, most)
    columns: dict[int, int | None] = {}
    while len(settled) < len(parties):
        columns, dual_prices = _without(settled, parties, permitted, weights, move_costs)
        unproven = UnprovenAssignments(parties, permitted, move_costs, settled, dual_prices).found()
        if not unproven:
            break
        settled = {party: column for party, column in settled.items() if party not in unproven}
    found = columns | settled
    return {party: None if (at := found[party]) is None else address_at(at) for party in sorted(found)}


def _first_of_alike(
    parties: Sequence[Party], permitted: AllowedAddresses, move_costs: MoveCosts
) -> dict[Address, list[int]]:
    """Keep one holder of an address out of those who could have the same ones at the same costs.

    If another of them kept it, the two could change places, which costs nothing more where the one that stays
    is the dearer to move.
    """
    found = {}
    for address, some in move_costs.holders.items():
        dearest: dict[object, int] = {}
        for index in sorted(some, key=lambda index: move_costs.moving[index]):
            party, leaving = parties[index], move_costs.left[index] - move_costs.moving[index]
            dearest[key_of(party, permitted), party.number, leaving] = index
        found[address] = list(dearest.values())
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
    closed = set(settled.values())
    keeps = _keeps(move_costs, closed)
    # What every way out of a row costs is left out: the numbers stay small.
    offset = [0 if row in keeps else move_costs.moving[row] for row in rows]
    crowd = Crowd([parties[row] for row in rows], permitted, weights, [address_at(one) for one in closed])
    wishes = AssignmentProblem(
        keeps=[keeps.get(row) for row in rows],
        moving=[move_costs.moving[row] - less for row, less in zip(rows, offset, strict=True)],
        without=[move_costs.left[row] - less for row, less in zip(rows, offset, strict=True)],
        start=_start(move_costs, closed, rows),
    )
    found = crowd.assigned(wishes)
    prices = found.price[found.first_row :]
    pays = {row: less - price for row, less, price in zip(rows, offset, prices, strict=True)}
    asks = {column: price for column, price in found.column_prices.items() if price}
    return dict(zip(rows, found.columns, strict=True)), DualPrices(row_prices=pays, column_prices=asks)


def _keeps(move_costs: MoveCosts, closed: set[int]) -> dict[int, int]:
    """Return the columns that are not closed, by the parties that may keep them."""
    return {
        party: column_of(address)
        for address, some in move_costs.holders.items()
        if column_of(address) not in closed
        for party in some
    }


def _start(move_costs: MoveCosts, closed: set[int], rows: Sequence[int]) -> dict[int, int]:
    """Let the one that is the dearest to move begin with each of those columns, by its place in ``rows``."""
    place = {row: at for at, row in enumerate(rows)}
    return {
        place[max(some, key=lambda party: move_costs.moving[party])]: column_of(address)
        for address, some in move_costs.holders.items()
        if column_of(address) not in closed
    }
