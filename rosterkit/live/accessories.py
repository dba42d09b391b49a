"""The formulas of the sheet Accessories: CV1, CV9 and CV29 of a device's decoder."""

from collections.abc import Mapping

from rosterkit.live.accessory_machinery import DEVICES, TITLE
from rosterkit.live.machinery import Machinery
from rosterkit.live.places import Places
from rosterkit.live.rows import taken_back

_CVS = ("CV1", "CV9", "CV29")


def accessory_formulas(places: Places, machinery: Machinery) -> Mapping[str, str]:
    """Return the templates of the computed columns of Accessories by column name.

    They give what ``cv.accessory.accessory_cvs`` gives, or nothing where it is not clear what a cell of the
    row, or of another row of the same decoder, says. The arithmetic is in ``accessory_machinery``.
    """
    if DEVICES not in machinery:
        return {}
    place = places[TITLE]
    return {cv.lower(): taken_back(place, machinery, DEVICES, cv, "address") for cv in _CVS}
