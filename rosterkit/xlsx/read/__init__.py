"""Reads the cells of sheets, fast where they are ordinary and carefully where they are not."""
