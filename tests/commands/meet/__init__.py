"""Checks of rosterkit.commands.meet: whole meets."""
