"""Checks of rosterkit.comparison: two workbooks compared."""
