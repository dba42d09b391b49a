"""What stored numbers mean: as numbers, dates and times.

Follows ECMA-376 Part 1, 18.17.4: days count from 1900-01-01 as 1, with a 29 February 1900 (60) that never
was, or from 1904-01-01 as 0; the fraction is the time of day.
"""

import math
import re
from datetime import date, datetime, time, timedelta

from rosterkit.xlsx.grid import BadDate, Raw, ScientificNumber
from rosterkit.xlsx.read.formats import Kind

_DAY_MS = 86_400_000
_FALSE_LEAP_DAY = 60
_LONGEST_DURATION = 2_958_465
# The form of cells of type d; a zone is passed over, as spreadsheet programs do.
_ISO = re.compile(r"(\d{4}-\d\d-\d\d)(?:T(\d\d:\d\d:\d\d)(?:\.(\d{1,9}))?(?:Z|[+-]\d\d:\d\d)?)?\Z", re.ASCII)

# ASCII only: float() would take digits of every script.
_NUMBER = re.compile(r"[+-]?(?:\d+\.?\d*|\.\d+)(?:[eE][+-]?\d+)?\Z", re.ASCII)


def number_shown(text: str, kind: Kind, *, date1904: bool) -> Raw:
    """Return what a stored number means in a cell whose format shows it so: a number or a moment.

    Durations and times are to the millisecond. A text that is no number comes back as it is, and as a BadDate
    what no calendar has.
    """
    value = float(text) if _NUMBER.match(text) else math.nan
    if kind not in {Kind.NUMBER, Kind.SCIENTIFIC}:
        return _moment(text, value, kind, date1904=date1904)
    if not math.isfinite(value):
        return text
    return value if kind is Kind.NUMBER else ScientificNumber(value)


def _moment(text: str, value: float, kind: Kind, *, date1904: bool) -> Raw:
    """Return a duration or a time of day, a date if the days are whole, or else a date with its time."""
    if not math.isfinite(value) or abs(value) > _LONGEST_DURATION + 1:
        return BadDate(text)
    if kind is Kind.DURATION:
        return timedelta(milliseconds=round(value * _DAY_MS))
    days = math.floor(value)
    milliseconds = round((value - days) * _DAY_MS)
    if days < 0:
        return BadDate(text)
    if kind is Kind.TIME and days == 0:
        return (datetime.min + timedelta(milliseconds=min(milliseconds, _DAY_MS - 1))).time()
    if not date1904 and days in {0, _FALSE_LEAP_DAY}:
        return BadDate(text)
    first = date(1904, 1, 1) if date1904 else date(1899, 12, 31 if days < _FALSE_LEAP_DAY else 30)
    try:
        day = first + timedelta(days=days)
        return day if value == days else datetime.combine(day, time()) + timedelta(milliseconds=milliseconds)
    except OverflowError:
        return BadDate(text)


def serial_number(moment: date | datetime | time | timedelta, *, date1904: bool) -> float:
    """Return the number that is stored for a moment or a length of time, which reading gives back.

    Raises:
        ValueError: it is a day before those that a workbook can count.
    """
    if isinstance(moment, timedelta):
        return moment / timedelta(days=1)
    if isinstance(moment, time):
        return (datetime.combine(date.min, moment) - datetime.min) / timedelta(days=1)
    clock = moment.time() if isinstance(moment, datetime) else time()
    day = moment.date() if isinstance(moment, datetime) else moment
    days = (day - (date(1904, 1, 1) if date1904 else date(1899, 12, 30))).days
    if not date1904 and days <= _FALSE_LEAP_DAY:
        days -= 1
    if days < (0 if date1904 else 1):
        raise ValueError(f"no workbook of its kind counts the day {day}")
    return days + serial_number(clock, date1904=date1904)


def iso_moment(text: str) -> date | datetime | BadDate:
    """Read a date that is stored as ISO 8601 text, as cells of type "d" have it; a time zone is left out."""
    match = _ISO.match(text.strip())
    if match is None:
        return BadDate(text)
    try:
        day = date.fromisoformat(match[1])
        if match[2] is None:
            return day
        clock = time.fromisoformat(match[2])
    except ValueError:
        return BadDate(text)
    return datetime.combine(day, clock) + timedelta(milliseconds=round(float(f"0.{match[3] or 0}") * 1000))
