"""Tests of the formulas that compute while a member types."""
