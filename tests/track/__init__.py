"""Checks of rosterkit.track: the order of cards."""
