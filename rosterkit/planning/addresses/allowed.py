"""Which addresses a member's engine may have on a layout, and why not the others."""

from collections.abc import Iterable
from functools import cached_property

import numpy as np
import numpy.typing as npt

from rosterkit.cv.address_ranges import SPACES, Holder, gives_to, is_for, smallest_first
from rosterkit.cv.addresses import Address, Space
from rosterkit.planning.addresses.model import LayoutRules, NumberRange
from rosterkit.roster.schema import folded
from rosterkit.standards.addresses import (
    DEFAULT_SHORT_ADDRESS,
    KIND_DIFFERS,
    LONG_ADDRESSES,
    SHORT_ADDRESSES,
)
from rosterkit.standards.consists import CONSIST_ADDRESSES, LONG_CONSIST_ADDRESSES

Flags = npt.NDArray[np.bool_]
"""One flag an address, by its number; 0 is never an address."""

SIZE = LONG_ADDRESSES[-1] + 1
LEGAL = {Space.SHORT: SHORT_ADDRESSES, Space.LONG: LONG_ADDRESSES}
_CONSISTS = {Space.SHORT: CONSIST_ADDRESSES, Space.LONG: LONG_CONSIST_ADDRESSES}


def flags(numbers: Iterable[range]) -> Flags:
    """Flag every address of some runs; what lies beyond 1 to 10239 is left out."""
    flagged = np.zeros(SIZE, dtype=np.bool_)
    for run in numbers:
        flagged[max(run.start, 1) : max(run.stop, 1)] = True
    return flagged


