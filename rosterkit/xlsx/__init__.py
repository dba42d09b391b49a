"""The only rooms that know the file format: opening, reading, editing and the template."""
