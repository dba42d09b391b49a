"""Readings of accessory decoders beside what the sheet Accessories says of the same CVs."""

from collections.abc import Mapping

from rosterkit.cv.accessory import Device, accessory_cvs, devices_in
from rosterkit.cv.accessory_bits import labels_of_engines
from rosterkit.cv.readings import Verdict
from rosterkit.roster.model import Roster
from rosterkit.roster.schema import folded
from rosterkit.standards.accessories import ALIAS_OFFSET
from rosterkit.standards.bounds import BYTE


def devices_by_label(roster: Roster) -> Mapping[str, Device]:
    """Return by folded label the devices that readings can be of, the first of each; no engine's label."""
    engines = labels_of_engines(roster)
    labelled = ((folded(one.row.accessory), one) for one in reversed(devices_in(roster)) if one.row.accessory)
    return {label: device for label, device in labelled if label not in engines}


def device_wanted(device: Device, cv: int) -> int | None:
    """Return what a device's row says of a CV, 1 to 1024, or of its alias; None where it says nothing.

    CV513 and up are those 512 below (NMRA S-9.2.2 (Jul 2012), Table 3).
    """
    return accessory_cvs(device).get(cv - ALIAS_OFFSET if cv > ALIAS_OFFSET else cv)


def device_verdict(device: Device, cv: int, value: int | None) -> Verdict | None:
    """Compare a reading of a CV, 0 to 255, with a device's row; None where nothing was read.

    Of CV29 only those bits count that the rows of its decoder state, and bit 7.
    """
    wanted = device_wanted(device, cv)
    if value is None or not accessory_cvs(device):
        return None
    if wanted is None:
        return Verdict.NOT_SET_HERE
    stated = BYTE[-1] & ~(device.kept | device.assumed) if cv % ALIAS_OFFSET == 29 else BYTE[-1]
    return Verdict.DIFFERS if (value ^ wanted) & stated else Verdict.AGREES
