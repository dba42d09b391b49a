"""Groups of cells that share one formula, which only the first cell of each group holds.

The others name the group by its number (ISO/IEC 29500-1, 18.3.1.40).
"""

import re
from collections.abc import Iterator, Mapping
from dataclasses import dataclass, field

from rosterkit.formulas.shared import SharedFormula
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
    _formula: SharedFormula | None = None

    def text_at(self, cell: Cell) -> str | None:
        """Return the formula that a cell has as one of the others; None if that is not certain."""
        if len(self.firsts) != 1 or cell not in self.others:
            return None
        if self._formula is None:
            self._formula = SharedFormula(self.text, *self.firsts[0])
        return self._formula.at(*cell)


def shared_formulas(sheet: SheetText) -> Mapping[str, Group]:
    """Return the groups of a sheet by their numbers.

    Raises:
        OutOfOrderError: its rows or cells do not stand in order.
    """
    groups: dict[str, Group] = {}
    if sheet.masked.find(b"shared", sheet.sheet_data.inside, sheet.sheet_data.outside) < 0:
        return groups
    usual = list(_usual(sheet))
    for cell, number, is_first, text in usual if len(usual) == _count(sheet) else _unusual(sheet):
        group = groups.get(number)
        if group is None:
            group = groups[number] = Group()
        if is_first:
            group.firsts.append(cell)
            group.text = text
        else:
            group.others.add(cell)
    return groups


_Shared = tuple[Cell, str, bool, str]
"""A formula of a group: its cell, the number of the group, whether it is a first one, and its text."""


def _count(sheet: SheetText) -> int:
    """Count the formulas that may be of groups."""
    formula = re.compile(rb"<%bf(?=\s)[^>]*\bshared\b" % re.escape(sheet.prefix))
    return len(formula.findall(sheet.masked, sheet.sheet_data.inside, sheet.sheet_data.outside))


def _usual(sheet: SheetText) -> Iterator[_Shared]:
    """Return the formulas of groups in cells that are spelt as nearly all programs do."""
    cell = re.compile(
        rb'<%(p)bc r="([A-Z]{1,3})([0-9]{1,7})"[^<>]*><%(p)bf t="shared"( ref="[^"<>]*")? si="([0-9]+)"'
        rb"(?:/>|>([^<]*)</%(p)bf>)" % {b"p": re.escape(sheet.prefix)}
    )
    for found in cell.finditer(sheet.masked, sheet.sheet_data.inside, sheet.sheet_data.outside):
        letters, row, area, number, text = found.groups()
        place = int(row), column_number(letters.decode())
        yield place, number.decode(), area is not None, tags.plain((text or b"").decode())


def _unusual(sheet: SheetText) -> Iterator[_Shared]:
    """Return the formulas of groups however they are spelt."""
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
                text = tags.plain(sheet.data[tag.end() : end].decode())
                yield (row.number, column), stated.get("si", ""), "ref" in stated, text
