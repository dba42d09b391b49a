"""Checks of ``rosterkit.xlsx.save``."""
