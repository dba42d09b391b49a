"""Lists as people type them, of any shape and format, read into rows of the sheets by the schema."""
