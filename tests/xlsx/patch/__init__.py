"""Tests of ``rosterkit.xlsx.patch``: cells, tables and formats changed, the rest kept."""
