"""Checks of who may use which address, by the sheet Address ranges."""

from collections.abc import Iterable, Iterator, Mapping, Sequence
from dataclasses import dataclass, field
from itertools import chain

from rosterkit.checks.clashes import MOST_RELATED, grouped
from rosterkit.checks.framework import Scope, ScopedEngine, check, check_each, rosters
from rosterkit.checks.proposals import another_address
from rosterkit.cv import address_sentences as said
from rosterkit.cv.address_ranges import (
    SPACES,
    Holder,
    Rulings,
    gives_to,
    is_for,
    numbers_of,
    smallest_first,
    usable_ranges,
)
from rosterkit.cv.addresses import Address, Space, layout_key
from rosterkit.findings import Hit, Severity
from rosterkit.roster.model import AddressRange, Layout, Roster
from rosterkit.roster.rows import hit_at
from rosterkit.roster.schema import folded
from rosterkit.roster.tables import Table
from rosterkit.standards.accessories import USER_NUMBERS
from rosterkit.standards.addresses import LONG_ADDRESSES, SHORT_ADDRESSES

_HIGHEST = {
    "short": SHORT_ADDRESSES[-1],
    "consist": SHORT_ADDRESSES[-1],
    "long": LONG_ADDRESSES[-1],
    "accessory": USER_NUMBERS[-1],
}


_MOST_PAIRS = 1_000_000
"""So many ranges that overlap are compared in a sheet; a club of a hundred members has some hundreds."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Ranges:
    """A roster's usable address ranges of engines and consists."""

    by_space: Mapping[Space, Sequence[AddressRange]]
    """The smaller ones first."""
    rulings: Mapping[Space, Rulings[AddressRange]]
    _offered: dict[tuple[Space, str, str], list[AddressRange]] = field(default_factory=dict)
    """What was asked for before."""

    def ruling(self, address: Address) -> AddressRange | None:
        """Return the range that rules an address; None where there is none."""
        rulings = self.rulings.get(address.space)
        return rulings.of(address.number) if rulings else None

    def offered(self, space: Space, member: str | None, column: str) -> list[AddressRange]:
        """Return the ranges in which a member may choose an engine's address for a column."""
        asked = space, folded(member or ""), column
        if asked not in self._offered:
            some = (one for one in self.by_space.get(space, ()) if is_for(one, member))
            at_home = column == "address"
            self._offered[asked] = [one for one in some if gives_to(one, Holder.ENGINE, at_home=at_home)]
        return self._offered[asked]


def ranges_of(some: Iterable[Roster]) -> Ranges:
    """Sort the address ranges of rosters; rows that cannot be used, and repetitions, are left out."""
    once: dict[tuple[object, ...], AddressRange] = {}
    for one in chain.from_iterable(usable_ranges(roster) for roster in some):
        once.setdefault((one.kind, one.first, one.last, one.use, folded(one.member or "")), one)
    by_space = grouped(once.values(), lambda one: SPACES.get(one.kind or ""))
    return Ranges(
        by_space={space: smallest_first(found) for space, found in by_space.items()},
        rulings={space: Rulings(found) for space, found in by_space.items()},
    )


@check(Severity.ERROR, across=True)
def address_not_for_engines(scope: Scope) -> Iterator[Hit]:
    """An engine has an address that is kept for something else.

    Why: the range is for consists, devices or new decoders, or is never used, as Address ranges says.
    Fix: Choose an address from a range whose use is engines.
    """
    for entry, column, address, ranges in ruled_addresses(scope):
        ruling = ranges.ruling(address)
        if ruling and not gives_to(ruling, Holder.ENGINE):
            kept_for = "consists" if ruling.kind == "consist" else ruling.use
            kept = said.NEVER_USED if ruling.use == "never" else said.KEPT_FOR.format(use=kept_for)
            message = said.KEPT.format(address=address, kept=kept, ends=ends_of(ruling))
            fix = another_address(scope, entry, column, instead_of=address)
            yield hit_at(entry.engine, column, message, fix, related=[ruling.place("first")])


@check(Severity.WARNING, across=True)
def address_in_another_range(scope: Scope) -> Iterator[Hit]:
    """An engine has an address from another member's range.

    Why: that member may give it to an engine of their own at any time.
    Fix: Choose an address from the owner's range, or agree with that member.
    """
    for entry, column, address, ranges in ruled_addresses(scope):
        ruling = ranges.ruling(address)
        owner = entry.engine.owner
        if ruling and gives_to(ruling, Holder.ENGINE) and not is_for(ruling, owner):
            whose = said.NOT_OWNERS.format(owner=owner) if owner else said.NO_OWNER
            message = said.IN_RANGE_OF.format(
                address=address, member=ruling.member, ends=ends_of(ruling), whose=whose
            )
            fix = another_address(scope, entry, column, instead_of=address)
            yield hit_at(entry.engine, column, message, fix, related=[ruling.place("first")])


@check(Severity.WARNING, across=True)
def address_outside_range(scope: Scope) -> Iterator[Hit]:
    """An engine has an address that no range offers to its owner.

    Why: the club gives out addresses by range, and this one was not given to anybody.
    Fix: Choose an address from a range that the owner may use.
    """
    for entry, column, address, ranges in ruled_addresses(scope):
        ruling = ranges.ruling(address)
        owner = entry.engine.owner
        if ruling is None and ranges.offered(address.space, owner, column):
            message = f"{address} is in no range that {owner or 'everybody'} may use"
            fix = another_address(scope, entry, column, instead_of=address)
            yield hit_at(entry.engine, column, message, fix)


