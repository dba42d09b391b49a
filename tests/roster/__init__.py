"""Checks of ``rosterkit.roster``."""
