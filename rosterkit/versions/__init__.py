"""Versions of one workbook: rows known again, what changed, and what several copies come to."""
