"""Tests of ``rosterkit.xlsx.read``: cells of every kind, from every program."""
