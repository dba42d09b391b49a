"""Checks of ``rosterkit.xlsx.own_sheets``."""
