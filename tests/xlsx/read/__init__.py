"""Checks of ``rosterkit.xlsx.read``."""
