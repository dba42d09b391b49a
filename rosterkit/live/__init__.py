"""Formulas that compute in a spreadsheet program while a member types, and the sheet Live behind them."""
