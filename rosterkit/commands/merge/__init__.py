"""Copies merged into one workbook, and conflicts resolved there."""
