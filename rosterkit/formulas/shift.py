"""Formulas as a spreadsheet program shifts them when they are filled down or shared."""

from rosterkit.formulas.references import shifted_reference
from rosterkit.formulas.tokens import Kind, tokens


def shifted(text: str, rows: int, columns: int) -> str:
    """Return a formula (without the equals sign before it) for a cell so many rows down and columns right.

    References move unless a $ holds them, and become #REF! where they leave the sheet; texts, names and the
    columns of tables stay. Any formula may be given, also with functions that are not calculated here.
    """
    if not rows and not columns:
        return text
    return "".join(
        shifted_reference(token.text, rows, columns) if token.kind is Kind.REFERENCE else token.text
        for token in tokens(text)
    )
