"""Tests of the command merge."""
