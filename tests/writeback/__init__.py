"""Checks of ``rosterkit.writeback``."""
