"""Roster and address manager for digitally controlled model locomotives, over an ordinary .xlsx workbook."""

__version__ = "0.1.0"
