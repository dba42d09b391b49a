"""Checks of the checks."""
