"""Which addresses a member's engine may have on a layout, and why not the others."""

import numpy as np
import numpy.typing as npt

from rosterkit.cv.address_ranges import SPACES, Holder, gives_to, is_for, smallest_first
from rosterkit.cv.address_sentences import LENT
from rosterkit.cv.addresses import Address, Space
from rosterkit.cv.meanings import NEW_DECODERS
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


def _flags(*runs: range) -> Flags:
    """Flag every address of some runs; what lies beyond 1 to 10239 is left out."""
    flagged = np.zeros(SIZE, dtype=np.bool_)
    for run in runs:
        flagged[max(run.start, 1) : max(run.stop, 1)] = True
    return flagged


class AllowedAddresses:
    """The addresses of one layout's rules; what was worked out once for a member is kept."""

    def __init__(self, rules: LayoutRules) -> None:
        self.rules = rules
        self._members = {folded(one.member) for one in rules.ranges if one.member is not None}
        self._by_space: dict[Space, list[NumberRange]] = {}
        self._rulers: dict[Space, npt.NDArray[np.int32]] = {}
        """By number, the index of the range that rules it, as ``ruling_of`` says; -1 where none does."""
        for space in Space:
            some = (one for one in rules.ranges if SPACES.get(one.kind) is space and one.first <= one.last)
            self._by_space[space] = smallest_first(some)
            self._rulers[space] = np.full(SIZE, -1, dtype=np.int32)
            for index, one in reversed([*enumerate(self._by_space[space])]):
                self._rulers[space][max(one.first, 1) : one.last + 1] = index
        self._allowed: dict[tuple[Space, str, bool], Flags] = {}
        self._own: dict[tuple[Space, str], Flags] = {}

    def known(self, member: str | None) -> str:
        """Return a member's folded code if a range is theirs, else "": all others have the same addresses."""
        code = folded(member or "")
        return code if code in self._members else ""

    def ruling(self, address: Address) -> NumberRange | None:
        """Return the smallest range that holds an address; None where none does."""
        if not address.encodable:
            return None
        index = int(self._rulers[address.space][address.number])
        return self._by_space[address.space][index] if index >= 0 else None

    def _offers(self, space: Space, member: str | None, *, at_home: bool = False) -> list[bool]:
        """Tell of each range whether a member may choose an engine's address in it."""
        return [
            gives_to(one, Holder.ENGINE, at_home=at_home) and is_for(one, member)
            for one in self._by_space[space]
        ]

    def _ruled(self, space: Space, usable: list[bool], *, outside: bool) -> Flags:
        """Flag what usable ranges rule, and what lies outside all ranges if that is usable too."""
        # The last entry is what index -1 finds: an address that no range holds.
        return np.array([*usable, outside], dtype=np.bool_)[self._rulers[space]]

    def allowed(self, space: Space, member: str | None, *, at_home: bool = False) -> Flags:
        """Flag the addresses that a member's engine may have, at home or for a meet.

        Never 3 as a short address, never what the layout cannot call, never what is kept for something
        or somebody else; and where ranges are offered to the member, none outside them.
        """
        key = space, self.known(member), at_home
        if key not in self._allowed:
            offers = self._offers(space, member, at_home=at_home)
            self._allowed[key] = self._ruled(space, offers, outside=not any(offers)) & self.drivable(space)
        return self._allowed[key]

    def drivable(self, space: Space) -> Flags:
        """Flag what the layout can drive, without short 3, the address of most new decoders."""
        found: Flags = _flags(self._driven(space)) & _flags(LEGAL[space])
        if space is Space.SHORT:
            found[DEFAULT_SHORT_ADDRESS] = False
        return found

    def _driven(self, space: Space) -> range:
        return self.rules.shorts if space is Space.SHORT else self.rules.longs

    def _own_ranges(self, space: Space, member: str | None) -> list[range]:
        offers = zip(self._by_space[space], self._offers(space, member), strict=True)
        return [
            range(one.first, one.last + 1) for one, offered in offers if offered and one.member is not None
        ]

    def own(self, space: Space, member: str | None) -> Flags:
        """Flag the addresses in the member's own ranges, all of them where the member has none."""
        key = space, self.known(member)
        if key not in self._own:
            self._own[key] = _flags(*(self._own_ranges(space, member) or [range(1, SIZE)]))
        return self._own[key]

    def has_own(self, space: Space, member: str | None) -> bool:
        """Tell whether the member has ranges of their own in a space."""
        return bool(self._own_ranges(space, member))

    def for_consists(self, member: str | None) -> Flags:
        """Flag the 7-bit consist addresses that a member's consist may have.

        Those that are kept for consists, where any are; else those that nothing speaks against.
        """
        ranges = self._by_space[Space.SHORT]
        kept = [gives_to(one, Holder.CONSIST) for one in ranges]
        usable = [keep and is_for(one, member) for keep, one in zip(kept, ranges, strict=True)]
        if not any(usable):
            usable = [one.use in ("engines", "meet only") and is_for(one, member) for one in ranges]
        found: Flags = self._ruled(Space.SHORT, usable, outside=not any(kept)) & _flags(CONSIST_ADDRESSES)
        found[DEFAULT_SHORT_ADDRESS] = False
        return found

    def consist_may_stay(self, address: Address, member: str | None) -> bool:
        """Tell whether nothing but another holder speaks against a consist's address."""
        default = address == Address(Space.SHORT, DEFAULT_SHORT_ADDRESS)
        if default or address.number not in _CONSISTS[address.space]:
            return False
        ruling = self.ruling(address)
        if ruling is None:
            return True
        return ruling.use not in ("never", "devices", "new decoders") and is_for(ruling, member)

    def objection(self, address: Address, member: str | None) -> str | None:
        """Say why a member's engine may not have an address at a meet; None where it may."""
        if address.encodable and self.allowed(address.space, member)[address.number]:
            return None
        if address == Address(Space.SHORT, DEFAULT_SHORT_ADDRESS):
            return f"3 is the address of {NEW_DECODERS}"
        if not address.encodable or address.number not in self._driven(address.space):
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
        return LENT
    return "reserved for new decoders" if span.use == "new decoders" else f"kept for {span.use}"


def ambiguous(space: Space) -> Flags:
    """Flag the addresses that some systems take for the other kind, short 100 to 127 and long 1 to 127.

    Common practice; the short ones from 112 on also look like service mode to old decoders (NMRA S-9.2.3,
    Jul 2012, section C). Long addresses beyond 9999 count too: throttles take four digits.
    """
    runs = [KIND_DIFFERS] if space is Space.SHORT else [SHORT_ADDRESSES, range(10000, SIZE)]
    return _flags(*runs)
