"""What a cell of an OpenDocument spreadsheet holds (ODF 1.2, part 1, 9.1.4 and 19.385) and shows."""

import math
import re
from datetime import date, datetime, time, timedelta
from decimal import Decimal

from lxml import etree

from rosterkit.lists.files.number_formats import plain_number
from rosterkit.lists.files.open_document_names import EXTENDED, OFFICE, TABLE
from rosterkit.lists.files.open_document_text import paragraphs
from rosterkit.lists.files.values import plain_cell
from rosterkit.lists.plain import PlainCell
from rosterkit.xlsx.grid import BadDate, CellError, NoStoredValue, Raw, ScientificNumber
from rosterkit.xlsx.read.dates import iso_moment

_ANNOTATION = f"{OFFICE}annotation"
_TYPE, _VALUE = f"{OFFICE}value-type", f"{OFFICE}value"
_NUMBERS = {"float", "percentage", "currency"}
_ERROR = re.compile(r"#(?:N/A|NAME\?|[A-Z0-9/]+!)|Err:\d{3}")
_SCIENTIFIC = re.compile(r"-?[\d.,]+[eE][+-]?\d+")
_SHOWN = re.compile(r"([^\d]*?)(0*)([0-9]*)(?:[.,]([0-9]+))?([^\d]*)")
_DURATION = re.compile(
    r"(-?)P(?:(\d{1,7})D)?(?:T(?:(\d{1,9})H)?(?:(\d{1,9})M)?(?:(\d{1,9})(?:[.,](\d{1,9}))?S)?)?"
)
_DAY = timedelta(days=1)
_FIRST_DAY = date(1899, 12, 30)


def cell_of(cell: etree._Element, fill: str) -> PlainCell:
    """Return a cell.

    Args:
        cell: Its element.
        fill: The colour behind it as RRGGBB, blank for none.
    """
    text = paragraphs(cell)
    note = ""
    if len(cell) > 1 or (len(cell) and not text):
        note = " ".join(" ".join(paragraphs(one) for one in cell.iterchildren(_ANNOTATION)).split())
    raw = _raw(cell, text)
    found = plain_cell(raw, note=note, fill=fill, year_shown=_shows_year(raw, text))
    if type(raw) is float and found.text != text:
        return PlainCell(_number_text(raw, text), found.value, note, fill)
    return found


def _raw(cell: etree._Element, text: str) -> Raw:
    kind, formula = cell.get(_TYPE), cell.get(f"{TABLE}formula")
    if cell.get(f"{EXTENDED}value-type") == "error" or (formula and _ERROR.fullmatch(text)):
        return CellError(text)
    if kind in _NUMBERS:
        return _number(cell.get(_VALUE) or "", text)
    match kind:
        case "date":
            moment = iso_moment(cell.get(f"{OFFICE}date-value") or text)
            if isinstance(moment, datetime) and moment.date() == _FIRST_DAY:
                return moment.time()  # a time of day in a cell that is formatted as a date
            return moment
        case "time":
            return _time(cell.get(f"{OFFICE}time-value") or "", text)
        case "boolean":
            return cell.get(f"{OFFICE}boolean-value") == "true"
    stored = text or cell.get(f"{OFFICE}string-value") or ""
    if formula and not stored and kind is None:
        return NoStoredValue(formula.partition(":=")[2] or formula.removeprefix("="))
    return stored


def _number(stored: str, text: str) -> Raw:
    try:
        number = float(stored)
    except ValueError:
        number = math.nan
    if not math.isfinite(number) or "_" in stored:
        return text or stored
    return ScientificNumber(number) if _SCIENTIFIC.fullmatch(text) else number


def _time(stored: str, text: str) -> Raw:
    match = _DURATION.fullmatch(stored)
    if match is None:
        return BadDate(text or stored)
    sign, days, hours, minutes, seconds, fraction = match.groups()
    length = timedelta(
        days=int(days or 0),
        hours=int(hours or 0),
        minutes=int(minutes or 0),
        seconds=int(seconds or 0),
        milliseconds=round(float(f"0.{fraction or 0}") * 1000),
    )
    if sign or length >= _DAY:
        return -length if sign else length
    moment: time = (datetime.min + length).time()
    return moment


def _number_text(number: float, text: str) -> str:
    """Return what a cell shows of a number where that is all of it, its decimals behind a point.

    What is rounded or grouped gives way to the plain number.
    """
    exact = abs(Decimal(repr(float(number)))) * (100 if "%" in text else 1)
    match = _SHOWN.fullmatch(text.replace("\u2212", "-"))
    if match is None or not (match[2] or match[3]):
        return plain_number(number)
    before, zeros, whole, fraction, behind = match.groups()
    if Decimal(f"{zeros}{whole}.{fraction or 0}") != exact:
        return plain_number(number)
    rest = f".{fraction}" if fraction and int(fraction) else ""
    return f"{before}{zeros}{whole}{rest}{behind}".strip()


def _shows_year(raw: Raw, text: str) -> bool:
    """Tell whether a cell shows the year of its date, with four digits or two, or shows nothing."""
    if not isinstance(raw, date) or not text:
        return True
    numbers = re.findall(r"\d+", text)
    return str(raw.year) in numbers or len(numbers) > 2
