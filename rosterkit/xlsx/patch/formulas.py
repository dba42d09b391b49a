"""The formulas of a worksheet, as far as writing beside them needs to know of them."""

import re
from collections.abc import Iterator

from rosterkit.xlsx.patch.worksheet import SheetText
from rosterkit.xlsx.xml import tags
from rosterkit.xlsx.xml.areas import Area, area_or_none

# The look ahead tells f from other names that begin with it.
_FORMULA = re.compile(rb"<(?:[^\s<>/:]+:)?f(?=[\s/>])")
_BLOCKS = {"array": "lies in the cells of an array formula", "dataTable": "lies in a what-if data table"}


def has_formulas(data: bytes) -> bool:
    """Tell whether a worksheet's part holds any formula."""
    return _FORMULA.search(data) is not None


def blocks(sheet: SheetText) -> Iterator[tuple[Area, str]]:
    """Return the areas that one formula fills with its results, and what is to be said of a cell inside.

    Such are array formulas of both kinds (those with a fixed range and those that spill) and data tables.
    """
    formula = re.compile(rb"<%bf\s[^>]*\bref\s*=[^>]*>" % sheet.prefix)
    for tag in formula.finditer(sheet.masked, sheet.sheet_data.inside, sheet.sheet_data.outside):
        stated = tags.attributes(tag[0])
        why = _BLOCKS.get(stated.get("t", ""))
        where = area_or_none(stated.get("ref"))
        if why is not None and where is not None:
            yield where, why
