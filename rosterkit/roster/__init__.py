"""A workbook in, typed rows out: sheets and columns by the schema, each cell cleaned and judged."""
