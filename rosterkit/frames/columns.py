"""Values of a column as a pandas Series of the fitting dtype, and back as plain values."""

import math
from collections.abc import Callable, Mapping, Sequence
from datetime import date, datetime, time
from typing import Any

import pandas as pd

from rosterkit.roster.cell_values import Value
from rosterkit.roster.schema import Column, Kind
from rosterkit.xlsx.grid import BadDate, Calculated, CellError, NoStoredValue, Raw, ScientificNumber

DATES = "datetime64[us]"
"""It holds every day of the calendar that spreadsheet programs have; that of nanoseconds ends in 2262."""
_MOST_EXACT = 2**53
"""From here on not every whole number is one of those that a spreadsheet holds."""


def _is_whole(value: object) -> bool:
    return isinstance(value, int) and not isinstance(value, bool) and -(2**63) <= value < 2**63


def _is_number(value: object) -> bool:
    return isinstance(value, int | float) and not isinstance(value, bool)


def _is_text(value: object) -> bool:
    return isinstance(value, str)


_SUITS: Mapping[Kind, Callable[[object], bool]] = {
    Kind.WHOLE: _is_whole,
    Kind.NUMBER: _is_number,
    Kind.TEXT: _is_text,
    Kind.CHOICE: _is_text,
    Kind.TIME: _is_text,
}
"""What the values of computed columns have to be, which the schema does not judge: anybody may type there."""

_DTYPES = {Kind.WHOLE: "Int64", Kind.NUMBER: "Float64", Kind.TEXT: "string", Kind.TIME: "string"}


def series_of(column: Column, values: Sequence[Value | None], index: "pd.Index[Any]") -> "pd.Series[Any]":
    """Return the usable values of a column of ours as its dtype; None is NA.

    Whole numbers are Int64, numbers Float64, texts and times of day string, dates datetime64, and choices a
    categorical, whose categories are those of the drop-down in its order. No drop-down is a scale of more and
    less, so that none is ordered.
    """
    if column.computed:
        suits = _SUITS[column.kind]
        values = [value if suits(value) else None for value in values]
    if column.kind is Kind.CHOICE:
        return pd.Series(pd.Categorical(list(map(_choice, values)), categories=column.choices), index=index)
    if column.kind is Kind.DATE:
        days = [None if value is None else datetime.fromisoformat(str(value)) for value in values]
        return pd.Series(days, index=index, dtype=DATES)
    return pd.Series(list(values), index=index, dtype=_DTYPES[column.kind])


def _choice(value: Value | None) -> str | None:
    return None if value is None else str(value)


def own_series(cells: Sequence[Raw], index: "pd.Index[Any]") -> "pd.Series[Any]":
    """Return the cells of a member's own column; of its dtype if they are of one kind, else as objects.

    Blank cells, errors and formulas without a result are NA.
    """
    values = [_plain(cell) for cell in cells]
    kinds = {type(value) for value in values if value is not None}
    if kinds <= {str}:
        return pd.Series(values, index=index, dtype="string")
    if kinds == {bool}:
        return pd.Series(values, index=index, dtype="boolean")
    if kinds <= {int, float}:
        whole = all(value is None or _is_exact(value) for value in values)
        return pd.Series(values, index=index, dtype="Int64" if whole else "Float64")
    if kinds <= {date, datetime}:
        return pd.Series(values, index=index, dtype=DATES)
    return pd.Series([pd.NA if value is None else value for value in values], index=index, dtype=object)


def _is_exact(value: Any) -> bool:
    return float(value).is_integer() and abs(value) < _MOST_EXACT


def _plain(cell: Raw) -> Any:
    """Return the content of a cell as Python has it; None for a cell without a value."""
    if isinstance(cell, Calculated):
        return _plain(cell.result)
    if isinstance(cell, ScientificNumber):
        return cell.value
    if isinstance(cell, CellError | NoStoredValue | BadDate) or cell == "":
        return None
    return cell


def typed_text(cell: Raw) -> str | None:
    """Return what stands in a cell as a text, uncut; None for a blank one."""
    if isinstance(cell, Calculated):
        return typed_text(cell.result)
    if isinstance(cell, bool):
        return str(cell).upper()
    if isinstance(cell, float) and _is_exact(cell):
        return str(int(cell))
    if isinstance(cell, datetime):
        return cell.isoformat(" ") if cell.time() != time() else cell.date().isoformat()
    return None if cell == "" else str(cell)


def plain_values(series: "pd.Series[Any]") -> list[Any]:
    """Return the values of a Series as Python has them, dates as datetime; None for what is missing."""
    pairs = zip(series.tolist(), series.isna().tolist(), strict=True)
    return [None if missing else _python(value) for value, missing in pairs]


def _python(value: Any) -> Any:
    if isinstance(value, float) and math.isnan(value):
        return None  # the nullable floats of some versions count it as a value
    if isinstance(value, pd.Timestamp):
        return value.to_pydatetime(warn=False)
    if isinstance(value, date) and not isinstance(value, datetime):
        return datetime.combine(value, time())
    return value.item() if getattr(value, "ndim", None) == 0 else value
