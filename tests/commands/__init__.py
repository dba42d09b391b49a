"""Tests of ``rosterkit.commands``: each command called as a function, and whole runs of several of them."""
