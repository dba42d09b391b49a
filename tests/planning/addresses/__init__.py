"""Checks of ``rosterkit.planning.addresses``."""
