"""The command send: a copy of a workbook that knows its base, open for one member or for all."""
