"""Tests of ``rosterkit.standards`` against the published standards, the source beside each row."""
