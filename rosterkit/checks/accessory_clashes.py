"""The check of devices that are in each other's way, each with all the numbers that its decoder answers."""

from bisect import bisect_right
from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass
from enum import Enum, auto

from rosterkit.checks.clashes import MOST_RELATED, grouped
from rosterkit.checks.framework import check_each, rosters
from rosterkit.cv.accessory import Device, devices_in
from rosterkit.cv.accessory_words import are, numbers_words
from rosterkit.findings import Hit, Severity
from rosterkit.roster.model import Accessory, Roster
from rosterkit.roster.rows import hit_at
from rosterkit.standards.accessories import user_number

_MOST_NAMED = 4
"""So many devices that share a number are named in a fix; beyond that only how many there are."""


class InTheWay(Enum):
    """How another device is in the way of one."""

    SAME_NUMBER = auto()
    """Both are called by one number."""
    ANSWERS_ALIKE = auto()
    """Their decoders both answer a number of theirs."""
    ON_ITS_FOUR = auto()
    """It is on a number that the other's decoder answers if it has the usual four."""
    OTHER_PACKETS = auto()
    """The same number, one by basic and one by extended packets."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Clash:
    """Some devices that are in the way of one, in the same way."""

    device: Device
    others: Sequence[Device]
    """Those below it in the sheet first, then those above; 20 at most."""
    count: int
    """How many there are of them."""
    way: InTheWay


_Claim = tuple[int, int, bool, bool, bool]


def clashes_among(devices: Sequence[Device]) -> Iterator[Clash]:
    """Return what is in the way of each device, in the order of the sheet.

    Basic and extended packets differ (NMRA S-9.2.1 (Jul 2012), section D), and so do the outputs of one
    decoder address.
    """
    # Rows that claim the same are in the same devices' way, so each pair of claims is looked at once, however
    # many rows there are of them.
    claims = grouped(devices, _claim)
    by_packet: dict[int, list[_Claim]] = {}
    for claim, (first, *_) in claims.items():
        for packet in _answered(first):
            by_packet.setdefault(packet, []).append(claim)
    found = {claim: _in_the_way(claim, claims, by_packet) for claim in claims}
    for device in devices:
        for way, sharing in found[_claim(device)].items():
            at = bisect_right(sharing, device.row.index, key=lambda one: one.row.index)
            before = sharing[: at - 1] if at and sharing[at - 1] is device else sharing[:at]
            after = sharing[at : at + MOST_RELATED]
            others = [*after, *before[: MOST_RELATED - len(after)]]
            if others:
                yield Clash(device=device, others=others, count=len(sharing) - at + len(before), way=way)


def _claim(device: Device) -> _Claim:
    stated = device.row.outputs is not None
    return device.called, len(device.packets), device.by_output, device.extended, stated


def _answered(device: Device) -> frozenset[int]:
    return frozenset((device.called, *device.packets))


def _in_the_way(
    claim: _Claim, claims: Mapping[_Claim, Sequence[Device]], by_packet: Mapping[int, Sequence[_Claim]]
) -> dict[InTheWay, list[Device]]:
    one = claims[claim][0]
    near = dict.fromkeys(other for packet in sorted(_answered(one)) for other in by_packet[packet])
    found: dict[InTheWay, list[Device]] = {}
    for other in near:
        way = _way(one, claims[other][0])
        if way is not None:
            found.setdefault(way, []).extend(claims[other])
    return {way: sorted(found[way], key=lambda each: each.row.index) for way in InTheWay if way in found}


def _way(one: Device, other: Device) -> InTheWay | None:
    shared = _answered(one) & _answered(other)
    if one.is_same_decoder(other):
        return InTheWay.SAME_NUMBER if one.called == other.called else None
    if one.extended != other.extended:
        return InTheWay.OTHER_PACKETS if shared else None
    if one.called == other.called:
        return InTheWay.SAME_NUMBER
    if one.sure & other.sure:
        return InTheWay.ANSWERS_ALIKE
    return InTheWay.ON_ITS_FOUR if one.sure & shared else None


@check_each(rosters, Severity.ERROR)
def accessory_address_shared(roster: Roster) -> Iterator[Hit]:
    """Two devices answer the same number.

    Why: both move at one key. Turnout numbers and engine addresses are apart (NMRA S-9.2.1 (Jul 2012),
    section A), so only devices are compared, each with all the numbers that its decoder answers: four with
    the method decoder unless Outputs says otherwise (section D). Basic and extended packets differ (section
    D), but not everybody at a throttle knows which kind a number is.
    Fix: Give one of them another number.
    """
    for clash in clashes_among(devices_in(roster)):
        yield _IN_THE_WAY[clash.way](clash)


def _same_number(clash: Clash) -> Hit:
    row, number = clash.device.row, clash.device.row.address
    message = f"{number} is also the number of {_where(clash.others[0].row)}{_beyond(clash)}"
    names = [device_named(row), *(device_named(other.row) for other in clash.others)]
    if clash.count == 1:
        fix = f"Give {names[0]} or {names[1]} another number."
    elif clash.count < _MOST_NAMED:
        fix = f"Give all but one of {', '.join(names[:-1])} and {names[-1]} another number."
    else:
        fix = f"Give all but one of the {clash.count + 1} another number."
    return _hit(clash, message, fix)


def _answers_alike(clash: Clash) -> Hit:
    other = clash.others[0]
    shared = _shared(clash, other.sure)
    message = (
        f"{numbers_words(shared)} {are(shared)} also answered by {_where(other.row)}, whose decoder answers "
        f"{numbers_words(other.numbers)}{_beyond(clash)}"
    )
    return _hit(clash, message, "Give one of them another number, or correct Outputs.")


def _on_its_four(clash: Clash) -> Hit:
    other = clash.others[0]
    shared = _shared(clash, frozenset(other.packets))
    message = (
        f"{numbers_words(shared)} {are(shared)} of the four numbers that the decoder of "
        f"{_where(other.row)} answers{_beyond(clash)}"
    )
    if len(shared) == 1:
        message = message.replace(" is of the four", " is one of the four", 1)
    fix = f"Use a number from another four, or enter Outputs of {device_named(other.row)} if it has fewer."
    return _hit(clash, message, fix, Severity.WARNING)


def _other_packets(clash: Clash) -> Hit:
    other = clash.others[0]
    shared = _shared(clash, frozenset((other.called, *other.packets)), every=True)
    kind = "extended" if other.extended else "basic"
    message = f"{numbers_words(shared)} {are(shared)} also answered by {_where(other.row)}, in {kind} packets"
    fix = "Give one of them another number, unless whoever calls them always knows which kind it is."
    return _hit(clash, f"{message}{_beyond(clash)}", fix, Severity.WARNING)


_IN_THE_WAY = {
    InTheWay.SAME_NUMBER: _same_number,
    InTheWay.ANSWERS_ALIKE: _answers_alike,
    InTheWay.ON_ITS_FOUR: _on_its_four,
    InTheWay.OTHER_PACKETS: _other_packets,
}


def _hit(clash: Clash, message: str, fix: str, severity: Severity | None = None) -> Hit:
    where = [other.row.place("address") for other in clash.others]
    return hit_at(clash.device.row, "address", message, fix, related=where, severity=severity)


def _shared(clash: Clash, theirs: frozenset[int], *, every: bool = False) -> list[int]:
    """Return the numbers that a device has in common with another one, in the decoder's order."""
    device = clash.device
    ours = dict.fromkeys([*device.packets, device.called])
    packets = [one for one in ours if one in theirs and (every or one in device.sure)]
    return [user_number(packet, offset=device.offset) for packet in packets]


def _beyond(clash: Clash) -> str:
    return f" and {clash.count - 1} more" if clash.count > 1 else ""


def _where(row: Accessory) -> str:
    return f"{device_named(row)} ({row.place('address').cell})"


def device_named(row: Accessory) -> str:
    """Name a device in a sentence: its label, or its row where it has none."""
    return f"'{row.accessory}'" if row.accessory else f"the device in row {row.table.rows[row.index]}"
