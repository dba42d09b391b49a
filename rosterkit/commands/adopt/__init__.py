"""The command adopt: a list of any shape made into a rosterkit workbook."""
