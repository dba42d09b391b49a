"""Tests of ``rosterkit.xlsx.package``: files opened, and refused."""
