"""The formula language that spreadsheet programs share: formulas read, shifted and calculated."""
