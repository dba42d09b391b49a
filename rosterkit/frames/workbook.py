"""The sheets of one workbook as DataFrames, and what was changed in them written back."""

import os
from collections.abc import Iterator, Mapping
from contextlib import contextmanager
from functools import cached_property
from pathlib import Path

import pandas as pd

from rosterkit.commands.common import require_same_kind
from rosterkit.errors import CannotRunError
from rosterkit.frames.changes import ReadSheet, sheet_change
from rosterkit.frames.frames import Frames
from rosterkit.frames.long import cvs_frame, findings_frame
from rosterkit.frames.sheets import SHEET, frame_of, sheet_named, typed_frame
from rosterkit.roster.load import known_sheets, package_at, roster_from
from rosterkit.roster.schema import Sheet, all_sheets
from rosterkit.xlsx.changes import SheetChange, WorkbookChange
from rosterkit.xlsx.package.opening import Package
from rosterkit.xlsx.save.save import save

AnyPath = str | os.PathLike[str]


class WorkbookFrames(Frames):
    """The sheets of one workbook; ``rosterkit.read`` makes it."""

    def __init__(self, package: Package, *, defaults: bool) -> None:
        """Read a workbook; CannotRunError if it is none with a sheet Locomotives."""
        super().__init__()
        self._package = package
        self._defaults = defaults
        self._workbook = known_sheets(package)
        self._roster = roster_from(self._workbook, without_engines=True)

    def __repr__(self) -> str:
        return f"<rosterkit frames of {self.name}: {self._counts()}>"

    @property
    def name(self) -> str:
        """The workbook's file, as it was named."""
        return self._package.name

    @property
    def sheets(self) -> tuple[str, ...]:
        """The titles of the sheets of ours that the workbook has."""
        return tuple(sheet.title for sheet in all_sheets() if sheet.title in self._roster.book.tables)

    @cached_property
    def cvs(self) -> pd.DataFrame:
        """See ``Frames.cvs``."""
        return cvs_frame(self._roster)

    @cached_property
    def findings(self) -> pd.DataFrame:
        """See ``Frames.findings``."""
        return findings_frame(self._roster)

    def as_typed(self, title: str) -> pd.DataFrame:
        """See ``Frames.as_typed``."""
        return typed_frame(self._roster, sheet_named(title))

    def _sheet(self, sheet: Sheet) -> pd.DataFrame:
        return frame_of(self._roster, sheet, defaults=self._defaults)

    def write(self, frames: pd.DataFrame | Mapping[str, pd.DataFrame], out: AnyPath) -> Path:
        """Write what differs from what was read: these cells, and nothing else of the workbook, change.

        Rows are matched by the index, so that a frame may be sorted, filtered, and lack columns. Rows whose
        index the sheet does not have are added below the list, in their order. NA empties a cell. Texts never
        become formulas. Computed columns are brought up to date by ``rosterkit fill`` afterwards.

        Args:
            frames: A changed frame of this object, or several by the titles of their sheets.
            out: The file to write. If it is the workbook itself, the earlier file is kept beside it as
                NAME.earlier.xlsx, and the workbook has to be read again before it is written once more.

        Returns:
            The file, as it was named.

        Raises:
            FileNotFoundError: the folder of ``out`` is not there.
            KeyError: rosterkit knows no sheet of such a title.
            TypeError: what is given for a sheet is no DataFrame.
            ValueError: a value is none that its column takes; a changed cell is computed, holds a formula of
                the member's or cannot be changed without harm; a column has no heading in the sheet; the
                index is not the sheet's rows; the workbook has changed since it was read. The cell is named,
                and nothing is written.
        """
        path = Path(out)
        if not path.parent.is_dir():
            raise FileNotFoundError(f"cannot write {path}: its folder is not there. Make the folder first.")
        with _python_errors():
            require_same_kind(self._package.path, path)
            changes = [self._change(sheet_named(title), frame) for title, frame in _by_title(frames).items()]
            save(self._package, WorkbookChange(sheets=tuple(changes)), path)
        return path

    def _change(self, sheet: Sheet, frame: pd.DataFrame) -> SheetChange:
        if not isinstance(frame, pd.DataFrame):
            raise TypeError(f"a sheet is written from a DataFrame, not from a {type(frame).__name__}")
        table = self._roster.book.tables.get(sheet.title)
        if table is None:
            raise CannotRunError(
                f"cannot write {self.name}: it has no sheet '{sheet.title}'",
                "Add the sheet with its headings; a workbook that 'rosterkit new' makes has it.",
            )
        grid = self._workbook.grids[table.title]
        read = ReadSheet(table=table, grid=grid, frame=self._sheet(sheet), date1904=self._package.date1904)
        return sheet_change(read, frame)


def _by_title(frames: pd.DataFrame | Mapping[str, pd.DataFrame]) -> Mapping[str, pd.DataFrame]:
    if not isinstance(frames, pd.DataFrame):
        return frames
    title = frames.attrs.get(SHEET)
    if title is None:
        raise CannotRunError(
            "the frame does not say of which sheet it is (a merge or a concat forgets it)",
            "Write it by the title of its sheet, as write({'Locomotives': frame}, out).",
        )
    return {title: frames}


def read(path: AnyPath, *, defaults: bool = False) -> WorkbookFrames:
    """Read a workbook into DataFrames.

    A cell that the schema refuses, such as an address of 0, is NA, and named in ``findings``; ``as_typed``
    has the text that stands there.

    Args:
        path: The workbook (.xlsx or .xlsm).
        defaults: Blank cells have the value that a blank one means, where that is one value: the default of
            the schema, as no for At meet, or what the layout's settings make of the row (Address kind, Meet
            kind, and Unit in Speed runs). What blank leaves as it is in a decoder stays NA.

    Raises:
        FileNotFoundError: there is no such file; other refusals of the system alike, as PermissionError.
        ValueError: it is no workbook, has no sheet Locomotives with headings, or is damaged; with what to do.
    """
    with _python_errors():
        return WorkbookFrames(package_at(Path(path)), defaults=defaults)


@contextmanager
def _python_errors() -> Iterator[None]:
    """Turn a CannotRunError into a ValueError with its sentence and its fix.

    Where the system refused a file, the exception is of the class that the system gave.
    """
    try:
        yield
    except CannotRunError as error:
        said = f"{error.message}. {error.fix}"
        cause = error.__cause__
        if isinstance(cause, OSError) and cause.errno is not None:
            raise OSError(cause.errno, said) from None
        raise ValueError(said) from None
