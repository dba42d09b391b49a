"""The filter buttons of a worksheet: headings written at their right side and rows below come under them."""

import re
from dataclasses import replace

from rosterkit.xlsx.patch.growth import Growth, in_the_way, sort_splices
from rosterkit.xlsx.patch.splices import Splice, set_attribute
from rosterkit.xlsx.patch.worksheet import SheetText
from rosterkit.xlsx.xml.areas import Area, area_or_none

FILTER_NAME = "_xlnm._FilterDatabase"
"""The hidden defined name that says once more which cells a sheet's filter covers."""

# The title before ! may be quoted and hold anything, line ends too.
_REFERENCE = re.compile(r"(.*!)(\$[A-Z]{1,3}\$[0-9]{1,7}(?::\$[A-Z]{1,3}\$[0-9]{1,7})?)", re.DOTALL)


def filtered_area(sheet: SheetText) -> Area | None:
    """Return the cells under a sheet's own filter; tables have filters of theirs."""
    element = sheet.root.child("autoFilter")
    return area_or_none(element.attributes.get("ref")) if element else None


def filter_growth(sheet: SheetText, growth: Growth, obstacles: list[Area]) -> tuple[Area, Area] | None:
    """Return the area of the sheet's own filter before and after; None if it does not grow.

    Where no filter is on, that of the range which was sorted last.

    Args:
        sheet: The worksheet.
        growth: How the list grows.
        obstacles: Areas that a filter may not grow into: the tables.
    """
    where = filtered_area(sheet) or _sorted_area(sheet, growth)
    if where is None or not growth.is_of(where):
        return None
    lowered = growth.lowered(where)
    if lowered != where and in_the_way(sheet, replace(lowered, top=where.bottom + 1), obstacles):
        lowered = where
    wide = replace(lowered, right=where.right + len(growth.headings(lowered, obstacles)))
    return None if wide == where else (where, wide)


def _sorted_area(sheet: SheetText, growth: Growth) -> Area | None:
    """Return the cells that were sorted last with the headings above them, which a sort leaves out."""
    element = sheet.root.child("sortState")
    found = area_or_none(element.attributes.get("ref")) if element else None
    if found is None or growth.heading is None or found.top != growth.heading[0] + 1:
        return found
    return replace(found, top=growth.heading[0])


def filter_splices(sheet: SheetText, old: Area, wide: Area) -> list[Splice]:
    """Work out the splices that give the sheet's filter, and what it sorts, their area."""
    splices: list[Splice] = []
    for element in sheet.root.children:
        if element.name == "autoFilter":
            splices += set_attribute(sheet.data, element, "ref", str(wide))
        if element.name in {"autoFilter", "sortState"}:
            splices += sort_splices(sheet.masked, element.start, element.end, old, wide)
    return splices


def widened_name(value: str, old: Area, wide: Area) -> str | None:
    """Return the text of the filter's defined name for a wider area.

    None if it does not name the old area.
    """
    match = _REFERENCE.fullmatch(value)
    return match[1] + wide.absolute if match and area_or_none(match[2]) == old else None
