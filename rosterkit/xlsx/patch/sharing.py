"""Formulas that are written once for the cells of a column that were filled down with one another.

The first of these cells holds the text, with the area over all of them; the others name the group by its
number (ISO/IEC 29500-1, 18.3.1.40). Long formulas in thousands of rows cost little so.
"""

import re
from collections.abc import Callable, Collection, Mapping
from dataclasses import dataclass
from itertools import count

from rosterkit.cell_names import column_letters
from rosterkit.formulas.shared import SharedFormula
from rosterkit.xlsx.changes import CellChange
from rosterkit.xlsx.xml.values import LONGEST_FORMULA, formula_element

_DIGITS = re.compile("[0-9]+")


@dataclass(slots=True)
class _Run:
    """Cells of a column to which one formula is filled down, whatever stands between them."""

    formula: SharedFormula
    last: int
    """The row of the last of them."""
    number: int | None = None
    """That of the group, once the first of them is written."""

    def takes(self, change: CellChange) -> bool:
        """Tell whether a cell below has the formula, and take it in."""
        text, first = change.formula or "", self.formula
        if first.row == self.last and not _alike(first.text, text):
            return False
        if not first.is_filled_down(change.column) or first.at(change.row, change.column) != text:
            return False
        self.last = change.row
        return True


def _alike(one: str, other: str) -> bool:
    """Tell at a glance whether one formula may be another filled down, which takes longer to find out."""
    return _DIGITS.sub("", one) == _DIGITS.sub("", other)


class Sharing:
    """The formulas of one sheet's changes, each of which is asked for in the order of the rows."""

    def __init__(
        self, changes: Mapping[int, Mapping[int, CellChange]], numbers: Callable[[], Collection[str]]
    ) -> None:
        """Begin with all changes.

        Args:
            changes: Them by row and column.
            numbers: Gives the numbers that groups of the sheet have already; called once one is needed.
        """
        self._runs: dict[tuple[int, int], _Run] = {}
        self._numbers = numbers
        self._free = count()
        last: dict[int, _Run] = {}
        for row in sorted(changes):
            for column, change in changes[row].items():
                if change.formula is not None:
                    run = last.get(column)
                    if run is None or not run.takes(change):
                        run = last[column] = _Run(SharedFormula(change.formula, row, column), row)
                    self._runs[row, column] = run

    def element(self, change: CellChange, prefix: bytes) -> bytes:
        """Return the element of a cell's formula, which is written with it.

        Args:
            change: The cell.
            prefix: The prefix of the format's namespace with its colon.

        Raises:
            CannotRunError: it is empty, or no cell can hold it.
        """
        run = self._runs[change.row, change.column]
        formula = change.formula or ""
        if run.number is not None and len(formula) <= LONGEST_FORMULA:
            return b'<%bf t="shared" si="%d"/>' % (prefix, run.number)
        if change.row == run.last:
            return formula_element(formula, prefix)
        taken = self._numbers()
        run.number = next(number for number in self._free if str(number) not in taken)
        letters = column_letters(change.column)
        area = f"{letters}{change.row}:{letters}{run.last}".encode()
        return formula_element(formula, prefix, b' t="shared" ref="%b" si="%d"' % (area, run.number))
