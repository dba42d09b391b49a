"""Checks of what was read back of accessory decoders."""

from collections.abc import Iterator

from rosterkit.checks.accessory_addresses import device_named
from rosterkit.checks.framework import check_each, rosters
from rosterkit.cv.accessory import Device, devices_in
from rosterkit.cv.accessory_bits import NOTHING_READ, accessory_readings
from rosterkit.cv.accessory_readings import device_verdict, device_wanted
from rosterkit.cv.accessory_words import missing_bit_words
from rosterkit.cv.readings import Verdict
from rosterkit.findings import Hit, Severity
from rosterkit.roster.model import Reading, Roster
from rosterkit.roster.rows import hit_at
from rosterkit.standards.configuration import is_accessory

_CONFIGURATION_CV = 29


@check_each(rosters, Severity.ERROR)
def accessory_bit_missing(roster: Roster) -> Iterator[Hit]:
    """CV29 of an accessory decoder reads without bit 7.

    Why: such a decoder is called by the commands of locomotives, not of accessories (RCN-225 (27.07.2025),
    section 3.1), so nothing answers the device's number.
    Fix: Add 128 to CV29, unless an engine's CV29 was read.
    """
    for device, cv, reading in _readings(roster):
        if cv == _CONFIGURATION_CV and reading.cv and not is_accessory(reading.value or 0):
            message = missing_bit_words(reading.cv, reading.value or 0)
            wanted = device_wanted(device, cv)
            write = "Add 128" if wanted is None else f"Key in CV{reading.cv} = {wanted}"
            fix = f"{write}; or correct Loco, if it was an engine's."
            yield hit_at(reading, "value", message, fix)


@check_each(rosters, Severity.WARNING)
def accessory_reading_differs(roster: Roster) -> Iterator[Hit]:
    """A CV of an accessory decoder reads otherwise than its row says.

    Why: the device does not answer the number that the sheet has. Where the decoder gives no acknowledgment
    many stations show 255 (common practice, no source). Of CV29 only the bits count that its row states.
    Fix: Key in the wanted value, or correct the row.
    """
    for device, cv, reading in _readings(roster):
        value, wanted = reading.value, device_wanted(device, cv)
        lacks_bit = cv == _CONFIGURATION_CV and not is_accessory(value or 0)
        if lacks_bit or value == wanted:
            continue
        if value == NOTHING_READ:
            message = f"CV{reading.cv} reads 255, so probably nothing was read"
            yield hit_at(
                reading, "value", message, "Connect something to the decoder's outputs; read it again."
            )
        elif device_verdict(device, cv, value) is Verdict.DIFFERS:
            message = f"CV{reading.cv} reads {value}, wanted {wanted} for {device_named(device.row)}"
            fix = f"Key in CV{reading.cv} = {wanted}, or correct the row in Accessories."
            yield hit_at(reading, "value", message, fix)


def _readings(roster: Roster) -> Iterator[tuple[Device, int, Reading]]:
    """Return the newest readings of each device that have a value, each with its CV, 1 to 512."""
    for device in devices_in(roster) if roster.readings else ():
        for cv, reading in accessory_readings(device.row, roster).items():
            if reading.value is not None:
                yield device, cv, reading
