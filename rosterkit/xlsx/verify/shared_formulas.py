"""Groups of cells that share one formula in an edited sheet: what each has, and whether one lost it."""

import re
from collections.abc import Callable, Collection
from functools import cached_property

from rosterkit.formulas.shift import shifted
from rosterkit.xlsx.verify.remainder import VerificationError
from rosterkit.xlsx.verify.sheet_data import SheetData
from rosterkit.xlsx.xml import tags
from rosterkit.xlsx.xml.references import column_number

Cell = tuple[int, int]
"""Row and column, from 1."""


class SharedFormulas:
    """The groups of a sheet in which each row and cell begins with its place."""

    def __init__(self, sheet: SheetData) -> None:
        """Begin with a sheet, which is only looked through when a formula is asked for."""
        self._sheet = sheet
        names = {b"p": re.escape(sheet.prefix)}
        self._holding = re.compile(
            rb'<%(p)bc r="([A-Z]+)([0-9]+)"[^<>]*><%(p)bf(\s[^<>]*)>([^<]+)</%(p)bf>' % names
        )
        self._formula = re.compile(rb"<%(p)bf(?=[\s/>])[^>]*>" % names)

    @cached_property
    def _firsts(self) -> dict[str, list[tuple[Cell, str]]]:
        """By the number of a group: the cells that hold its formula."""
        found: dict[str, list[tuple[Cell, str]]] = {}
        for cell in self._holding.finditer(self._sheet.data, self._sheet.begin, self._sheet.end):
            stated = tags.attributes(b"<f" + cell[3] + b">")
            if stated.get("t") == "shared" and "ref" in stated:
                place = int(cell[2]), column_number(cell[1].decode())
                found.setdefault(stated.get("si", ""), []).append((place, tags.plain(cell[4].decode())))
        return found

    def of(self, cell: Cell) -> Callable[[str], str | None]:
        """Return what gives the formula of a cell by the number of its group, None if that is not certain."""

        def derived(group: str) -> str | None:
            firsts = self._firsts.get(group, [])
            if len(firsts) != 1:
                return None
            (row, column), text = firsts[0]
            return shifted(text, cell[0] - row, cell[1] - column)

        return derived

    def demand_none_of(self, groups: Collection[str]) -> None:
        """Demand that no cell is left in groups whose formula went.

        Raises:
            VerificationError: one is.
        """
        if not groups:
            return
        for formula in self._formula.finditer(self._sheet.data, self._sheet.begin, self._sheet.end):
            stated = tags.attributes(formula[0])
            if stated.get("t") == "shared" and stated.get("si", "") in groups:
                raise VerificationError("a formula went that the formulas of other cells are derived from")
