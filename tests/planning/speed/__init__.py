"""Tests of ``rosterkit.planning.speed``, and a simulated engine that the results are written into."""
