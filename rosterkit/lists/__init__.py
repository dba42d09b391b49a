"""Lists as people type them, read into rows of our sheets."""
