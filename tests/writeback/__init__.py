"""Tests of ``rosterkit.writeback``: readings and computed columns that go into a workbook."""
