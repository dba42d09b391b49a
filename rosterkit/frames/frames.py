"""What the frames of one workbook and of several have in common."""

from abc import ABC, abstractmethod
from collections.abc import Iterator

import pandas as pd

from rosterkit.frames.sheets import sheet_named
from rosterkit.roster.schema import Sheet


class Frames(ABC):
    """Sheets, CVs and findings as DataFrames, each made when it is first asked for, and then kept.

    ``frames["Consists"]`` is a sheet by its title, whatever the letter case; without rows if no workbook has
    it. KeyError for a title that rosterkit does not know. ``sheets`` are the titles that there are.

    A sheet has a column for each heading of ours, also where the workbook lacks it, then the member's own
    under their headings. Its index is the sheet's row. Blank is NA. A cell that the schema refuses is NA too,
    and named in ``findings``; ``as_typed`` has its text.
    """

    def __init__(self) -> None:
        """Begin without a frame made."""
        self._kept: dict[str, pd.DataFrame] = {}

    def __getitem__(self, title: str) -> pd.DataFrame:
        """Return a sheet by its title; KeyError if rosterkit knows none of it."""
        sheet = sheet_named(title)
        if sheet.title not in self._kept:
            self._kept[sheet.title] = self._sheet(sheet)
        return self._kept[sheet.title]

    def __iter__(self) -> Iterator[str]:
        return iter(self.sheets)

    @property
    @abstractmethod
    def sheets(self) -> tuple[str, ...]:
        """The titles of the sheets of ours that there are."""

    @property
    def locomotives(self) -> pd.DataFrame:
        """The sheet Locomotives."""
        return self["Locomotives"]

    @property
    def layout(self) -> pd.DataFrame:
        """The settings of the sheet Layout, a column each, and one row a workbook."""
        return self["Layout"]

    @property
    @abstractmethod
    def cvs(self) -> pd.DataFrame:
        """What the rows of each engine come to, a CV a row, in the order for keying in.

        Columns are row (of the sheet Locomotives), loco, cv, index_high and index_low (CV31 and CV32, for
        CV257 to CV512), and value, 0 to 255; as at home. An engine whose address cannot be used has none.
        Key in from cards only: they hold back what a finding forbids.
        """

    @property
    def registers(self) -> pd.DataFrame:
        """Another name of ``cvs``: register values is what the trade also calls the values of CVs."""
        return self.cvs

    @property
    @abstractmethod
    def findings(self) -> pd.DataFrame:
        """What ``rosterkit check`` finds in each workbook by itself.

        ``severity`` is ordered, note < warning < error; ``sheet`` and ``row`` say where: the findings of one
        sheet join its frame by ``findings.join(frames["Consists"], on="row")``.
        """

    @abstractmethod
    def as_typed(self, title: str) -> pd.DataFrame:
        """Return a sheet with what stands in its cells as texts, refused ones too, uncleaned and uncut."""

    @abstractmethod
    def _sheet(self, sheet: Sheet) -> pd.DataFrame:
        """Make the frame of a sheet."""

    def _counts(self) -> str:
        """Count the rows of each sheet, in words."""
        return ", ".join(f"{len(self[title])} {title}" for title in self.sheets if title != "Layout")
