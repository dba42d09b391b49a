"""The workbook as spreadsheet programs calculate it while somebody types."""
