"""What the content of a cell means, so that two programs' spellings of it are one."""

import math
from collections.abc import Sequence
from datetime import date, datetime

from rosterkit.roster.cell_values import all_cleaned, clock_of, map_distinct
from rosterkit.roster.schema import Column, Kind
from rosterkit.roster.tables import Table
from rosterkit.xlsx.grid import BadDate, Calculated, ScientificNumber

Meaning = str | int | float | tuple[str, ...] | None
"""None of a blank cell. A tuple of what no text or number means: TRUE, and a date with its time."""

_MOST_EXACT = 1e15
"""From here on a float has no digits after the point."""
_DIGITS = 15
"""Significant digits of a number that all programs keep; further ones they spell each in its own way."""
_RESPELT = 1e-14
"""So much, relative to a number, comes of spelling it in 15 digits."""


def meaning_of(content: object) -> Meaning:
    """Return what a cell of a member's own column or sheet means.

    Blanks around a text do not count, and its lines end in one way; a number counts with 15 digits, also
    where it is shown in scientific notation; a moment counts to the millisecond. A number and the text of
    its digits are not the same.
    """
    if isinstance(content, str):
        text = content.strip()
        return (text.replace("\r\n", "\n").replace("\r", "\n") if "\r" in text else text) or None
    if isinstance(content, bool):
        return (str(content).upper(),)
    if isinstance(content, int | float):
        return _number(content)
    if isinstance(content, ScientificNumber):
        return _number(content.value)
    if isinstance(content, BadDate):
        return _bad_date(content.text)
    if isinstance(content, Calculated):
        return meaning_of(content.result)
    if isinstance(content, datetime):
        return content.isoformat(" ", "milliseconds")
    return None if content is None else content.isoformat() if isinstance(content, date) else str(content)


def meanings_of(contents: Sequence[object]) -> list[Meaning]:
    """Return what cells mean, each distinct content looked at once."""
    return map_distinct(meaning_of, contents)


def _bad_date(text: str) -> Meaning:
    """Return the number that stands in a cell which is to show it as a date."""
    try:
        return _number(float(text))
    except ValueError:
        return text


def _number(content: float) -> Meaning:
    if isinstance(content, int):
        return content
    if not math.isfinite(content):
        return str(content)
    rounded = float(f"{content:.{_DIGITS}g}")
    return int(rounded) if rounded.is_integer() and abs(rounded) < _MOST_EXACT else rounded


def column_meanings(table: Table, column: Column) -> Sequence[Meaning]:
    """Return what the cells of a column of ours mean, row by row: their cleaned values.

    What the column cannot take means what stands there. A blank means nothing, not its default: a default
    that somebody wrote out is something else.
    """
    raw = table.raw[column.name]
    if column.kind is Kind.TIME:
        # A time that was taken from the date belongs to the date.
        return [
            meaning_of(typed) if not isinstance(value, str | int | float | None) else meaning_of(value)
            for value, typed in zip(all_cleaned(column, raw), raw, strict=True)
        ]
    found = meanings_of(table.values[column.name])
    for name, index in table.unreadable:
        if name == column.name:
            found[index] = meaning_of(raw[index])
    if column.kind is Kind.DATE:
        for index, typed in enumerate(raw):
            if isinstance(typed, datetime) and (clock := clock_of(typed)):
                found[index] = (str(found[index]), clock)
    return found


def alike(one: Meaning, other: Meaning) -> bool:
    """Tell whether two meanings are the same, but for how a program spells the last digits of a number."""
    if one == other:
        return True
    numbers = isinstance(one, int | float) and isinstance(other, int | float)
    return numbers and math.isclose(one, other, rel_tol=_RESPELT)  # type: ignore[arg-type]
