"""Tests of ``rosterkit.roster``: the schema, headings, cell values, and rows that become a roster."""
