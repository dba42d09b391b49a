"""Checks of rosterkit.cv: what CV values mean."""
