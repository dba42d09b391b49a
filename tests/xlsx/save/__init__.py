"""Tests of ``rosterkit.xlsx.save``: whole edits, read by other programs, failed and killed."""
