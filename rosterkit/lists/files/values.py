"""What one cell shows and holds, of each kind of value that files store."""

import re
from datetime import date, datetime, time, timedelta

from rosterkit.lists.files.number_formats import plain_number, shown_number
from rosterkit.lists.plain import PlainCell, PlainValue
from rosterkit.xlsx.grid import BadDate, Calculated, CellError, NoStoredValue, Raw, ScientificNumber

_MINUTE = 60
_EXACT = 1e15
"""Whole numbers up to it are kept as such."""
_BREAK = re.compile(r"\r\n|[\r\x0b\x0c\x85\u2028\u2029]")
_UNSEEN = re.compile(r"[\x00-\x08\x0e-\x1f\x7f\u200b\u200e\u200f\u2060\ufeff]")
"""Controls, blanks of no width, and marks of direction."""


def plain_cell(
    raw: Raw, *, code: str = "", note: str = "", fill: str = "", year_shown: bool = True
) -> PlainCell:
    """Return a cell by what its file stores.

    Args:
        raw: The value.
        code: The code of its number format, blank for the general one.
        note: The note at it.
        fill: The colour behind it as RRGGBB.
        year_shown: Whether its format shows the year of a date.
    """
    if type(raw) is str:
        return PlainCell(lines(raw).strip(), raw, note, fill)
    if type(raw) is float and not code:
        # Most numbers of most lists: quickly.
        number = int(raw) if raw.is_integer() and abs(raw) < _EXACT else raw
        return PlainCell(plain_number(number), number, note, fill)
    value, text, loss = _read(raw, code, year_shown=year_shown)
    return PlainCell(text, value, note, fill, loss)


def _read(raw: Raw, code: str, *, year_shown: bool) -> tuple[PlainValue, str, str]:
    """Return the value, its text, and what was lost of it."""
    match raw:
        case str():
            return raw, lines(raw).strip(), ""
        case bool():
            return raw, "TRUE" if raw else "FALSE", ""
        case int() | float():
            number = int(raw) if isinstance(raw, float) and raw.is_integer() and abs(raw) < _EXACT else raw
            return number, shown_number(number, code), ""
        case ScientificNumber():
            return raw.value, str(raw), "a number in scientific notation, as programs make it of a typed 4E2"
        case CellError():
            return raw.code, raw.code, f"the error value {raw.code} in place of a value"
        case NoStoredValue():
            return str(raw), str(raw).strip(), "a formula whose result is not stored in the file"
        case BadDate():
            return raw.text, raw.text, "a number that is shown as a date, but is none"
        case Calculated():
            return _read(raw.result, code, year_shown=year_shown)
        case _:
            return raw, moment_text(raw), lost_of_moment(raw, year_shown=year_shown)


def lines(text: str) -> str:
    """Return a text whose lines end as Python ends them, without signs that show nothing."""
    if text.isprintable():
        return text
    return _UNSEEN.sub("", _BREAK.sub("\n", text))


def moment_text(moment: date | datetime | time | timedelta) -> str:
    """Return a moment by ISO 8601, with a blank between date and time; seconds only where there are any."""
    if isinstance(moment, datetime):
        return f"{moment.date().isoformat()} {moment_text(moment.time())}"
    if isinstance(moment, time):
        return moment.isoformat("auto" if moment.second or moment.microsecond else "minutes")
    if isinstance(moment, timedelta):
        seconds = moment.total_seconds()
        whole, rest = divmod(round(abs(seconds)), _MINUTE)
        text = f"{whole // 60}:{whole % 60:02d}" + (f":{rest:02d}" if rest else "")
        return f"-{text}" if seconds < 0 else text
    return moment.isoformat()


def lost_of_moment(moment: date | datetime | time | timedelta, *, year_shown: bool) -> str:
    """Return what somebody may have typed that a program made a moment of, in words; blank for none."""
    if isinstance(moment, time):
        return "a time of day, as programs make it of a typed ratio such as 1:87"
    if isinstance(moment, timedelta):
        return "a length of time, as programs make it of a typed ratio such as 1:87"
    if isinstance(moment, datetime) or year_shown:
        return ""
    day, month = moment.day, moment.month
    typed = f"{month}-{day}" if month == day else f"{month}-{day} or {day}-{month}"
    return f"a date shown without its year, as programs make it of a typed {typed}"
