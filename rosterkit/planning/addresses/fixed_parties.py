"""Which parties keep their address in every cheapest plan, and the proof of it afterwards."""

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass

import numpy as np

from rosterkit.cv.addresses import Address
from rosterkit.planning.addresses.address_classes import COLUMNS, Key, column_of, columns_for, key_of
from rosterkit.planning.addresses.allowed import AllowedAddresses, Flags
from rosterkit.planning.addresses.parties import Party


@dataclass(frozen=True, slots=True, kw_only=True)
class MoveCosts:
    """What is at stake for each party, as whole numbers."""

    moving: Sequence[int]
    """What it costs that it moves, wherever to."""
    left: Sequence[int]
    """What it costs that it is left as it is, in a clash."""
    holders: Mapping[Address, Sequence[int]]
    """The parties that may keep their address, by address."""


@dataclass(frozen=True, slots=True, kw_only=True)
class DualPrices:
    """The prices that prove the cheapest plan for some of the parties."""

    row_prices: Mapping[int, int]
    """What each of them pays in all: no more than any address costs it with that address's price."""
    column_prices: Mapping[int, int]
    """The price of each column that has one."""


class UnprovenAssignments:
    """Finds whom of the parties that were left out the prices of the others cannot vouch for.

    The plan with all of them is the cheapest if prices go with it such that nobody could pay less elsewhere
    (duality of linear programming). A settled party s, whose address costs it nothing, pays the price of that
    address, P(s). The conditions are those of the whole assignment, with the distance and so on left out,
    which could only make them easier to meet:

    - s pays no more than to be left, nor than to move to an address that was open:
      P(s) <= left(s), and P(s) <= moving(s) + the least price of an open address that s may have;
    - whoever else may move to the address of s pays no more than that costs: moving + P(s);
    - whoever else may keep the same address pays no more than P(s).
    """

    def __init__(
        self,
        parties: Sequence[Party],
        permitted: AllowedAddresses,
        move_costs: MoveCosts,
        settled: Mapping[int, int],
        dual_prices: DualPrices,
    ) -> None:
        self._move_costs, self._settled, self._dual_prices = move_costs, settled, dual_prices
        self._keys = [key_of(party, permitted) for party in parties]
        self._columns: dict[Key, Flags] = {}
        for key, party in zip(self._keys, parties, strict=True):
            if key not in self._columns:
                self._columns[key] = columns_for(party, permitted)

    def found(self) -> set[int]:
        """Return the settled parties for which there is no such price."""
        above = self._above(self._dual_prices.row_prices)
        rivals = self._rivals()
        highest = max([0, *above.values(), *rivals.values()])
        prices = self._prices(highest)
        for key, one in self._above(prices).items():
            above[key] = max(above.get(key, one), one)
        least = self._least_prices(above)
        return {
            party
            for party, column in self._settled.items()
            if prices[party] < max(least.get(column, 0), rivals.get(party, 0))
        }

    def _above(self, pays: Mapping[int, int]) -> dict[Key, int]:
        """Return by how much somebody of each key pays more than the moving, at most."""
        found: dict[Key, int] = {}
        for party, price in pays.items():
            over = price - self._move_costs.moving[party]
            found[self._keys[party]] = max(found.get(self._keys[party], over), over)
        return found

    def _rivals(self) -> dict[int, int]:
        """Return most that others pay who may keep the same address, by the settled party that keeps it."""
        found = {}
        for some in self._move_costs.holders.values():
            for party in some:
                if party in self._settled and len(some) > 1:
                    found[party] = max(
                        self._dual_prices.row_prices[other] for other in some if other != party
                    )
        return found

    def _prices(self, highest: int) -> dict[int, int]:
        """Return the highest price that each settled party could pay, as far as anybody asks for it."""
        closed = list(self._settled.values())
        asking = sorted(
            self._dual_prices.column_prices, key=lambda column: self._dual_prices.column_prices[column]
        )
        nothing = np.ones(COLUMNS, dtype=np.bool_)
        nothing[closed + asking] = False
        moving, left = self._move_costs.moving, self._move_costs.left
        elsewhere = {key: self._cheapest(flagged, nothing, asking) for key, flagged in self._columns.items()}
        prices = {}
        for party in self._settled:
            price = elsewhere[self._keys[party]]
            limit = left[party] if price is None else min(left[party], moving[party] + price)
            prices[party] = min(limit, highest)
        return prices

    def _cheapest(self, flagged: Flags, nothing: Flags, asking: Sequence[int]) -> int | None:
        """Return the least price of an open column among those flagged; None where none is open."""
        if (flagged & nothing).any():
            return 0
        places = np.flatnonzero(flagged[asking])
        return self._dual_prices.column_prices[asking[int(places[0])]] if len(places) else None

    def _least_prices(self, above: Mapping[Key, int]) -> dict[int, int]:
        """Return by column what its price must be for all that may move there to stay where they are."""
        closed = np.zeros(COLUMNS, dtype=np.bool_)
        closed[list(self._settled.values())] = True
        return dict(self._in_order(above, closed))

    def _in_order(self, above: Mapping[Key, int], unknown: Flags) -> Iterator[tuple[int, int]]:
        for key in sorted(above, key=lambda key: -above[key]):
            for column in np.flatnonzero(self._columns[key] & unknown).tolist():
                yield column, above[key]
            unknown &= ~self._columns[key]


def settled_at_first(move_costs: MoveCosts, most: int) -> dict[int, int]:
    """Return the columns of those who in most plans keep them, by party.

    The only holder of an address, and the one that is dearer to move than any other by more than ``most``,
    what the choice of an address can make out. Short addresses are few, and who holds one may have to make
    room, so that none is settled.
    """
    settled = {}
    for address, some in move_costs.holders.items():
        *others, dearest = sorted(some, key=lambda party: move_costs.moving[party])
        clear = all(move_costs.moving[dearest] - move_costs.moving[party] > most for party in others)
        if clear and column_of(address) >= COLUMNS // 2:
            settled[dearest] = column_of(address)
    return settled
