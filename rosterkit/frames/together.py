"""The sheets of several workbooks below each other."""

from collections.abc import Iterable, Mapping
from functools import cached_property
from pathlib import Path

import pandas as pd

from rosterkit.commands.common import each_file_once
from rosterkit.formats import number_of
from rosterkit.frames.frames import Frames
from rosterkit.frames.workbook import AnyPath, WorkbookFrames, read
from rosterkit.roster.schema import Sheet, all_sheets

WORKBOOK = "workbook"
"""The name of the level, or column, that says of which workbook a row is."""


class AllFrames(Frames):
    """The sheets of several workbooks together; ``rosterkit.read_all`` makes it.

    The frames are as those of one workbook, with a level ``workbook`` before ``row`` in the index of sheets,
    and a column ``workbook`` before the others of ``cvs`` and ``findings``. ``workbooks`` has the frames of
    each by the name of its file: these are what can be written.
    """

    def __init__(self, workbooks: Mapping[str, WorkbookFrames]) -> None:
        """Take the frames of each workbook."""
        super().__init__()
        self.workbooks = workbooks

    def __repr__(self) -> str:
        return f"<rosterkit frames of {number_of(len(self.workbooks), 'workbook')}: {self._counts()}>"

    @property
    def sheets(self) -> tuple[str, ...]:
        """The titles of the sheets of ours that any of the workbooks has."""
        present = {title for one in self.workbooks.values() for title in one.sheets}
        return tuple(sheet.title for sheet in all_sheets() if sheet.title in present)

    @cached_property
    def cvs(self) -> pd.DataFrame:
        """See ``Frames.cvs``."""
        return _listed({name: one.cvs for name, one in self.workbooks.items()})

    @cached_property
    def findings(self) -> pd.DataFrame:
        """See ``Frames.findings``."""
        return _listed({name: one.findings for name, one in self.workbooks.items()})

    def as_typed(self, title: str) -> pd.DataFrame:
        """See ``Frames.as_typed``."""
        return _joined({name: one.as_typed(title) for name, one in self.workbooks.items()})

    def _sheet(self, sheet: Sheet) -> pd.DataFrame:
        return _joined({name: one[sheet.title] for name, one in self.workbooks.items()})


def _joined(frames: Mapping[str, pd.DataFrame]) -> pd.DataFrame:
    """Put frames below each other, with the workbook as the first level of the index."""
    return pd.concat(frames, names=[WORKBOOK])


def _listed(frames: Mapping[str, pd.DataFrame]) -> pd.DataFrame:
    """Put frames below each other, with the workbook as the first column."""
    joined = _joined(frames).reset_index(WORKBOOK).reset_index(drop=True)
    return joined.astype({WORKBOOK: "string"})


def read_all(paths: Iterable[AnyPath], *, defaults: bool = False) -> AllFrames:
    """Read several workbooks into DataFrames with the rows of all, each as ``read`` reads it.

    A file that is named twice is read once. The workbook is the first level of the index, named as given.

    Raises:
        FileNotFoundError: one of the files is not there; other refusals of the system alike.
        ValueError: one is no workbook with engines, or damaged; or no workbook is given.
    """
    each = each_file_once([Path(path) for path in paths])
    if not each:
        raise ValueError("there is no workbook to read. Give at least one path.")
    return AllFrames({str(path): read(path, defaults=defaults) for path in each})
