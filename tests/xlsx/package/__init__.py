"""Checks of ``rosterkit.xlsx.package``."""
