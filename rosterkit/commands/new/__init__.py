"""The command ``new``: a starter workbook, or the demo club."""
