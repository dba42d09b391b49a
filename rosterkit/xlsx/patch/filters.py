"""The filter buttons of a worksheet: headings written at their right side get one too."""

import re
from collections.abc import Mapping

from rosterkit.xlsx.patch.cells import RowChanges
from rosterkit.xlsx.patch.splices import Splice, set_attribute
from rosterkit.xlsx.patch.worksheet import SheetText
from rosterkit.xlsx.xml.areas import Area, area
from rosterkit.xlsx.xml.values import blank

FILTER_NAME = "_xlnm._FilterDatabase"
"""The hidden defined name that says once more which cells a sheet's filter covers."""

# The title before ! may be quoted and hold anything, line ends too.
_REFERENCE = re.compile(r"(.*!)(\$[A-Z]{1,3}\$[0-9]{1,7}(?::\$[A-Z]{1,3}\$[0-9]{1,7})?)", re.DOTALL)


def filtered_area(sheet: SheetText) -> Area | None:
    """Return the cells under a sheet's own filter; tables have filters of theirs."""
    element = sheet.root.child("autoFilter")
    if element is None:
        return None
    try:
        return area(element.attributes.get("ref", ""))
    except ValueError:
        return None


def wider_filter(where: Area, changes: Mapping[int, RowChanges], obstacles: list[Area]) -> Area:
    """Return the filter's area with the headings that are written directly right of it.

    Args:
        where: The area as it is.
        changes: The changes of the sheet.
        obstacles: Areas that a filter may not grow into: the tables.
    """
    headings = changes.get(where.top, {})
    right = where.right
    while right + 1 in headings and not blank(headings[right + 1].value):
        if any(other.meets(Area(where.top, right + 1, where.bottom, right + 1)) for other in obstacles):
            break
        right += 1
    return Area(where.top, where.left, where.bottom, right)


def filter_splices(sheet: SheetText, wide: Area) -> list[Splice]:
    """Work out the splice that gives the sheet's filter its area."""
    element = sheet.root.child("autoFilter")
    return set_attribute(sheet.data, element, "ref", str(wide)) if element is not None else []


def widened_name(value: str, old: Area, wide: Area) -> str | None:
    """Return the text of the filter's defined name for a wider area.

    None if it does not name the old area.
    """
    match = _REFERENCE.fullmatch(value)
    if match is None or area(match[2]) != old:
        return None
    return match[1] + wide.absolute
