"""Checks of ``rosterkit.commands.new``."""
