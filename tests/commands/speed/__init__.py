"""Tests of the command ``speed``."""
