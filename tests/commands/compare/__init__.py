"""Checks of rosterkit.commands.compare: two workbooks compared."""
