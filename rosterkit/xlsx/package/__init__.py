"""The workbook file as the package of parts that it is, opened with every guard."""
