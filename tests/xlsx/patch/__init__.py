"""Checks of ``rosterkit.xlsx.patch``."""
