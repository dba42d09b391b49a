"""How tables, filters and sorted ranges grow with the list that they lie over: to the right, and downward."""

import re
from collections.abc import Mapping, Sequence
from dataclasses import dataclass, replace

from rosterkit.xlsx.patch.cell_writer import RowChanges
from rosterkit.xlsx.patch.splices import Splice
from rosterkit.xlsx.patch.worksheet import SheetText
from rosterkit.xlsx.xml import tags
from rosterkit.xlsx.xml.areas import Area, area_or_none
from rosterkit.xlsx.xml.values import Value, blank

_SORTED = re.compile(rb"<(?:[^\s<>/:]+:)?sort(State|Condition)\s[^>]*>")
_TRUE = {"1", "true"}


@dataclass(frozen=True, slots=True, kw_only=True)
class Growth:
    """What is written at the right side of a list, and below it."""

    heading: tuple[int, int] | None
    """Row and column of one of the list's headings; None if nothing grows."""
    last_row: int
    """The last row that is added below the list; 0 if none is."""
    changes: Mapping[int, RowChanges]

    def is_of(self, where: Area) -> bool:
        """Tell whether an area lies over the list, its first row over the headings."""
        return self.heading is not None and self.heading[0] == where.top and where.holds(*self.heading)

    def lowered(self, where: Area) -> Area:
        """Return an area with the rows that are added below it."""
        return replace(where, bottom=max(where.bottom, self.last_row))

    def headings(self, where: Area, obstacles: Sequence[Area]) -> list[Value]:
        """Return the headings that are written directly right of an area, up to one where it cannot grow."""
        found: list[Value] = []
        row, column = self.changes.get(where.top, {}), where.right + 1
        while column in row and not blank(row[column].value):
            if any(other.meets(replace(where, left=column, right=column)) for other in obstacles):
                break
            found.append(row[column].value)
            column += 1
        return found


def in_the_way(sheet: SheetText, below: Area, obstacles: Sequence[Area]) -> tuple[int, int] | None:
    """Return row and column of the first cell that keeps an area from growing downward, if one does."""
    met = next((other for other in obstacles if other.meets(below)), None)
    if met is not None:
        return max(met.top, below.top), max(met.left, below.left)
    content = re.compile(rb"<%b(?:v|f|is)(?=[\s/>])" % sheet.prefix)
    for row in sheet.rows():
        if below.top <= row.number <= below.bottom:
            columns = sheet.columns(row)
            for position, column in enumerate(columns):
                cell = sheet.cell(row, columns, position)
                inside = below.left <= column <= below.right
                if inside and content.search(sheet.masked, cell.inside, cell.outside):
                    return row.number, column
    return None


def sort_splices(masked: bytes, start: int, end: int, old: Area, wide: Area) -> list[Splice]:
    """Work out the splices by which what was sorted reaches as far as the area that grew.

    Sorted again, a range that stayed behind would tear its rows apart. A range that was sorted from left to
    right, or reached less far than the area, stays as it is.

    Args:
        masked: The part, with all that looks like a tag and is none blanked out.
        start: Where the element begins that holds the sort states.
        end: Where it ends.
        old: The area before.
        wide: The area after.
    """
    splices: list[Splice] = []
    rows_sorted = False
    for tag in _SORTED.finditer(masked, start, end):
        stated = tags.attributes(tag[0])
        if tag[1] == b"State":
            rows_sorted = stated.get("columnSort") not in _TRUE
        where = area_or_none(stated.get("ref"))
        if where is None or not rows_sorted:
            continue
        grown = where
        if where.bottom == old.bottom:
            grown = replace(grown, bottom=wide.bottom)
        if where.right == old.right and tag[1] == b"State":
            grown = replace(grown, right=wide.right)
        if grown != where:
            splices.append(Splice(*tag.span(), tags.with_attribute(tag[0], "ref", str(grown))))
    return splices
