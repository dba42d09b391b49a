"""The addresses that a party may move to, in equivalence classes: alike but for their number."""

from collections.abc import Iterable, Iterator
from dataclasses import dataclass

import numpy as np
import numpy.typing as npt

from rosterkit.cv.addresses import Address, Space
from rosterkit.planning.addresses.allowed import SIZE, AllowedAddresses, Flags, doubtful
from rosterkit.planning.addresses.parties import Party, PartyKind

Numbers = npt.NDArray[np.intp]

COLUMNS = 2 * SIZE
"""How many numbers the solver has for addresses."""

Key = tuple[bool, tuple[Space, ...], str]
"""What is the same for parties that may move to the same addresses."""


def column_of(address: Address) -> int:
    """Return the number by which the solver knows an address."""
    return address.number + shift_of(address.space)


def shift_of(space: Space) -> int:
    """Return what the solver's numbers for addresses of a space are above the addresses'."""
    return SIZE if space is Space.LONG else 0


def address_at(column: int) -> Address:
    """Return the address of a number of the solver's."""
    return Address(Space.LONG, column - SIZE) if column >= SIZE else Address(Space.SHORT, column)


def key_of(party: Party, permitted: AllowedAddresses) -> Key:
    """Return what is the same for parties that may move to the same addresses."""
    return party.kind is PartyKind.CONSIST, party.spaces, permitted.known(party.owner)


def columns_for(party: Party, permitted: AllowedAddresses) -> Flags:
    """Flag all that a party may move to, by the solver's numbers."""
    found = np.zeros(COLUMNS, dtype=np.bool_)
    for space in party.spaces:
        first = shift_of(space)
        found[first : first + SIZE] = _allowed(party, space, permitted)
    return found


def _allowed(party: Party, space: Space, permitted: AllowedAddresses) -> Flags:
    if party.kind is PartyKind.CONSIST:
        return permitted.for_consists(party.owner)
    return permitted.allowed(space, party.owner)


@dataclass(frozen=True, slots=True, kw_only=True)
class EquivalenceClass:
    """The addresses of one space that are alike in everything but their distance and their number."""

    space: Space
    doubtful: bool
    outside: bool
    numbers: Numbers
    flagged: Flags


class EquivalenceClasses:
    """The classes on one allowed addresses; ``closed`` addresses are not in them."""

    def __init__(self, permitted: AllowedAddresses, closed: Iterable[Address] = ()) -> None:
        self._permitted = permitted
        self._open = {space: np.ones(SIZE, dtype=np.bool_) for space in Space}
        for address in closed:
            self._open[address.space][address.number] = False
        self._known: dict[Key, list[EquivalenceClass]] = {}

    def of(self, party: Party) -> list[EquivalenceClass]:
        """Return a party's classes, none of them empty."""
        key = key_of(party, self._permitted)
        if key not in self._known:
            self._known[key] = [alike for space in party.spaces for alike in self._made(party, space)]
        return self._known[key]

    def _made(self, party: Party, space: Space) -> Iterator[EquivalenceClass]:
        allowed = _allowed(party, space, self._permitted) & self._open[space]
        if party.kind is PartyKind.CONSIST:
            yield from _class_of(allowed, space, doubtful=False, outside=False)
            return
        own, unsure = self._permitted.own(space, party.owner), doubtful(space)
        for outside in (False, True):
            for dubious in (False, True):
                found = allowed & (own ^ outside) & ~(unsure ^ dubious)
                yield from _class_of(found, space, doubtful=dubious, outside=outside)


def _class_of(found: Flags, space: Space, *, doubtful: bool, outside: bool) -> Iterator[EquivalenceClass]:
    if found.any():
        yield EquivalenceClass(
            space=space, doubtful=doubtful, outside=outside, numbers=np.flatnonzero(found), flagged=found
        )
