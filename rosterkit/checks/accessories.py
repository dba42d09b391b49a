"""Checks of the numbers of turnouts, signals and other devices; engines never clash with them."""

from collections.abc import Iterator, Sequence

from rosterkit.checks.accessory_addresses import device_named
from rosterkit.checks.clashes import grouped
from rosterkit.checks.framework import Scope, check, check_each, rosters
from rosterkit.cv.accessory import Device, devices_in
from rosterkit.cv.accessory_words import (
    BROADCAST_DECODER,
    RESERVED_FIX,
    are,
    broadcast_words,
    decoder_zero_words,
    numbers_words,
)
from rosterkit.cv.address_ranges import Holder, gives_to, ruling_of, smallest_first, usable_ranges
from rosterkit.findings import Hit, Severity
from rosterkit.roster.model import Accessory, AddressRange, Roster
from rosterkit.roster.rows import hit_at
from rosterkit.standards.accessories import (
    PACKET_ASPECTS,
    WRAPPED_USER_NUMBERS,
    packet_addresses_of,
    user_number,
)


@check_each(rosters, Severity.ERROR, also=(Severity.WARNING,))
def accessory_address_reserved(roster: Roster) -> Iterator[Hit]:
    """A device has, or its decoder answers, one of the topmost numbers.

    Why: decoder address 511 is the broadcast to every accessory decoder (NMRA S-9.2.1 (Jul 2012), section
    D), which is 2041 to 2044 where turnout 1 is packet address 4 (RCN-225 (27.07.2025), section 3.1,
    derived); the edition of 2025 is reported to have dropped it (at second hand), and decoders made before it
    have not. The numbers after them come out as packet addresses 0 to 3 (RCN-213, from memory), which systems
    number differently, and after those the numbers begin again.
    Fix: Use a number from 1 to 2040.
    """
    for device in devices_in(roster):
        packets = list(dict.fromkeys([*device.packets, device.called]))
        broadcast = _numbers(device, BROADCAST_DECODER)
        wrapped = [number for number in _numbers(device, 0) if number in WRAPPED_USER_NUMBERS]
        past = sum(
            at > 0 and user_number(packet, offset=device.offset) == 1 for at, packet in enumerate(packets)
        )
        if broadcast:
            yield hit_at(device.row, "address", broadcast_words(broadcast), RESERVED_FIX)
        elif past:
            message = f"its decoder answers {numbers_words(device.numbers)}: they begin again after 2048"
            yield hit_at(device.row, "address", message, RESERVED_FIX)
        elif wrapped:
            message = decoder_zero_words(wrapped)
            yield hit_at(device.row, "address", message, RESERVED_FIX, severity=Severity.WARNING)


def _numbers(device: Device, decoder: int) -> list[int]:
    """Return the numbers of a decoder address that a device has: its own alone, or else its decoder's."""
    four = packet_addresses_of(decoder)
    packets = [device.called] if device.called in four else [one for one in device.packets if one in four]
    return [user_number(packet, offset=device.offset) for packet in packets]


@check_each(rosters, Severity.ERROR)
def accessory_beyond_outputs(roster: Roster) -> Iterator[Hit]:
    """A device has a number that its decoder, by its Outputs, does not answer.

    Why: a decoder of the method decoder begins at the first of its four numbers (NMRA S-9.2.1 (Jul 2012),
    section D), and Outputs says where it ends.
    Fix: Correct Address or Outputs.
    """
    for device in devices_in(roster):
        if device.called not in device.packets:
            address, outputs = device.row.address, device.row.outputs
            message = (
                f"{address} is beyond Outputs {outputs}: its decoder answers {numbers_words(device.numbers)}"
            )
            needed = device.called - device.packets[0] + 1
            fix = f"Enter Outputs {needed} or more, or Address {numbers_words(device.numbers)}."
            yield hit_at(device.row, "address", message, fix)


@check_each(rosters, Severity.ERROR)
def accessory_decoder_contradictory(roster: Roster) -> Iterator[Hit]:
    """Two rows of one decoder say different things of it.

    Why: a decoder of the method decoder has one CV29 and one number of outputs for all its devices, so what
    is keyed in for one of them undoes what was keyed in for the other.
    Fix: Enter the same Outputs, Aspects and BiDi in all rows of the decoder.
    """
    by_decoder = grouped(
        devices_in(roster), lambda one: None if one.by_output else (one.decoder, one.extended)
    )
    for several in by_decoder.values():
        for column in ("outputs", "bidi") if len(several) > 1 else ():
            yield from _contradictions([device.row for device in several], column)


def _contradictions(rows: Sequence[Accessory], column: str) -> Iterator[Hit]:
    """Find rows of one decoder that hold different values in a column; a blank one contradicts none."""
    by_value = grouped(rows, lambda row: getattr(row, column))
    firsts = [several[0] for several in by_value.values()]
    for row in rows if len(firsts) > 1 else ():
        value = getattr(row, column)
        if value is not None:
            other = firsts[1] if by_value[value] is by_value[getattr(firsts[0], column)] else firsts[0]
            place = other.place(column)
            theirs = f"{getattr(other, column)} for {device_named(other)} ({place.cell})"
            message = f"{row.heading(column)} is {value} here and {theirs}, on the same decoder"
            fix = f"Enter the same {row.heading(column)} in both rows, or correct an Address."
            yield hit_at(row, column, message, fix, related=[place])


@check_each(rosters, Severity.WARNING)
def accessory_aspects_beyond(roster: Roster) -> Iterator[Hit]:
    """A signal has more aspects than an extended packet names.

    Why: an extended packet has five bits for the aspect, 0 to 31 (NMRA S-9.2.1 (Jul 2012), section D); newer
    texts have eight (RCN-213, from memory), which not every station and decoder knows.
    Fix: Make sure that both the decoder and the command station take so many.
    """
    for row in roster.accessories:
        if row.aspects is not None and row.aspects > len(PACKET_ASPECTS):
            message = f"{row.aspects} aspects: a packet of NMRA S-9.2.1 of 2012 names {len(PACKET_ASPECTS)}"
            fix = "Make sure that both the decoder and the command station take so many."
            yield hit_at(row, "aspects", message, fix)


@check(Severity.WARNING)
def accessory_outside_range(scope: Scope) -> Iterator[Hit]:
    """A device has a number, or its decoder answers one, that no range of the kind accessory gives out.

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
    by_size = smallest_first(ranges)
    rulings: dict[int, AddressRange | None] = {}
    for device in devices_in(roster):
        outside = []
        for number in dict.fromkeys([device.row.address or 0, *device.numbers]):
            if number not in rulings:
                rulings[number] = ruling_of(number, by_size)
            ruling = rulings[number]
            # Whose a device is stands nowhere, so a range of any member will do.
            if ruling is None or not gives_to(ruling, Holder.DEVICE, at_home=at_home):
                outside.append(number)
        if outside and outside[0] == device.row.address:
            message = f"{outside[0]} is in no range for accessories"
            yield hit_at(device.row, "address", message, fix)
        elif outside:
            words = f"{numbers_words(outside)}, which its decoder answers too, {are(outside)}"
            yield hit_at(device.row, "address", f"{words} in no range for accessories", fix)
