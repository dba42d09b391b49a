"""Lists of any shape, read into rosterkit workbooks."""
