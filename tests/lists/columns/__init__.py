"""Tests of what the columns of lists are."""
