"""What each address, and each place on a path of addresses, costs a party that moves there."""

from bisect import bisect_left
from collections.abc import Collection, Iterator, Sequence
from dataclasses import dataclass
from itertools import product
from operator import itemgetter

import numpy as np
import numpy.typing as npt

from rosterkit.cv.addresses import Address, Space
from rosterkit.cv.number_to_address import NOT_KEPT, Choice, choices_of, reference_of
from rosterkit.planning.addresses.allowed import SIZE, AllowedAddresses, Flags, ambiguous
from rosterkit.planning.addresses.columns import COLUMNS, Key, columns_for, key_of, shift_of
from rosterkit.planning.addresses.costs import Cost, Weights
from rosterkit.planning.addresses.flow import Edge
from rosterkit.planning.addresses.parties import Party, PartyKind
from rosterkit.planning.addresses.path_graph import PathGraph

Numbers = npt.NDArray[np.intp]


@dataclass(frozen=True, slots=True, kw_only=True)
class EquivalenceClass:
    """The addresses of one space that are alike in everything but their distance and their number."""

    cost: int
    """What all of them cost alike."""
    shift: int
    """What their columns are above their numbers."""
    flagged: Flags
    numbers: Sequence[int]
    """Those that are on the path, in ascending order."""
    places: range
    """Where these are on it."""


class PartyEdges:
    """The edges of parties to open addresses; ``closed`` columns have none.

    Distances are reckoned in so many numbers at a time; a ``grain`` of 1 is what they really are.
    """

    def __init__(
        self,
        parties: Sequence[Party],
        permitted: AllowedAddresses,
        weights: Weights,
        closed: Collection[int],
        grain: int = 1,
    ) -> None:
        self._permitted, self._weights, self._grain = permitted, weights, grain
        self._open = np.ones(COLUMNS, dtype=np.bool_)
        self._open[list(closed)] = False
        self.lines = PathGraph(COLUMNS)
        self._reach = len(parties) + 1
        self._references = np.unique([_reference(party) for party in parties])
        self._classes: dict[Key, list[EquivalenceClass]] = {}
        self._by_numbers: dict[tuple[Space, bytes], tuple[list[int], range]] = {}
        """Numbers and places on a path: different classes often have the same ones."""

    def of(self, party: Party) -> list[Edge]:
        """Return what the addresses cost a party that moves, the cheapest first, without the moving itself.

        Those that keep something of its number one by one; of the others, and of those once more as if they
        kept nothing, the places on either side of its number on the path of each class.
        """
        reference, lost = _reference(party), self._weights["number_lost"]
        lies_at = self._lies_at(reference)
        keeping = [
            (lost * choice.grade + abs(self._lies_at(choice.number) - lies_at), choice.number)
            for choice in _choices(party, self._permitted.rules.address_rule)
        ]
        edges: list[Edge] = []
        for alike in self._classes_for(party):
            edges += [
                (alike.cost + cost, number + alike.shift) for cost, number in keeping if alike.flagged[number]
            ]
            above = bisect_left(alike.numbers, reference)
            # Of two at one distance the search goes on from the last, so that the higher number is taken.
            for index in range(max(above - 1, 0), min(above + 1, len(alike.numbers))):
                distance = abs(self._lies_at(alike.numbers[index]) - lies_at)
                edges.append((alike.cost + lost * NOT_KEPT + distance, alike.places[index]))
        return sorted(edges, key=itemgetter(0))

    def _classes_for(self, party: Party) -> list[EquivalenceClass]:
        key = key_of(party, self._permitted)
        if key not in self._classes:
            allowed = columns_for(party, self._permitted) & self._open
            self._classes[key] = [
                alike for space in party.spaces for alike in self._parted(party, space, allowed)
            ]
        return self._classes[key]

    def _parted(self, party: Party, space: Space, allowed: Flags) -> Iterator[EquivalenceClass]:
        shift, engine = shift_of(space), party.kind is not PartyKind.CONSIST
        own = self._permitted.own(space, party.owner) if engine else True
        systems_differ = ambiguous(space) if engine else False
        for outside, differs in product((False, True), repeat=2):
            flagged = allowed[shift : shift + SIZE] & (own != outside) & (systems_differ == differs)
            if flagged.any():
                numbers, places = self._on_path(space, np.flatnonzero(flagged))
                cost = self._weights["ambiguous"] * differs + self._weights["outside"] * outside
                yield EquivalenceClass(
                    cost=cost, shift=shift, flagged=flagged, numbers=numbers, places=places
                )

    def _on_path(self, space: Space, numbers: Numbers) -> tuple[list[int], range]:
        """Return the numbers that are on a path, and their places there."""
        numbers = self._within_reach(numbers)
        key = space, numbers.tobytes()
        if key not in self._by_numbers:
            columns = (numbers + shift_of(space)).tolist()
            listed: list[int] = numbers.tolist()
            self._by_numbers[key] = listed, self.lines.add(columns, [self._lies_at(one) for one in listed])
        return self._by_numbers[key]

    def _within_reach(self, numbers: Numbers) -> Numbers:
        """Leave out what lies, seen from every party, beyond as many nearer addresses as there are parties.

        One of the nearer ones is always free then, and costs the party less.
        """
        if 2 * self._reach * len(self._references) >= len(numbers):
            return numbers
        at = np.searchsorted(numbers, self._references)
        begins = np.zeros(len(numbers) + 1, dtype=np.intp)
        np.add.at(begins, np.maximum(at - self._reach, 0), 1)
        np.add.at(begins, np.minimum(at + self._reach, len(numbers)), -1)
        return numbers[np.cumsum(begins)[:-1] > 0]

    def _lies_at(self, number: int) -> int:
        return number // self._grain * self._grain * self._weights["distance"]


def cost_of_address(party: Party, address: Address, permitted: AllowedAddresses) -> Cost:
    """Return what an address adds to the cost of a party that moves to it."""
    number, engine = address.number, party.kind is not PartyKind.CONSIST
    choices = _choices(party, permitted.rules.address_rule)
    return Cost(
        ambiguous=int(engine and ambiguous(address.space)[number]),
        outside=int(engine and not permitted.own(address.space, party.owner)[number]),
        number_lost=next((choice.grade for choice in choices if choice.number == number), NOT_KEPT),
        distance=abs(number - _reference(party)),
    )


def _choices(party: Party, rule: str) -> tuple[Choice, ...]:
    return () if party.kind is PartyKind.CONSIST else choices_of(party.number, rule)


def _reference(party: Party) -> int:
    return reference_of(party.number, party.address.number if party.address else None)
