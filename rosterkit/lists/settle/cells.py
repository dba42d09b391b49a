"""One cell of a list as a value of a column of ours: by the schema first, then by what people write."""

import re
import unicodedata
from datetime import date, datetime, time, timedelta
from fractions import Fraction
from functools import lru_cache

from rosterkit.lists.plain import PlainCell
from rosterkit.lists.settle.addresses import address_said, with_kind
from rosterkit.lists.settle.choices import choice_said
from rosterkit.lists.settle.dates import days_meant
from rosterkit.lists.settle.measures import CURRENTS, IN_MILLIMETRES, LENGTHS, Measure, as_number, measure
from rosterkit.lists.settle.said import Said, unclear
from rosterkit.lists.settle.words import means, signs
from rosterkit.roster.cell_values import UnreadableCell, cleaned, shown
from rosterkit.roster.schema import Column, Kind
from rosterkit.roster.validation import refusal

_LENGTH_UNIT = "length unit"
_IN_WORDS = {"mm": "millimetres", "in": "inches"}
_PLAIN_ADDRESS = re.compile(r"[1-9][0-9]*(\.0+)?")


@lru_cache(maxsize=50_000)
def cell_said(column: Column, cell: PlainCell, heading: str, units: tuple[str | None, str | None]) -> Said:
    """Return what a cell says for a column of ours.

    ``heading`` is what the member calls the column; ``units`` are the unit that it names, and the length
    unit of the workbook. What the column cannot hold stays blank, with a doubt and the text as typed.
    """
    if not cell.text:
        return Said()
    if cell.loss and not _takes_moment(column, cell):
        return _lossy(column, cell)
    if column.kind is Kind.TEXT:
        return _text(column, cell)
    if isinstance(cell.value, str) and _has_footnote(cell.text):
        return unclear(cell.text, f"'{cell.text}' has a raised figure", f"Enter {column.heading} without it.")
    if isinstance(cell.value, str) and _says_nothing(column, cell.text) and not _is_choice(column, cell.text):
        return Said(as_typed=cell.text)
    if column.unit in (_LENGTH_UNIT, "A"):
        return _sized(column, cell, units)
    if column.kind is Kind.CHOICE:
        said = choice_said(column, cell.text if isinstance(cell.value, str) else shown(cell.value), heading)
        return said or _by_schema(column, cell)
    if "kindIn" in column.schema:
        plain = not isinstance(cell.value, str) or _PLAIN_ADDRESS.fullmatch(cell.text)
        return with_kind(_by_schema(column, cell) if plain else address_said(cell.text), cell.text, heading)
    said = _by_schema(column, cell)
    if said.doubt is None or not isinstance(cell.value, str):
        return said
    return _day(cell.text) or said if column.kind is Kind.DATE else said


def _has_footnote(text: str) -> bool:
    """Tell whether a text has figures that are raised or ringed, as those of notes are; ½ is none."""
    return any(
        unicodedata.category(sign) == "No" and "VULGAR" not in unicodedata.name(sign, "") for sign in text
    )


def _is_choice(column: Column, text: str) -> bool:
    return column.kind is Kind.CHOICE and choice_said(column, text, "") is not None


def said_exactly(column: Column, cell: PlainCell) -> Said:
    """Return what a roster reads in a cell of a sheet of ours; what it refuses is a doubt."""
    if not cell.text:
        return Said()
    return _by_schema(column, cell) if _takes_moment(column, cell) or not cell.loss else _lossy(column, cell)


def _takes_moment(column: Column, cell: PlainCell) -> bool:
    """Tell whether a cell holds a day or a time where one belongs, so that nothing of it is lost."""
    kinds = {Kind.DATE: (date,), Kind.TIME: (time, timedelta, datetime)}
    return isinstance(cell.value, kinds.get(column.kind, ()))


