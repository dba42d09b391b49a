"""Cells that look alike: dressed once, and then given the same look, which openpyxl else works out anew."""

from collections.abc import Callable, Hashable
from copy import copy
from typing import Any, cast

from openpyxl.cell.cell import Cell, MergedCell


class Looks:
    """The looks of one workbook's cells, each by a key of the caller's."""

    def __init__(self) -> None:
        self._known: dict[Hashable, Any] = {}

    def dress(
        self, cell: Cell | MergedCell, key: Hashable, dressed: Callable[[Cell | MergedCell], None]
    ) -> None:
        """Give a cell the look of a key; ``dressed`` is called with the first cell that gets it.

        openpyxl has no public name for the look of a cell as a whole; that of openpyxl 3.1 is used.
        """
        known, inner = self._known.get(key), cast("Any", cell)
        if known is None:
            dressed(cell)
            self._known[key] = copy(inner._style)  # noqa: SLF001
        else:
            inner._style = copy(known)  # noqa: SLF001
