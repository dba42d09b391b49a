"""Tests of ``rosterkit.xlsx.own_sheets``: sheets that rosterkit makes, and their charts."""
