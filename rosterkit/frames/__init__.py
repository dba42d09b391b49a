"""Workbooks as pandas DataFrames, for Python; and what was changed in them, written back."""

from rosterkit.frames.frames import Frames
from rosterkit.frames.together import AllFrames, read_all
from rosterkit.frames.workbook import WorkbookFrames, read

__all__ = ["AllFrames", "Frames", "WorkbookFrames", "read", "read_all"]
