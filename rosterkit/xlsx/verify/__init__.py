"""Reads an edited workbook by other means, and compares it with what it was."""
