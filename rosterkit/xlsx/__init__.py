"""The only room that knows the file format: the package, its cells, edits and proof, and our own sheets."""
