"""Roster and address manager for digitally controlled model locomotives, over an ordinary .xlsx workbook.

From Python, ``rosterkit.read(path)`` and ``rosterkit.read_all(paths)`` give the sheets as pandas DataFrames.
"""

from importlib import import_module

__version__ = "0.1.0"
__all__ = ["__version__", "read", "read_all"]


def __getattr__(name: str) -> object:
    """Load what is for Python with its first use: commands need no pandas, which takes long to load."""
    if name in ("read", "read_all"):
        return getattr(import_module("rosterkit.frames"), name)
    raise AttributeError(f"module 'rosterkit' has no attribute '{name}'")
