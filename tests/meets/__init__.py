"""Checks of rosterkit.meets: whole meets."""
