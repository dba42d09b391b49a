"""Formulas that are written once for the cells of a column that were filled down with one another.

The first of these cells holds the text, with the area over all of them; the others name the group by its
number (ISO/IEC 29500-1, 18.3.1.40). Long formulas in thousands of rows cost little so.
"""

import re
from collections.abc import Callable, Collection, Iterable
from dataclasses import dataclass
from itertools import count

from rosterkit.cell_names import column_letters
from rosterkit.formulas.shared import SharedFormula
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

    def takes(self, text: str, row: int) -> bool:
        """Tell whether the formula of a cell below is this one, and take it in."""
        first = self.formula
        if first.row == self.last and not _alike(first.text, text):
            return False
        if not first.is_filled_down(first.column) or first.at(row, first.column) != text:
            return False
        self.last = row
        return True


def _alike(one: str, other: str) -> bool:
    """Tell at a glance whether one formula may be another filled down, which takes longer to find out."""
    return _DIGITS.sub("", one) == _DIGITS.sub("", other)


class Sharing:
    """The formulas that are written into one sheet, each of which is asked for in the order of the rows."""

    def __init__(
        self, cells: Iterable[tuple[int, int, str]], numbers: Callable[[], Collection[str]] = tuple
    ) -> None:
        """Begin with all of them.

        Args:
            cells: Row, column and formula, in the order of the rows.
            numbers: Gives the numbers that groups of the sheet have already; called once one is needed.
        """
        self._runs: dict[tuple[int, int], _Run] = {}
        self._numbers = numbers
        self._free = count()
        last: dict[int, _Run] = {}
        for row, column, formula in cells:
            run = last.get(column)
            if run is None or not run.takes(formula, row):
                run = last[column] = _Run(SharedFormula(formula, row, column), row)
            self._runs[row, column] = run

    def element(self, row: int, column: int, formula: str, prefix: bytes = b"") -> bytes:
        """Return the element of a cell's formula, which is written with it.

        Args:
            row: The cell's row.
            column: Its column.
            formula: The formula.
            prefix: The prefix of the format's namespace with its colon.

        Raises:
            CannotRunError: it is empty, or no cell can hold it.
        """
        run = self._runs[row, column]
        if run.number is not None and len(formula) <= LONGEST_FORMULA:
            return b'<%bf t="shared" si="%d"/>' % (prefix, run.number)
        if row == run.last:
            return formula_element(formula, prefix)
        taken = self._numbers()
        run.number = next(number for number in self._free if str(number) not in taken)
        letters = column_letters(column)
        area = f"{letters}{row}:{letters}{run.last}".encode()
        return formula_element(formula, prefix, b' t="shared" ref="%b" si="%d"' % (area, run.number))
