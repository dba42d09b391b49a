"""Checks of rosterkit.explaining: what register values mean."""
