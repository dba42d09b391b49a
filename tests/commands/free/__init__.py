"""Tests of the command ``free``: the addresses offered."""
