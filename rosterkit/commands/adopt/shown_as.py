"""How a value of a list is shown in the copy of its sheet: as a person saw it there."""

import re
from dataclasses import dataclass
from datetime import date, datetime, time, timedelta
from math import isfinite

from rosterkit.commands.adopt.rows import text_for
from rosterkit.lists.plain import PlainCell, PlainValue

_DATES = ("%Y-%m-%d", "%d.%m.%Y", "%d/%m/%Y", "%m/%d/%Y", "%d.%m.%y", "%m/%d/%y", "%d/%m/%y", "%d-%m-%Y")
_TIMES = ("%H:%M:%S", "%H:%M")
_CODES = {"%Y": "yyyy", "%m": "mm", "%d": "dd", "%y": "yy", "%H": "hh", "%M": "mm", "%S": "ss"}
_NUMBER = re.compile(
    r'(?P<before>[^0-9"]*?)(?P<number>-?[0-9][0-9,]*(?:\.[0-9]+)?)(?P<percent>%?)(?P<behind>[^0-9"]*)'
)
_EARLIEST = date(1900, 3, 1)
"""Programs count days before this one differently."""


@dataclass(frozen=True, slots=True)
class Shown:
    """What is written into a cell, and the number format in which it shows as it did."""

    value: PlainValue
    number_format: str


def shown(cell: PlainCell) -> Shown:
    """Return the value of a cell with the number format in which it shows its text.

    Where no number format does so, the text stands there: what a person saw is what is kept.
    """
    value = cell.value
    if isinstance(value, str):
        return Shown(text_for(value), "@")
    if isinstance(value, bool):
        return Shown(value, "General")
    number_format = _number_format(value, cell.text)
    return Shown(text_for(cell.text), "@") if number_format is None else Shown(value, number_format)


def _number_format(value: float | date | datetime | time | timedelta, text: str) -> str | None:
    return _of_number(value, text) if isinstance(value, int | float) else _of_time(value, text)


def _of_number(value: float, text: str) -> str | None:
    if not isfinite(value):
        return None  # no cell can hold it as a number
    if text in {"", str(value), f"{value:.15g}", f"{value:g}"}:
        return "General"
    if text.isascii() and text.isdecimal() and value == int(text):
        return "0" * len(text)
    mantissa, sign, _ = text.partition("E+")
    decimals = len(mantissa.partition(".")[2])
    if sign and f"{value:.{decimals}E}" == text:
        return f"0{'.' * bool(decimals)}{'0' * decimals}E+00"
    parts = _NUMBER.fullmatch(text)
    if parts is None:
        return None
    digits = parts["number"]
    decimals = len(digits.partition(".")[2])
    code = ("#,##0" if "," in digits else "0") + (f".{'0' * decimals}" if decimals else "")
    scaled = value * 100 if parts["percent"] else value
    same = f"{scaled:,.{decimals}f}" if "," in digits else f"{scaled:.{decimals}f}"
    if same != digits:
        return None
    return _quoted(parts["before"]) + code + parts["percent"] + _quoted(parts["behind"])


def _quoted(text: str) -> str:
    return f'"{text}"' if text else ""


def _of_time(value: date | datetime | time | timedelta, text: str) -> str | None:
    if isinstance(value, timedelta):
        seconds = int(value.total_seconds())
        hours, minutes = seconds // 3600, seconds // 60 % 60
        same = {f"{hours}:{minutes:02}:{seconds % 60:02}": "[h]:mm:ss", f"{hours}:{minutes:02}": "[h]:mm"}
        return same.get(text) if seconds >= 0 else None
    if isinstance(value, time):
        return _code_of(value, _TIMES, text)
    day = value.date() if isinstance(value, datetime) else value
    if day < _EARLIEST:
        return None
    both = [f"{day_form} {time_form}" for day_form in _DATES for time_form in _TIMES]
    both += [f"{day_form}T{time_form}" for day_form in _DATES for time_form in _TIMES]
    return _code_of(value, (*_DATES, *both) if isinstance(value, datetime) else _DATES, text)


def _code_of(value: date | time, forms: tuple[str, ...], text: str) -> str | None:
    for form in forms:
        if value.strftime(form) == text:
            return re.sub(r"%[A-Za-z]", lambda one: _CODES[one[0]], form).replace("T", '"T"')
    return None
