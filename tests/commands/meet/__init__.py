"""Tests of the command ``meet``: whole meets."""
