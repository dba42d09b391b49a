"""Checks of ``rosterkit.cli``."""
