"""Checks of rosterkit.cv: what register values mean."""
