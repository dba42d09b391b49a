"""The addresses that a party of a plan could move to, by ascending cost, made as they are asked for."""

from collections.abc import Iterable, Iterator
from dataclasses import dataclass
from heapq import merge

import numpy as np
import numpy.typing as npt

from rosterkit.addressing import Address, Space
from rosterkit.planning.choices import NOT_KEPT, Choice, choices_of, reference_of
from rosterkit.planning.costs import Cost, Weights
from rosterkit.planning.parties import Party, PartyKind
from rosterkit.planning.territory import SIZE, Flags, Territory, doubtful

Numbers = npt.NDArray[np.intp]


def column_of(address: Address) -> int:
    """Give the number by which the solver knows an address."""
    return address.number + (SIZE if address.space is Space.LONG else 0)


def address_at(column: int) -> Address:
    """Give the address of a number of the solver's."""
    return Address(Space.LONG, column - SIZE) if column >= SIZE else Address(Space.SHORT, column)


@dataclass(frozen=True, slots=True, kw_only=True)
class _Lane:
    """The addresses of one space that are alike in everything but their distance and their number."""

    space: Space
    doubtful: bool
    outside: bool
    numbers: Numbers
    flagged: Flags


class Roads:
    """The ways out on one territory; ``closed`` addresses are not among them."""

    def __init__(self, territory: Territory, weights: Weights, closed: Iterable[Address] = ()) -> None:
        self._territory = territory
        self._weights = weights
        self._open = {space: np.ones(SIZE, dtype=np.bool_) for space in Space}
        for address in closed:
            self._open[address.space][address.number] = False
        self._lanes: dict[tuple[PartyKind | None, Space, str | None], list[_Lane]] = {}

    def from_(self, party: Party, moving: Cost) -> Iterator[tuple[int, int]]:
        """Give what each address costs a party that moves, and the solver's number of the address."""
        base = self._weights.total(moving)
        reference = reference_of(party.number, party.address.number if party.address else None)
        lanes = [lane for space in party.spaces for lane in self._lanes_of(party, space)]
        ways = [self._outward(lane, reference, base) for lane in lanes]
        return merge(self._guessed(party, lanes, reference, base), *ways)

    def cost(self, party: Party, address: Address) -> Cost:
        """Give what an address adds to the cost of a party that moves to it."""
        number = address.number
        own = party.kind is PartyKind.CONSIST or self._territory.own(address.space, party.owner)[number]
        unsure = party.kind is not PartyKind.CONSIST and doubtful(address.space)[number]
        choices = () if party.kind is PartyKind.CONSIST else self._choices(party)
        grade = next((choice.grade for choice in choices if choice.number == number), NOT_KEPT)
        reference = reference_of(party.number, party.address.number if party.address else None)
        return Cost(
            doubtful=int(unsure),
            outside=int(not own),
            number_lost=grade,
            distance=abs(number - reference),
        )

    def _choices(self, party: Party) -> tuple[Choice, ...]:
        return choices_of(party.number, self._territory.ground.address_rule)

    def _lanes_of(self, party: Party, space: Space) -> list[_Lane]:
        consist = party.kind is PartyKind.CONSIST
        key = party.kind if consist else None, space, self._territory.known(party.owner)
        if key not in self._lanes:
            self._lanes[key] = list(self._made_lanes(party, space))
        return self._lanes[key]

    def _made_lanes(self, party: Party, space: Space) -> Iterator[_Lane]:
        if party.kind is PartyKind.CONSIST:
            found = self._territory.for_consists(party.owner) & self._open[space]
            yield _Lane(
                space=space, doubtful=False, outside=False, numbers=np.flatnonzero(found), flagged=found
            )
            return
        allowed = self._territory.allowed(space, party.owner) & self._open[space]
        own, unsure = self._territory.own(space, party.owner), doubtful(space)
        for outside in (False, True):
            for dubious in (False, True):
                found = allowed & (own ^ outside) & ~(unsure ^ dubious)
                if found.any():
                    yield _Lane(
                        space=space,
                        doubtful=dubious,
                        outside=outside,
                        numbers=np.flatnonzero(found),
                        flagged=found,
                    )

    def _price(self, lane: _Lane, grade: int, distance: int) -> int:
        of = self._weights.of
        return (
            of["doubtful"] * lane.doubtful
            + of["outside"] * lane.outside
            + of["number_lost"] * grade
            + of["distance"] * distance
        )

    def _guessed(
        self, party: Party, lanes: Iterable[_Lane], reference: int, base: int
    ) -> list[tuple[int, int]]:
        """Give the addresses that keep something of the number; others of the same cost come outward."""
        if party.kind is PartyKind.CONSIST:
            return []
        step, found = self._weights.of["distance"], []
        of_grade = self._weights.of["number_lost"]
        for lane in lanes:
            shift, same = column_of(Address(lane.space, 0)), base + self._price(lane, 0, 0)
            for choice in self._choices(party):
                number = choice.number
                if lane.flagged[number]:
                    price = same + of_grade * choice.grade + step * abs(number - reference)
                    found.append((price, number + shift))
        return sorted(found)

    def _outward(self, lane: _Lane, reference: int, base: int) -> Iterator[tuple[int, int]]:
        """Give a lane's addresses from the reference outward, as if they kept nothing of the number.

        Those that do keep something were given before at a lower cost; a second, dearer time does no harm.
        """
        numbers, step = lane.numbers, self._weights.of["distance"]
        shift = column_of(Address(lane.space, 0))
        same = base + self._price(lane, NOT_KEPT, 0)
        above = int(np.searchsorted(numbers, reference))
        below = above - 1
        while below >= 0 or above < len(numbers):
            up = int(numbers[above]) - reference if above < len(numbers) else SIZE
            down = reference - int(numbers[below]) if below >= 0 else SIZE
            if up <= down:
                distance, number, above = up, reference + up, above + 1
            else:
                distance, number, below = down, reference - down, below - 1
            yield same + step * distance, number + shift
