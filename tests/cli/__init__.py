"""Tests of ``rosterkit.cli``: words typed, exit status, and what is said of bad input."""
