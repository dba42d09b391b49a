"""Results as text, JSON, CSV and annotations, and as pages of a workbook; every form says the same."""
