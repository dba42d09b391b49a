"""Groups of cells that share one formula in an edited sheet: what each has, and whether one lost it."""

import re
from collections import Counter
from collections.abc import Callable, Mapping, Sequence
from functools import cached_property
from typing import NamedTuple

from rosterkit.formulas.shared import SharedFormula
from rosterkit.xlsx.changes import Wanted
from rosterkit.xlsx.verify.cells import shared_style_of, style_of
from rosterkit.xlsx.verify.remainder import VerificationError
from rosterkit.xlsx.verify.sheet_data import SheetData
from rosterkit.xlsx.xml import tags
from rosterkit.xlsx.xml.areas import Area, area_or_none
from rosterkit.xlsx.xml.references import column_number

Cell = tuple[int, int]
"""Row and column, from 1."""


class First(NamedTuple):
    """A cell that holds the formula of a group."""

    row: int
    column: int
    text: str
    area: str
    """The cells to which it applies, as stated."""


class SharedFormulas:
    """The groups of a sheet in which each row and cell begins with its place."""

    def __init__(self, sheet: SheetData) -> None:
        """Begin with a sheet, which is only looked through when a formula is asked for."""
        self._sheet = sheet
        names = {b"p": re.escape(sheet.prefix)}
        self._holding = re.compile(
            rb'<%(p)bc r="([A-Z]+)([0-9]+)"[^<>]*><%(p)bf(\s[^<>]*\bshared\b[^<>]*)>([^<]+)</%(p)bf>' % names
        )
        self._usual = re.compile(rb'<%(p)bf t="shared"(?: ref="[A-Z0-9:]*")? si="([0-9]+)"/?>' % names)
        self._any = re.compile(rb"<%(p)bf(?=\s)[^>]*\bshared\b[^>]*>" % names)

    @cached_property
    def _firsts(self) -> Mapping[str, list[First]]:
        """By the number of a group: the cells that hold its formula."""
        found: dict[str, list[First]] = {}
        for cell in self._holding.finditer(self._sheet.data, self._sheet.begin, self._sheet.end):
            stated = tags.attributes(b"<f" + cell[3] + b">")
            if stated.get("t") == "shared" and "ref" in stated:
                place = int(cell[2]), column_number(cell[1].decode())
                first = First(*place, tags.plain(cell[4].decode()), stated["ref"])
                found.setdefault(stated.get("si", ""), []).append(first)
        return found

    @cached_property
    def _certain(self) -> Mapping[str, SharedFormula]:
        """By the number of a group: its formula, where just one cell holds it."""
        return {
            group: SharedFormula(firsts[0].text, firsts[0].row, firsts[0].column)
            for group, firsts in self._firsts.items()
            if len(firsts) == 1
        }

    def first(self, group: str) -> First | None:
        """Return the cell that holds the formula of a group; None if not just one does."""
        firsts = self._firsts.get(group, [])
        return firsts[0] if len(firsts) == 1 else None

    def of(self, row: int, column: int) -> Callable[[str], str | None]:
        """Return what gives the formula of a cell by the number of its group, None if that is not certain."""

        def derived(group: str) -> str | None:
            formula = self._certain.get(group)
            return None if formula is None else formula.at(row, column)

        return derived

    @cached_property
    def sizes(self) -> Mapping[str, int]:
        """By the number of a group: how many cells are in it."""
        place = self._sheet.data, self._sheet.begin, self._sheet.end
        usual = self._usual.findall(*place)
        if len(usual) == len(self._any.findall(*place)):
            return {number.decode(): size for number, size in Counter(usual).items()}
        stated = [tags.attributes(one[0]) for one in self._any.finditer(*place)]
        return Counter(one.get("si", "") for one in stated if one.get("t") == "shared")


class Sharing:
    """What an edit did to the groups of a sheet."""

    def __init__(self, old: SheetData, new: SheetData) -> None:
        """Begin with the sheet before and after."""
        self._old = SharedFormulas(old)
        self._new = SharedFormulas(new)
        self._prefix = old.prefix
        self._formula = re.compile(rb"<%bf(?=[\s/>])[^>]*>" % re.escape(old.prefix))
        self._claimed: dict[str, list[Cell]] = {}
        """Of the groups in which claimed cells are: these."""
        self._deepest: dict[int, int] = {}
        """By column: the last row with a claimed formula."""
        self._written: set[str] = set()
        """The groups in which cells are that the edit put in or rewrote."""
        self._lost: set[str] = set()
        """The groups whose first cell has something else now."""

    def style_of(self, row: int, column: int, old: bytes | None, new: bytes, wanted: Wanted) -> int | None:
        """Return the format of a claimed cell, None if it does not hold what it should; note its group."""
        if wanted.formula is None:
            return style_of(self._prefix, old, new, wanted)
        self._deepest[column] = row
        if b"shared" not in new:
            return style_of(self._prefix, old, new, wanted)
        derived = self._new.of(row, column)
        sharing = shared_style_of(self._prefix, old, new, wanted, derived)
        if sharing is None:
            style, group = style_of(self._prefix, old, new, wanted, derived), self._stated(new).get("si")
        else:
            style, group = sharing
        if group is not None:
            self._claimed.setdefault(group, []).append((row, column))
            if old != new:
                self._written.add(group)
        return style

    def note_taken(self, old: bytes) -> None:
        """Note of a cell that became another whether others took their formula from it."""
        stated = self._stated(old)
        if "ref" in stated:
            self._lost.add(stated.get("si", ""))

    def _stated(self, cell: bytes) -> Mapping[str, str]:
        formula = self._formula.search(cell)
        stated = tags.attributes(formula[0]) if formula is not None else {}
        return stated if stated.get("t") == "shared" else {}

    def verify(self) -> None:
        """Demand that each cell of a group is either claimed, or has the formula that it had.

        Raises:
            VerificationError: another cell takes its formula from one that went, or is in a group of ours, or
                a group of ours does not say which cells are in it.
        """
        for group in self._written | self._lost:
            cells, first = self._claimed.get(group, []), self._new.first(group)
            if first is not None and first == self._old.first(group):
                continue
            if self._new.sizes.get(group, 0) != len(cells):
                if group in self._lost:
                    raise VerificationError(
                        "a formula went that the formulas of other cells are derived from"
                    )
                raise VerificationError("other cells are in a group that shares a formula of ours")
            if cells and (first is None or not self._covers(first, cells)):
                raise VerificationError("a formula that cells share does not say which cells they are")

    def _covers(self, first: First, cells: Sequence[Cell]) -> bool:
        """Tell whether a cell states the very area below it in which formulas were written."""
        area, column = area_or_none(first.area), first.column
        if area is None or area != Area(first.row, column, area.bottom, column) or str(area) != first.area:
            return False
        return area.bottom <= self._deepest.get(column, 0) and all(
            area.top <= row <= area.bottom and at == column for row, at in cells
        )
