"""Checks of ``rosterkit.commands.free``."""
