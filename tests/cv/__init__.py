"""Tests of ``rosterkit.cv``: what CVs come to, also by a spreadsheet program, and what their values mean."""
