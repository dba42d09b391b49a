"""Which parties keep their address in every cheapest plan, and the proof of it afterwards."""

from collections.abc import Mapping, Sequence
from dataclasses import dataclass

import numpy as np

from rosterkit.cv.addresses import Space
from rosterkit.planning.addresses.allowed import AllowedAddresses, Flags
from rosterkit.planning.addresses.columns import COLUMNS, Key, columns_for, key_of, shift_of
from rosterkit.planning.addresses.parties import Party


@dataclass(frozen=True, slots=True, kw_only=True)
class MoveCosts:
    """What is at stake for each party, as whole numbers."""

    moving: Sequence[int]
    """What it costs that it moves, wherever to."""
    left: Sequence[int]
    """What it costs that it is left as it is, in a clash."""
    holders: Mapping[int, Sequence[int]]
    """The parties that may keep their address, by its column."""


@dataclass(frozen=True, slots=True, kw_only=True)
class DualPrices:
    """The prices that prove the cheapest plan for some of the parties."""

    row_prices: Mapping[int, int]
    """What each of them pays in all: no more than any address costs it with that address's price."""
    column_prices: Mapping[int, int]
    """The price of each column that is held."""


def unproven_assignments(
    parties: Sequence[Party],
    permitted: AllowedAddresses,
    move_costs: MoveCosts,
    settled: Mapping[int, int],
    dual_prices: DualPrices,
) -> set[int]:
    """Return whom of the parties that were left out the prices of the others cannot vouch for.

    The plan with all of them is the cheapest if prices go with it such that nobody could pay less elsewhere
    (duality of linear programming). A settled party s, whose address costs it nothing, pays the price of that
    address, P(s). The conditions are those of the whole assignment, with the distance and so on left out,
    which could only make them easier to meet:

    - s pays no more than to be left, nor than to move to an address that was open:
      P(s) <= left(s), and P(s) <= moving(s) + the least price of an open address that s may have;
    - whoever else may move to the address of s pays no more than that costs: moving + P(s);
    - whoever else may keep the same address pays no more than P(s).
    """
    moving, left, row_prices = move_costs.moving, move_costs.left, dual_prices.row_prices
    keys = [key_of(party, permitted) for party in parties]
    examples = dict(zip(keys, parties, strict=True))
    columns = {key: columns_for(party, permitted) for key, party in examples.items()}

    def most_above(pays: Mapping[int, int]) -> dict[Key, int]:
        """Return by how much somebody of each key pays more than the moving, at most."""
        above: dict[Key, int] = {}
        for party, price in pays.items():
            over = price - moving[party]
            above[keys[party]] = max(above.get(keys[party], over), over)
        return above

    rivals = {
        party: max(row_prices[other] for other in some if other != party)
        for some in move_costs.holders.values()
        for party in some
        if party in settled and len(some) > 1
    }
    # The highest price that each settled party could pay, as far as anybody asks for it.
    highest = max([0, *most_above(row_prices).values(), *rivals.values()])
    elsewhere = _cheapest_open(columns, settled, dual_prices.column_prices)
    prices = {}
    for party in settled:
        price = elsewhere[keys[party]]
        limit = left[party] if price is None else min(left[party], moving[party] + price)
        prices[party] = min(limit, highest)
    least = _least_prices(columns, settled, most_above({**row_prices, **prices}))
    return {
        party
        for party, column in settled.items()
        if prices[party] < max(least.get(column, 0), rivals.get(party, 0))
    }


def _cheapest_open(
    columns: Mapping[Key, Flags], settled: Mapping[int, int], prices: Mapping[int, int]
) -> dict[Key, int | None]:
    """Return the least price of an open column by who may have it; None where none is open."""
    asking = sorted((column for column, price in prices.items() if price), key=prices.__getitem__)
    nothing = np.ones(COLUMNS, dtype=np.bool_)
    nothing[[*settled.values(), *asking]] = False
    found: dict[Key, int | None] = {}
    for key, flagged in columns.items():
        places = np.flatnonzero(flagged[asking])
        least = prices[asking[int(places[0])]] if len(places) else None
        found[key] = 0 if (flagged & nothing).any() else least
    return found


def _least_prices(
    columns: Mapping[Key, Flags], settled: Mapping[int, int], above: Mapping[Key, int]
) -> dict[int, int]:
    """Return by column what its price must be for all that may move there to stay where they are."""
    unknown = np.zeros(COLUMNS, dtype=np.bool_)
    unknown[list(settled.values())] = True
    least: dict[int, int] = {}
    for key in sorted(above, key=above.__getitem__, reverse=True):
        least |= dict.fromkeys(np.flatnonzero(columns[key] & unknown).tolist(), above[key])
        unknown &= ~columns[key]
    return least


def settled_at_first(move_costs: MoveCosts, most: int) -> dict[int, int]:
    """Return the columns of those who in most plans keep them, by party.

    The only holder of an address, and the one that is dearer to move than any other by more than ``most``,
    what the choice of an address can make out. Short addresses are few, and who holds one may have to make
    room, so that none is settled.
    """
    settled = {}
    for column, some in move_costs.holders.items():
        *others, dearest = sorted(some, key=move_costs.moving.__getitem__)
        clear = all(move_costs.moving[dearest] - move_costs.moving[party] > most for party in others)
        if clear and column >= shift_of(Space.LONG):
            settled[dearest] = column
    return settled
