"""Cells of frames as plain values, for tests to compare."""

from typing import Any

import pandas as pd


def rows_of(frame: pd.DataFrame) -> list[tuple[Any, ...]]:
    """Return the rows of a frame; None for what is missing."""
    return list(frame.astype(object).where(frame.notna(), None).itertuples(index=False, name=None))


def cells(frame: pd.DataFrame, row: int, *headings: str) -> list[Any]:
    """Return some cells of a row; None for what is missing."""
    return list(rows_of(frame.loc[[row], list(headings)])[0])
