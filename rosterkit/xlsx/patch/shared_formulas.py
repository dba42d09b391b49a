"""Groups of cells that share one formula, which only the first cell of each group holds.

The others name the group by its number (ISO/IEC 29500-1, 18.3.1.40).
"""

import re
from collections.abc import Iterator, Mapping
from dataclasses import dataclass, field

from rosterkit.formulas.shift import shifted
from rosterkit.xlsx.patch.worksheet import SheetText
from rosterkit.xlsx.xml import tags
from rosterkit.xlsx.xml.references import column_number

Cell = tuple[int, int]
"""Row and column, from 1."""


@dataclass(slots=True)
class Group:
    """The cells that share one formula."""

    firsts: list[Cell] = field(default_factory=list)
    """Those that hold it: one, unless the file is at odds with itself."""
    text: str = ""
    """The formula as it stands in the first one."""
    others: set[Cell] = field(default_factory=set)

    def text_at(self, cell: Cell) -> str | None:
        """Return the formula that a cell has as one of the others; None if that is not certain."""
        if len(self.firsts) != 1 or cell not in self.others:
            return None
        first = self.firsts[0]
        return shifted(self.text, cell[0] - first[0], cell[1] - first[1])


def shared_formulas(sheet: SheetText) -> Mapping[str, Group]:
    """Return the groups of a sheet by their numbers.

    Raises:
        OutOfOrderError: its rows or cells do not stand in order.
    """
    groups: dict[str, Group] = {}
    for cell, stated, text in _shared(sheet):
        group = groups.setdefault(stated.get("si", ""), Group())
        if "ref" in stated:
            group.firsts.append(cell)
            group.text = text
        else:
            group.others.add(cell)
    return groups


def _shared(sheet: SheetText) -> Iterator[tuple[Cell, Mapping[str, str], str]]:
    """Return each formula of a group: its cell, the attributes of its element, and its text."""
    if sheet.masked.find(b"shared", sheet.sheet_data.inside, sheet.sheet_data.outside) < 0:
        return
    names = {b"p": re.escape(sheet.prefix)}
    wanted = re.compile(rb"<%(p)bc(?=[\s/>])[^>]*>|<%(p)bf(?=\s)[^>]*\bshared\b[^>]*>" % names)
    for row in sheet.rows():
        if sheet.masked.find(b"shared", row.inside, row.outside) < 0:
            continue
        column = 0
        for tag in wanted.finditer(sheet.masked, row.inside, row.outside):
            stated = tags.attributes(sheet.data[tag.start() : tag.end()])
            if tag[0].startswith(b"<%bc" % sheet.prefix):
                place = stated.get("r")
                column = column + 1 if place is None else column_number(place.rstrip("0123456789"))
            elif stated.get("t") == "shared":
                end = tag.end() if tag[0].endswith(b"/>") else sheet.masked.index(b"<", tag.end())
                yield (row.number, column), stated, tags.plain(sheet.data[tag.end() : end].decode())
