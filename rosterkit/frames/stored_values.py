"""Values from a frame as a cell stores them; what could not be read back the same is refused."""

import math
from datetime import date, datetime, time, timedelta
from typing import Any

from rosterkit.live.contents import days
from rosterkit.roster.cell_values import UnreadableCell, cleaned, shown
from rosterkit.roster.schema import Column, Kind
from rosterkit.roster.validation import refusal
from rosterkit.xlsx.grid import Raw
from rosterkit.xlsx.xml.values import cell_text

Stored = str | int | float | None
_MOST_EXACT = 2**53
"""Beyond this a cell does not hold every whole number."""


class Refused(Exception):
    """A value that a cell does not take: why, and what to do."""

    def __init__(self, why: str, fix: str) -> None:
        super().__init__(why)
        self.why = why
        self.fix = fix


def stored_value(column: Column, value: Any, standing: Raw, *, date1904: bool) -> Stored:
    """Return what a cell of a column of ours is to hold, cleaned as if a member had typed it.

    A day goes into a cell that held a date as its number, which the cell's format shows as a date, and into
    any other as a text such as 2026-05-31; a time of day alike.

    Args:
        column: The column.
        value: A plain value; None is blank.
        standing: What the cell holds.
        date1904: The workbook's days count from 1904.

    Raises:
        Refused: the schema does not allow the value, or no cell can hold it.
    """
    _refuse_unfit(value)
    if isinstance(value, datetime | time | timedelta):
        if column.kind not in (Kind.DATE, Kind.TIME):
            raise Refused(f"{shown(value)} is a date or a time", f"Give {column.limits}.")
        if column.kind is Kind.DATE and isinstance(value, datetime) and value.time() != time():
            raise Refused(f"{shown(value)} has a time of day", "Give the day alone.")
    meant = None if value is None else cleaned(column, value)
    if isinstance(meant, UnreadableCell):
        raise Refused(meant.message, meant.fix)
    refused = refusal(column, meant)
    if refused:
        raise Refused(*refused)
    if column.kind is Kind.DATE and isinstance(standing, date) and isinstance(meant, str):
        return days(date.fromisoformat(meant), date1904=date1904)
    if column.kind is Kind.TIME and isinstance(standing, time | timedelta) and isinstance(meant, str):
        return days(time.fromisoformat(meant), date1904=date1904)
    return meant


def stored_own_value(value: Any, standing: Raw, *, date1904: bool) -> Stored:
    """Return what a cell of a member's own column is to hold; dates and times as ``stored_value`` has them.

    Raises:
        Refused: no cell can hold the value.
    """
    _refuse_unfit(value)
    if not isinstance(value, datetime | time | timedelta):
        return None if value == "" else value
    alike = date if isinstance(value, datetime) else (time, timedelta)
    if isinstance(standing, alike):
        return days(value, date1904=date1904)
    if isinstance(value, datetime):
        return value.isoformat(" ") if value.time() != time() else value.date().isoformat()
    return str(value)


def _refuse_unfit(value: Any) -> None:
    """Refuse what no cell holds, or holds otherwise."""
    if isinstance(value, str):
        if cell_text(value) != value.replace("\r\n", "\n").replace("\r", "\n"):
            raise Refused(
                f"'{shown(value)}' is longer than cells are, or has signs that none holds",
                "Write it otherwise.",
            )
    elif isinstance(value, bool | None | datetime | time | timedelta):
        return
    elif not isinstance(value, int | float):
        raise Refused(f"a {type(value).__name__} is nothing that a cell holds", "Give a text or a number.")
    elif not math.isfinite(value) or (isinstance(value, int) and abs(value) > _MOST_EXACT):
        raise Refused(f"{shown(value)} is no number that a cell holds", "Give another number, or a text.")
