"""The cheapest addresses for all parties of one layout together."""

from collections.abc import Mapping, Sequence
from dataclasses import replace

from rosterkit.cv.addresses import Address
from rosterkit.cv.number_to_address import NOT_KEPT
from rosterkit.planning.addresses.address_classes import address_at, column_of, key_of
from rosterkit.planning.addresses.allowed import SIZE, Territory
from rosterkit.planning.addresses.coarse_to_fine import Crowd, Wishes
from rosterkit.planning.addresses.costs import Cost, Weights
from rosterkit.planning.addresses.fixed_parties import Doubts, Offer, Stakes, settled_at_first
from rosterkit.planning.addresses.parties import Party


def cheapest_places(
    parties: Sequence[Party], territory: Territory, weights: Weights, stakes: Stakes
) -> dict[int, Address | None]:
    """Assign every party its address, or None, at the least cost.

    Most of those who are alone at an address keep it in every cheapest plan. So they are left out at first
    with their addresses, and what is found for the others is checked to be the cheapest for all together;
    whom the check doubts comes in, and the search is made again.
    """
    stakes = replace(stakes, holders=_first_of_alike(parties, territory, stakes))
    most = weights.total(Cost(doubtful=1, outside=1, number_lost=NOT_KEPT, distance=SIZE))
    settled = settled_at_first(stakes, most)
    columns: dict[int, int | None] = {}
    while len(settled) < len(parties):
        columns, offer = _without(settled, parties, territory, weights, stakes)
        doubts = Doubts(parties, territory, stakes, settled, offer).found()
        if not doubts:
            break
        settled = {party: column for party, column in settled.items() if party not in doubts}
    found = columns | settled
    return {party: None if (at := found[party]) is None else address_at(at) for party in sorted(found)}


def _first_of_alike(
    parties: Sequence[Party], territory: Territory, stakes: Stakes
) -> dict[Address, list[int]]:
    """Keep one holder of an address out of those who could have the same ones at the same costs.

    If another of them kept it, the two could change places, which costs nothing more where the one that stays
    is the dearer to move.
    """
    found = {}
    for address, some in stakes.holders.items():
        dearest: dict[object, int] = {}
        for index in sorted(some, key=lambda index: stakes.moving[index]):
            party, leaving = parties[index], stakes.left[index] - stakes.moving[index]
            dearest[key_of(party, territory), party.number, leaving] = index
        found[address] = list(dearest.values())
    return found


def _without(
    settled: Mapping[int, int],
    parties: Sequence[Party],
    territory: Territory,
    weights: Weights,
    stakes: Stakes,
) -> tuple[dict[int, int | None], Offer]:
    """Return the columns for all but the settled parties, and the prices that prove them the cheapest."""
    rows = [party for party in range(len(parties)) if party not in settled]
    closed = set(settled.values())
    keeps = _keeps(stakes, closed)
    # What every way out of a row costs is left out: the numbers stay small.
    offset = [0 if row in keeps else stakes.moving[row] for row in rows]
    crowd = Crowd([parties[row] for row in rows], territory, weights, [address_at(one) for one in closed])
    wishes = Wishes(
        keeps=[keeps.get(row) for row in rows],
        moving=[stakes.moving[row] - less for row, less in zip(rows, offset, strict=True)],
        without=[stakes.left[row] - less for row, less in zip(rows, offset, strict=True)],
        start=_start(stakes, closed, rows),
    )
    found = crowd.assigned(wishes)
    prices = found.price[found.first_row :]
    pays = {row: less - price for row, less, price in zip(rows, offset, prices, strict=True)}
    asks = {column: price for column, price in found.column_prices.items() if price}
    return dict(zip(rows, found.columns, strict=True)), Offer(pays=pays, asks=asks)


def _keeps(stakes: Stakes, closed: set[int]) -> dict[int, int]:
    """Return the columns that are not closed, by the parties that may keep them."""
    return {
        party: column_of(address)
        for address, some in stakes.holders.items()
        if column_of(address) not in closed
        for party in some
    }


def _start(stakes: Stakes, closed: set[int], rows: Sequence[int]) -> dict[int, int]:
    """Let the one that is the dearest to move begin with each of those columns, by its place in ``rows``."""
    place = {row: at for at, row in enumerate(rows)}
    return {
        place[max(some, key=lambda party: stakes.moving[party])]: column_of(address)
        for address, some in stakes.holders.items()
        if column_of(address) not in closed
    }
