"""Checks of rosterkit.planning against reference solvers and plain counts."""
