"""A new workbook by the schema: sheets, headings, notes, drop-downs, print set-up and formulas."""
