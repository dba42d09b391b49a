"""Checks of rosterkit.planning.addresses against reference solvers and plain counts."""
