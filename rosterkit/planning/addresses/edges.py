"""What each address, and each place on a line of addresses, costs a party that moves there."""

from bisect import bisect_left
from collections.abc import Iterator, Sequence
from operator import itemgetter

import numpy as np

from rosterkit.cv.addresses import Address, Space
from rosterkit.cv.number_to_address import NOT_KEPT, Choice, choices_of, reference_of
from rosterkit.planning.addresses.address_classes import (
    COLUMNS,
    EquivalenceClass,
    EquivalenceClasses,
    Numbers,
    shift_of,
)
from rosterkit.planning.addresses.allowed import AllowedAddresses, doubtful
from rosterkit.planning.addresses.costs import Cost, Weights
from rosterkit.planning.addresses.flow import Edge
from rosterkit.planning.addresses.parties import Party, PartyKind
from rosterkit.planning.addresses.path_graph import PathGraph


class PartyEdges:
    """The ways out on one allowed addresses.

    Distances are reckoned in so many numbers at a time; a ``grain`` of 1 is what they really are.
    """

    def __init__(
        self,
        parties: Sequence[Party],
        permitted: AllowedAddresses,
        weights: Weights,
        classes: EquivalenceClasses,
        grain: int = 1,
    ) -> None:
        self._rule = permitted.rules.address_rule
        self._of = weights.of
        self._grain = grain
        self._classes = classes
        self.lines = PathGraph(COLUMNS)
        self._reach = len(parties) + 1
        self._references = np.unique([_reference(party) for party in parties])
        self._by_lane: dict[int, tuple[list[int], range]] = {}
        """The numbers of a class's line, and its places."""
        self._by_numbers: dict[tuple[Space, bytes], tuple[list[int], range]] = {}
        """The same once more by what the numbers are: different classes often have the same ones."""

    def ways(self, party: Party) -> list[Edge]:
        """Return what the addresses cost a party that moves, the cheapest first, without the moving itself.

        Those that keep something of its number one by one; of the others, and of those once more as if they
        kept nothing, the places on either side of its number on each line of them.
        """
        reference = _reference(party)
        keeping = self._keeping(party, self._lies_at(reference))
        ways: list[Edge] = []
        for alike in self._classes.of(party):
            same = self._of["doubtful"] * alike.doubtful + self._of["outside"] * alike.outside
            shift, flagged = shift_of(alike.space), alike.flagged
            ways += [(same + cost, number + shift) for cost, number in keeping if flagged[number]]
            ways += self._alongside(alike, reference, same + self._of["number_lost"] * NOT_KEPT)
        return sorted(ways, key=itemgetter(0))

    def _keeping(self, party: Party, lies_at: int) -> list[tuple[int, int]]:
        """Return the numbers that keep something of a party's, and what that and the distance cost."""
        lost = self._of["number_lost"]
        return [
            (lost * choice.grade + abs(self._lies_at(choice.number) - lies_at), choice.number)
            for choice in _choices(party, self._rule)
        ]

    def _alongside(self, alike: EquivalenceClass, reference: int, same: int) -> Iterator[Edge]:
        numbers, places = self._line_of(alike)
        above = bisect_left(numbers, reference)
        # Of two at one distance the search goes on from the last, so that the higher number is taken.
        for index in (above - 1, above):
            if 0 <= index < len(numbers):
                yield same + abs(self._lies_at(numbers[index]) - self._lies_at(reference)), places[index]

    def _line_of(self, alike: EquivalenceClass) -> tuple[list[int], range]:
        if id(alike) not in self._by_lane:
            numbers = self._within_reach(alike.numbers)
            key = alike.space, numbers.tobytes()
            if key not in self._by_numbers:
                self._by_numbers[key] = self._made(numbers.tolist(), shift_of(alike.space))
            self._by_lane[id(alike)] = self._by_numbers[key]
        return self._by_lane[id(alike)]

    def _made(self, numbers: list[int], shift: int) -> tuple[list[int], range]:
        columns = [number + shift for number in numbers]
        return numbers, self.lines.add(columns, [self._lies_at(number) for number in numbers])

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
        return number // self._grain * self._grain * self._of["distance"]


def cost_of_address(party: Party, address: Address, permitted: AllowedAddresses) -> Cost:
    """Return what an address adds to the cost of a party that moves to it."""
    number, engine = address.number, party.kind is not PartyKind.CONSIST
    outside = engine and not permitted.own(address.space, party.owner)[number]
    choices = _choices(party, permitted.rules.address_rule)
    return Cost(
        doubtful=int(engine and doubtful(address.space)[number]),
        outside=int(outside),
        number_lost=next((choice.grade for choice in choices if choice.number == number), NOT_KEPT),
        distance=abs(number - _reference(party)),
    )


def _choices(party: Party, rule: str) -> tuple[Choice, ...]:
    return () if party.kind is PartyKind.CONSIST else choices_of(party.number, rule)


def _reference(party: Party) -> int:
    return reference_of(party.number, party.address.number if party.address else None)
