"""Checks of the numbers of turnouts, signals and other devices; engines never clash with them."""

from collections.abc import Iterator, Sequence

from rosterkit.checks.clashes import clashes, grouped
from rosterkit.checks.framework import Scope, check, check_each, rosters
from rosterkit.cv.accessory import packet_of, pair_of
from rosterkit.cv.address_ranges import Holder, Rulings, gives_to, usable_ranges
from rosterkit.findings import Hit, Severity
from rosterkit.roster.model import AddressRange, Roster
from rosterkit.roster.rows import hit_at
from rosterkit.standards.accessories import DECODER_ADDRESSES, WRAPPED_USER_NUMBERS


@check_each(rosters, Severity.ERROR)
def accessory_address_shared(roster: Roster) -> Iterator[Hit]:
    """Two devices answer the same number.

    Why: both move at one key. Turnout numbers and engine addresses are apart (NMRA S-9.2.1 (Jul 2012),
    section A), so only devices are compared. Four numbers share one decoder of the method decoder, which
    answers all four, also where another decoder sits on one of them (section D).
    Fix: Give one of them another number.
    """
    yield from _same_number(roster)
    yield from _within_another_decoder(roster)


def _same_number(roster: Roster) -> Iterator[Hit]:
    by_packet = grouped(roster.accessories, lambda accessory: packet_of(accessory, roster.layout))
    for accessory, other, where in clashes(by_packet.values(), lambda one: one.place("address")):
        message = f"{accessory.address} is also the number of '{other.accessory}' ({where[0].cell})"
        fix = f"Give '{accessory.accessory}' or '{other.accessory}' another number."
        yield hit_at(accessory, "address", message, fix, related=where)


def _within_another_decoder(roster: Roster) -> Iterator[Hit]:
    pairs = [(accessory, pair_of(accessory, roster.layout)) for accessory in roster.accessories]
    by_decoder = grouped(pairs, lambda one: one[1].decoder if one[1] and one[0].method == "decoder" else None)
    for accessory, pair in pairs:
        sharing = by_decoder.get(pair.decoder, []) if pair and accessory.method == "output" else []
        apart = [other for other, _ in sharing if other.address != accessory.address]
        if apart:
            places = [other.place("address") for other in apart]
            named = f"'{apart[0].accessory}' ({places[0].cell})"
            message = f"{accessory.address} is one of the four numbers that the decoder of {named} answers"
            fix = "Use a number from another four, unless that pair of outputs is free there."
            yield hit_at(accessory, "address", message, fix, related=places, severity=Severity.WARNING)


@check_each(rosters, Severity.ERROR)
def accessory_address_reserved(roster: Roster) -> Iterator[Hit]:
    """A device has one of the topmost numbers.

    Why: decoder address 511 is the broadcast to every accessory decoder (NMRA S-9.2.1 (Jul 2012), section
    D), which is 2041 to 2044 where turnout 1 is packet address 4 (RCN-225 (27.07.2025), section 3.1,
    derived). The numbers after them come out as packet addresses 0 to 3 (RCN-213, from memory), which
    systems number differently.
    Fix: Use a number from 1 to 2040.
    """
    fix = "Use a number from 1 to 2040."
    for accessory in roster.accessories:
        pair = pair_of(accessory, roster.layout)
        if pair and pair.decoder == DECODER_ADDRESSES[-1]:
            message = f"{accessory.address} is the broadcast: every accessory decoder answers it"
            yield hit_at(accessory, "address", message, fix)
        elif pair and pair.decoder == 0 and accessory.address in WRAPPED_USER_NUMBERS:
            message = f"{accessory.address} comes out as decoder 0, which not every system can call"
            yield hit_at(accessory, "address", message, fix, severity=Severity.WARNING)


@check(Severity.WARNING)
def accessory_outside_range(scope: Scope) -> Iterator[Hit]:
    """A device has a number that no range of the kind accessory gives out.

    Why: the club gives out numbers by range, and this one is in none, or in one for something else.
    Fix: Choose a number from a range of the kind accessory.
    """
    for roster in scope.rosters:
        ranges = [one for one in usable_ranges(roster) if one.kind == "accessory"]
        if any(gives_to(one, Holder.DEVICE) for one in ranges):
            yield from _outside(roster, ranges, at_home=not scope.meet)


def _outside(roster: Roster, ranges: Sequence[AddressRange], *, at_home: bool) -> Iterator[Hit]:
    offered = [one for one in ranges if gives_to(one, Holder.DEVICE, at_home=at_home)]
    ends = " or ".join(f"{one.first} to {one.last}" for one in offered[:3])
    fix = f"Choose from {ends}." if offered else "Choose another number."
    rulings = Rulings(ranges)
    for accessory in roster.accessories:
        if accessory.address is not None:
            ruling = rulings.of(accessory.address)
            # Whose a device is stands nowhere, so a range of any member will do.
            if ruling is None or not gives_to(ruling, Holder.DEVICE, at_home=at_home):
                yield hit_at(accessory, "address", f"{accessory.address} is in no range for accessories", fix)
