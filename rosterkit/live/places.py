"""Where in a workbook the sheets stand that formulas read and fill."""

from collections.abc import Mapping
from dataclasses import dataclass


@dataclass(frozen=True, slots=True, kw_only=True)
class SheetPlace:
    """One of our sheets as formulas see it."""

    title: str
    """As it stands in the workbook."""
    columns: Mapping[str, int]
    """The sheet column of each column by its schema name, computed ones as they will stand; a missing one is
    not among them. Of the sheet Layout: ``heading`` and ``value``."""
    heading_row: int
    last_row: int
    """The last row with formulas, those filled in beforehand included; of a sheet without any, of content."""


Places = Mapping[str, SheetPlace]
"""By our own titles, such as Locomotives; a sheet that the workbook has not is not among them."""
