"""The check of devices that share numbers, each with all the numbers that its decoder answers."""

from collections.abc import Iterator

from rosterkit.checks.accessory_clashes import Clash, InTheWay, clashes_among
from rosterkit.checks.framework import check_each, rosters
from rosterkit.cv.accessory import devices_in
from rosterkit.cv.accessory_words import are, numbers_words
from rosterkit.findings import Hit, Severity
from rosterkit.roster.model import Accessory, Roster
from rosterkit.roster.rows import hit_at
from rosterkit.standards.accessories import user_number

_MOST_NAMED = 4
"""So many devices that share a number are named in a fix; beyond that only how many there are."""


@check_each(rosters, Severity.ERROR, also=(Severity.WARNING,))
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
