"""Tests of the command ``new``: range presets, and its workbooks as printed."""
