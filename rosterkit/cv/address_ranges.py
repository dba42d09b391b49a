"""What the sheet Address ranges gives to whom: engines, consists and devices, at home and at a meet."""

from bisect import bisect_left, bisect_right
from collections.abc import Iterable
from enum import StrEnum
from typing import Generic, Protocol, TypeVar

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


def ruling_of(number: int, ranges: Iterable[_Range]) -> _Range | None:
    """Return the range that rules a number: the smallest that holds it; None for none."""
    return Rulings(ranges).of(number)


class Rulings(Generic[_Range]):
    """Which of some ranges rules each number, in steps that grow with the number of ranges."""

    def __init__(self, ranges: Iterable[_Range]) -> None:
        some = smallest_first(ranges)
        ends = {end for one in some for end in (numbers_of(one).start, numbers_of(one).stop)}
        self._begins = sorted(ends)
        """Where a run of numbers begins that are in the same ranges."""
        self._rulers: list[_Range | None] = [None] * len(ends)
        # A run that has its ruler is skipped: from each run, the next one without, or one nearer to it.
        onwards = list(range(len(ends) + 1))
        for one in some:
            run, end = (
                bisect_left(self._begins, end) for end in (numbers_of(one).start, numbers_of(one).stop)
            )
            while (run := _follow(onwards, run)) < end:
                self._rulers[run] = one
                onwards[run] = run + 1

    def of(self, number: int) -> _Range | None:
        """Return the range that rules a number: the smallest that holds it; None for none."""
        run = bisect_right(self._begins, number) - 1
        return self._rulers[run] if run >= 0 else None


def _follow(onwards: list[int], run: int) -> int:
    while onwards[run] != run:
        onwards[run] = onwards[onwards[run]]
        run = onwards[run]
    return run


def usable_ranges(roster: Roster) -> list[AddressRange]:
    """Return the rows of Address ranges that say what which numbers are for."""
    return [one for one in roster.ranges if one.kind and one.use and numbers_of(one)]