@check_each(rosters, Severity.WARNING)
def ranges_overlap(roster: Roster) -> Iterator[Hit]:
    """Two address ranges overlap so that nobody can say which of them holds.

    Why: a smaller range within a larger one is an exception and goes before it; but two ranges that
    overlap in part, are the same, or belong to two members, contradict each other.
    Fix: Change an end of one of them.
    """
    kinds = grouped(usable_ranges(roster), lambda one: SPACES.get(one.kind or "", one.kind))
    for found in kinds.values():
        by_start = sorted(found, key=lambda one: (numbers_of(one).start, -numbers_of(one).stop))
        yield from _overlaps(by_start)


def _overlaps(by_start: Sequence[AddressRange]) -> Iterator[Hit]:
    against: list[list[AddressRange]] = [[] for _ in by_start]
    looked_at = [(numbers_of(one), folded(one.member or "")) for one in by_start]
    unended: list[int] = []
    left = _MOST_PAIRS
    for n, one in enumerate(by_start):
        unended = [m for m in unended if looked_at[m][0].stop > looked_at[n][0].start]
        left -= len(unended)
        if left < 0:
            said = f"so many ranges overlap that those from {ends_of(one)} on are not compared"
            yield hit_at(one, "first", said, "Mend those that are named, then check again.")
            break
        for m in unended:
            if _contradict(looked_at[m], looked_at[n]):
                against[m].append(one)
                against[n].append(by_start[m])
        unended.append(n)
    for one, clashing in zip(by_start, against, strict=True):
        if clashing:
            beyond = f", and {len(clashing) - 1} more with it" if len(clashing) > 1 else ""
            row = clashing[0].table.rows[clashing[0].index]
            message = f"{ends_of(one)} and {ends_of(clashing[0])} (row {row}) overlap{beyond}"
            where = [other.place("first") for other in clashing[:MOST_RELATED]]
            yield hit_at(one, "first", message, "Change an end of one of them.", related=where)


def _contradict(larger: tuple[range, str], one: tuple[range, str]) -> bool:
    (outer, others), (inner, owner) = larger, one
    if inner.stop > outer.stop or len(inner) == len(outer):
        return True
    return bool(owner and others) and owner != others


@check_each(rosters, Severity.ERROR)
def range_impossible(roster: Roster) -> Iterator[Hit]:
    """A range ends before it begins, or reaches beyond the addresses of its kind.

    Why: no address is in it, or not all of it can be given out.
    Fix: Swap its ends, or correct the one that is wrong.
    """
    for one in roster.ranges:
        if one.first is None or one.last is None or one.kind is None:
            continue
        if one.last < one.first:
            message = f"the range {one.first} to {one.last} ends before it begins"
            yield hit_at(one, "last", message, "Swap From and To.")
        elif one.last > _HIGHEST[one.kind]:
            message = f"{one.last} is beyond the last {one.kind} address, {_HIGHEST[one.kind]}"
            yield hit_at(one, "last", message, f"End the range at {_HIGHEST[one.kind]} at most.")
    layout = roster.layout
    if layout.table:
        yield from _setting(layout, layout.table, "short_range", layout.shorts, _HIGHEST["short"])
        yield from _setting(layout, layout.table, "long_range", layout.longs, _HIGHEST["long"])


def _setting(layout: Layout, table: Table, name: str, numbers: range, highest: int) -> Iterator[Hit]:
    wrong = None
    if not numbers:
        wrong = "ends before it begins"
    elif numbers[0] < 1:
        wrong = "begins below 1"
    elif numbers[-1] > highest:
        wrong = f"reaches beyond {highest}"
    if wrong:
        yield Hit(
            place=table.place(name, 0),
            column=table.heading(name),
            message=f"the range {getattr(layout, name)} {wrong}",
            fix=f"Enter a range within 1-{highest}.",
        )


def ruled_addresses(scope: Scope) -> Iterator[tuple[ScopedEngine, str, Address, Ranges]]:
    """Return every address of every engine with its workbook's ranges, where it has any."""
    known = _known(scope)
    for entry in scope.entries:
        ranges = known[id(entry.roster)]
        for column, address in entry.addresses if ranges.by_space else ():
            # At a meet only the address counts that the engine answers there.
            if address.encodable and (not scope.meet or column == entry.answers_by):
                yield entry, column, address, ranges


def _known(scope: Scope) -> dict[int, Ranges]:
    """Return the ranges that rule each roster: its own, or at a meet those of all on the same rails."""
    if not scope.meet:
        return {id(roster): ranges_of([roster]) for roster in scope.rosters}
    together = grouped(scope.rosters, lambda roster: layout_key(roster.layout)).values()
    shared = [(some, ranges_of(some)) for some in together]
    return {id(roster): ranges for some, ranges in shared for roster in some}


def ends_of(one: AddressRange) -> str:
    """Name a usable range in a sentence."""
    numbers = numbers_of(one)
    return f"{one.kind} {numbers[0]}" + (f" to {numbers[-1]}" if len(numbers) > 1 else "")
