"""Versions of one workbook: rows known again, what changed between two, and what several copies come to."""
