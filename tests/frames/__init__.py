"""Frames: what they hold, and what writing them back changes."""