class AllowedAddresses:
    """The addresses of one rules; what was worked out once for a member is kept."""

    def __init__(self, rules: LayoutRules) -> None:
        self.rules = rules
        self._allowed: dict[tuple[Space, str, bool], Flags] = {}
        self._own: dict[tuple[Space, str], Flags] = {}

    def known(self, member: str | None) -> str:
        """Return a member's folded code if a range is theirs, else "".

        All others have the same addresses.
        """
        code = folded(member or "")
        return code if code in self._members else ""

    @cached_property
    def _members(self) -> frozenset[str]:
        return frozenset(folded(one.member) for one in self.rules.ranges if one.member is not None)

    @cached_property
    def _by_space(self) -> dict[Space, list[NumberRange]]:
        found: dict[Space, list[NumberRange]] = {Space.SHORT: [], Space.LONG: []}
        for span in self.rules.ranges:
            if span.kind in SPACES and span.first <= span.last:
                found[SPACES[span.kind]].append(span)
        return {space: smallest_first(some) for space, some in found.items()}

    @cached_property
    def _rulers(self) -> dict[Space, npt.NDArray[np.int32]]:
        """By number, the index of the range that rules it, as ``ruling_of`` says; -1 where none does."""
        rulers = {space: np.full(SIZE, -1, dtype=np.int32) for space in Space}
        for space, ranges in self._by_space.items():
            for index in range(len(ranges) - 1, -1, -1):
                rulers[space][max(ranges[index].first, 1) : ranges[index].last + 1] = index
        return rulers

    def ruling(self, address: Address) -> NumberRange | None:
        """Return the smallest range that holds an address; None where none does."""
        if not address.encodable:
            return None
        index = int(self._rulers[address.space][address.number])
        return self._by_space[address.space][index] if index >= 0 else None

    def offered(self, space: Space, member: str | None, *, at_home: bool = False) -> list[NumberRange]:
        """Return the ranges in which a member may choose an engine's address, at home or for a meet."""
        return [
            one
            for one in self._by_space[space]
            if gives_to(one, Holder.ENGINE, at_home=at_home) and is_for(one, member)
        ]

    def allowed(self, space: Space, member: str | None, *, at_home: bool = False) -> Flags:
        """Flag the addresses that a member's engine may have, at home or for a meet.

        Never 3 as a short address, never what the layout cannot call, never what is kept for something
        or somebody else; and where ranges are offered to the member, none outside them.
        """
        key = space, self.known(member), at_home
        if key not in self._allowed:
            self._allowed[key] = self._computed(space, member, at_home=at_home)
        return self._allowed[key]

    def _computed(self, space: Space, member: str | None, *, at_home: bool) -> Flags:
        offered = {id(one) for one in self.offered(space, member, at_home=at_home)}
        usable = [id(one) in offered for one in self._by_space[space]]
        # The last entry is what index -1 finds: an address that no range holds.
        by_stretch = np.array([*usable, not offered], dtype=np.bool_)
        found: Flags = by_stretch[self._rulers[space]] & self.drivable(space)
        return found

    def drivable(self, space: Space) -> Flags:
        """Flag what the layout can drive, without short 3, the address of every new decoder."""
        driven = self.rules.shorts if space is Space.SHORT else self.rules.longs
        found = flags([driven]) & flags([LEGAL[space]])
        if space is Space.SHORT:
            found[DEFAULT_SHORT_ADDRESS] = False
        return found

    def own(self, space: Space, member: str | None) -> Flags:
        """Flag the addresses in the member's own ranges, all of them where the member has none."""
        key = space, self.known(member)
        if key not in self._own:
            mine = [one for one in self.offered(space, member) if one.member is not None]
            runs = [range(one.first, one.last + 1) for one in mine] or [range(1, SIZE)]
            self._own[key] = flags(runs)
        return self._own[key]

    def has_own(self, space: Space, member: str | None) -> bool:
        """Tell whether the member has ranges of their own in a space."""
        return any(one.member is not None for one in self.offered(space, member))

    def for_consists(self, member: str | None) -> Flags:
        """Flag the 7-bit consist addresses that a member's consist may have.

        Those that are kept for consists, where any are; else those that nothing speaks against.
        """
        ranges = self._by_space[Space.SHORT]
        kept = [gives_to(one, Holder.CONSIST) for one in ranges]
        mine = [keep and is_for(one, member) for keep, one in zip(kept, ranges, strict=True)]
        if not any(mine):
            free = [one.use in ("engines", "meet only") and is_for(one, member) for one in ranges]
            mine = free
        by_stretch = np.array([*mine, not any(kept)], dtype=np.bool_)
        found: Flags = by_stretch[self._rulers[Space.SHORT]] & flags([CONSIST_ADDRESSES])
        found[DEFAULT_SHORT_ADDRESS] = False
        return found

    def consist_may_stay(self, address: Address, member: str | None) -> bool:
        """Tell whether nothing but another holder speaks against a consist's address."""
        if address.number not in _CONSISTS[address.space]:
            return False
        if address == Address(Space.SHORT, DEFAULT_SHORT_ADDRESS):
            return False
        ruling = self.ruling(address)
        if ruling is None:
            return True
        return ruling.use not in ("never", "devices", "new decoders") and is_for(ruling, member)

    def objection(self, address: Address, member: str | None, *, at_home: bool = False) -> str | None:
        """Say why a member's engine may not have an address; None where it may."""
        if address.encodable and self.allowed(address.space, member, at_home=at_home)[address.number]:
            return None
        if address == Address(Space.SHORT, DEFAULT_SHORT_ADDRESS):
            return "3 is the address of every new decoder"
        driven = self.rules.shorts if address.space is Space.SHORT else self.rules.longs
        if not address.encodable or address.number not in driven:
            return f"the layout cannot call {address}"
        ruling = self.ruling(address)
        if ruling is None:
            return f"{address} is in no range that {member or 'everybody'} may use"
        if not is_for(ruling, member) and ruling.use in ("engines", "meet only"):
            return f"{address} is in {ruling.member}'s range {ruling}"
        return f"{address} is {kept_for(ruling)} ({ruling})"


def kept_for(span: NumberRange) -> str:
    """Say what a range that is not for engines is for."""
    if span.use == "never":
        return "never used"
    if span.kind == "consist" or span.use == "consists":
        return "reserved for consists"
    if span.use == "meet only":
        return "lent for a meet only"
    return "reserved for new decoders" if span.use == "new decoders" else f"kept for {span.use}"


def doubtful(space: Space) -> Flags:
    """Flag the addresses that some systems take for the other kind, short 100 to 127 and long 1 to 127.

    Common practice; the short ones from 112 on also look like service mode to old decoders (NMRA S-9.2.3,
    Jul 2012, section C). Long addresses beyond 9999 count too: throttles take four digits.
    """
    if space is Space.SHORT:
        return flags([KIND_DIFFERS])
    return flags([SHORT_ADDRESSES, range(10000, SIZE)])
