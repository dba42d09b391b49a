"""Tests of ``rosterkit.planning``: addresses against reference solvers, speed against a simulated engine."""
