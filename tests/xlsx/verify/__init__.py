"""Checks of ``rosterkit.xlsx.verify``."""
