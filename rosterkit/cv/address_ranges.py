"""What the sheet Address ranges gives to whom: engines, consists and devices, at home and at a meet."""

from collections.abc import Iterable, Sequence
from enum import StrEnum
from typing import Protocol, TypeVar

from rosterkit.cv.addresses import Space
from rosterkit.roster.model import AddressRange, Roster
from rosterkit.roster.schema import folded

SPACES = {"short": Space.SHORT, "consist": Space.SHORT, "long": Space.LONG}
"""By kind of range; consists up to 127 use the numbers of short addresses (NMRA S-9.2.2, Jul 2012, CV19)."""


class Holder(StrEnum):
    """What has an address."""

    ENGINE = "engine"
    CONSIST = "consist"
    DEVICE = "device"


class Ranged(Protocol):
    """A row of Address ranges, or what planning makes of it."""

    @property
    def kind(self) -> str | None: ...  # noqa: D102
    @property
    def first(self) -> int | None: ...  # noqa: D102
    @property
    def last(self) -> int | None: ...  # noqa: D102
    @property
    def use(self) -> str | None: ...  # noqa: D102
    @property
    def member(self) -> str | None: ...  # noqa: D102


_Range = TypeVar("_Range", bound=Ranged)


def gives_to(one: Ranged, holder: Holder, *, at_home: bool = False) -> bool:
    """Tell whether a range gives out its numbers to a kind of holder, at home or for a meet."""
    if holder is Holder.CONSIST:
        return one.use == "consists" or (one.kind == "consist" and one.use != "never")
    if one.kind == "consist":
        return False
    if one.use == "meet only":
        return not at_home
    return one.use == "engines" or (one.use == "devices" and holder is Holder.DEVICE)


def is_for(one: Ranged, member: str | None) -> bool:
    """Tell whether a range is everybody's or this member's."""
    return one.member is None or folded(one.member) == folded(member or "")


def numbers_of(one: Ranged) -> range:
    """Return the numbers of a range; none where it lacks an end or ends before it begins."""
    return range(0) if one.first is None or one.last is None else range(one.first, one.last + 1)


def smallest_first(ranges: Iterable[_Range]) -> list[_Range]:
    """Sort ranges so that an exception goes before what it is cut from."""
    return sorted(ranges, key=lambda one: len(numbers_of(one)))


def ruling_of(number: int, ranges: Sequence[_Range]) -> _Range | None:
    """Return the range that rules a number, of those sorted by ``smallest_first``; None for none."""
    return next((one for one in ranges if number in numbers_of(one)), None)


def usable_ranges(roster: Roster) -> list[AddressRange]:
    """Return the rows of Address ranges that say what which numbers are for."""
    return [one for one in roster.ranges if one.kind and one.use and numbers_of(one)]
