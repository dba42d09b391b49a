"""Tests of ``rosterkit.xlsx``, and the workbooks with hard features that they share."""
