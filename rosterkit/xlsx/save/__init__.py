"""The whole of an edit: a member's workbook changed, proved and put in its place."""
