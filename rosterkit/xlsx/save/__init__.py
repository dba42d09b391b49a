"""The whole of an edit: a member's workbook changed, verified and put in its place."""
