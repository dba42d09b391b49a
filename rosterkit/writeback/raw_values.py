"""What was read from a cell, as it is written into another one so that reading gives the same again."""

from datetime import date, datetime, time, timedelta

from rosterkit.xlsx.changes import CellStyle
from rosterkit.xlsx.grid import BadDate, Calculated, CellError, NoStoredValue, Raw, ScientificNumber
from rosterkit.xlsx.read.dates import serial_number

Written = tuple[str | int | float | None, CellStyle | None]
"""The value of a cell, and the look that says what a number in it means."""


class UnwritableError(ValueError):
    """What was read is no value that a cell can be given; says in words what it is."""


def written_as(raw: Raw, *, date1904: bool) -> Written:
    """Return value and look for what was read from a cell.

    Args:
        raw: What was read; of the result of a formula, the result.
        date1904: Whether the workbook that it is written into counts days from 1904.

    Raises:
        UnwritableError: it is an error value, a formula without a stored result, or no date at all.
    """
    if isinstance(raw, Calculated):
        return written_as(raw.result, date1904=date1904)
    if isinstance(raw, CellError):
        raise UnwritableError(f"the error {raw}, which is no value")
    if isinstance(raw, NoStoredValue):
        raise UnwritableError("a formula without a stored result")
    if isinstance(raw, BadDate):
        raise UnwritableError(f"a number shown as a date that no calendar has ({raw})")
    if isinstance(raw, ScientificNumber):
        return raw.value, CellStyle.SCIENTIFIC
    if isinstance(raw, date | time | timedelta):
        try:
            return serial_number(raw, date1904=date1904), _look_of(raw)
        except ValueError:
            raise UnwritableError(f"the day {raw}, before all that the workbook can count") from None
    if isinstance(raw, str):
        return raw or None, None
    return raw, None if isinstance(raw, bool) else CellStyle.NUMBER


def _look_of(moment: date | datetime | time | timedelta) -> CellStyle:
    if isinstance(moment, datetime):
        return CellStyle.DATE_AND_TIME
    if isinstance(moment, date):
        return CellStyle.DATE
    return CellStyle.TIME if isinstance(moment, time) else CellStyle.DURATION