def _lossy(column: Column, cell: PlainCell) -> Said:
    """Return a cell of which the file no longer has what was typed."""
    message = f"'{cell.text}' is {cell.loss}"
    if column.prose:
        return Said(cell.text, doubt=(message, "Look what was typed there."))
    return unclear(cell.text, message, f"Enter {column.heading} as it was typed.")


def _text(column: Column, cell: PlainCell) -> Said:
    if isinstance(cell.value, datetime | date | time | timedelta) and not column.prose:
        return _by_schema(column, cell)
    if not column.prose and _says_nothing(column, cell.text):
        return Said(as_typed=cell.text)
    text = cell.text if column.prose else " ".join(cell.text.split("\n")).strip()
    if refused := refusal(column, text):
        return unclear(cell.text, *refused)
    return Said(text)


def _says_nothing(column: Column, text: str) -> bool:
    """Tell whether a text stands for a blank; a label and a number may be a word that does elsewhere.

    A question mark alone does, but in place of an address, which no engine is without.
    """
    if column.name in ("loco", "number"):
        return text in signs("nothing")
    return means("nothing", text) or (set(text) == {"?"} and "kindIn" not in column.schema)


def _by_schema(column: Column, cell: PlainCell) -> Said:
    """Return what a roster would read in the cell."""
    value = cleaned(column, cell.text if isinstance(cell.value, str) else cell.value)
    if isinstance(value, UnreadableCell):
        return unclear(cell.text, value.message, value.fix)
    if value is None or isinstance(value, bool):
        return Said() if value is None else unclear(cell.text, *_refused(column, cell, value))
    refused = refusal(column, value)
    return unclear(cell.text, *refused) if refused else Said(value)


def _refused(column: Column, cell: PlainCell, value: bool) -> tuple[str, str]:
    return refusal(column, value) or (
        f"'{cell.text}' is no value of {column.heading}",
        f"Enter {column.heading}.",
    )


def _day(text: str) -> Said | None:
    days = days_meant(text)
    if len(days) == 1:
        return Said(days[0].isoformat())
    if not days:
        return None
    either = " or ".join(day.isoformat() for day in days)
    return unclear(text, f"'{text}' may be {either}", "Enter the day as year-month-day.")


def _sized(column: Column, cell: PlainCell, units: tuple[str | None, str | None]) -> Said:
    """Return a length in the workbook's unit, or a current in amperes; another system of units is a doubt."""
    by_heading, wanted = units
    if isinstance(cell.value, str):
        size = measure(cell.text)
    elif isinstance(cell.value, bool) or not isinstance(cell.value, int | float):
        size = None
    else:
        size = Measure(Fraction(str(cell.value)), None)
    if size is None:
        said = _by_schema(column, cell)
        return (
            said
            if said.doubt
            else unclear(cell.text, f"'{cell.text}' is not a plain number", f"Enter {column.heading}.")
        )
    table = LENGTHS if column.unit == _LENGTH_UNIT else CURRENTS
    target = wanted if column.unit == _LENGTH_UNIT else "A"
    unit = size.unit or (by_heading if by_heading in table else None) or target or "mm"
    if unit not in table:
        return unclear(cell.text, f"'{cell.text}' has the unit of something else", f"Enter {column.heading}.")
    base, factor = table[unit]
    number = size.number * factor
    if target and base != target:
        return _in_other_unit(column, cell, number, base, target)
    value = as_number(number)
    refused = refusal(column, value)
    if refused:
        return unclear(cell.text, *refused)
    return Said(value, cell.text if factor != 1 else "")


def _in_other_unit(column: Column, cell: PlainCell, number: Fraction, base: str, target: str) -> Said:
    converted = number * IN_MILLIMETRES if base == "in" else number / IN_MILLIMETRES
    message = (
        f"'{cell.text}' is in {_IN_WORDS[base]}, and the lengths of this list are in {_IN_WORDS[target]}"
    )
    return unclear(
        cell.text, message, f"Measure, or enter {float(round(converted, 2)):g} in {column.heading}."
    )
