"""Checks of ``rosterkit.commands.speed``."""
