"""A new workbook by the schema: sheets, headings, notes, drop-downs, formulas."""
