"""Formulas that compute while a member types, and the sheet Live behind them."""
