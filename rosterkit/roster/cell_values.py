"""What a member typed, as the value its column means: 3.0 as 3, full-width digits as digits, "Yes" as yes."""

import re
import unicodedata
from collections.abc import Callable, Collection, Sequence
from dataclasses import dataclass
from datetime import date, datetime, time, timedelta
from functools import partial
from typing import Any, Literal, TypeVar, cast

from rosterkit.roster.cell_rules import CellRule
from rosterkit.roster.schema import Column, Kind, folded
from rosterkit.xlsx.grid import BadDate, Calculated, CellError, NoStoredValue, Raw, ScientificNumber

Judged = TypeVar("Judged")

Value = str | int | float | bool
"""A cleaned cell. Values that do not suit their column stay as they are, for the schema to judge."""


@dataclass(frozen=True, slots=True)
class UnreadableCell:
    """A cell from which no value can be had, with the check that says so."""

    rule: CellRule
    message: str
    fix: str


_AS_TEXT = "Format the cell as text, then type it again."
_AS_NUMBER = "Format the cell as a plain number, then type it again."
_WHOLE = re.compile(r"[+-]?[0-9]+(\.0*)?")
_DECIMAL = re.compile(r"[+-]?([0-9]+\.?[0-9]*|\.[0-9]+)")
_DECIMAL_COMMA = re.compile(r"[+-]?[0-9]+,([0-9]{1,2}|[0-9]{4,})")
_GROUPED = re.compile(r"[+-]?[0-9]{1,3}( [0-9]{3})+")
"""Digits in threes; other blanks may part two numbers."""
_WITH_UNIT = re.compile(r"([+-]?[0-9][0-9 .,]*?) *([^0-9 .,][^0-9]*)")
_RANGE = re.compile(r"([0-9]+) *(?:-|\u2013|\u2014|\.{2,3}|\bto\b) *([0-9]+)")
_CLOCK = re.compile(r"([0-9]{1,2}):([0-9]{2})(?::([0-9]{2}))?")
_LONGEST_NUMBER = 300
"""Signs; a typed number beyond this stays text, as it is more than can be computed with."""
_MOST_EXACT = 1e15
"""From here on a spreadsheet's numbers have lost digits (15 are kept)."""


def all_cleaned(
    column: Column, cells: Sequence[Raw], units: Collection[str] = ()
) -> list[Value | UnreadableCell | None]:
    """Turn the cells of a column into its values, as ``cleaned`` does with one, but many at a time."""
    blank = cells.count("")
    if blank == len(cells):
        return [None] * blank
    types = list(map(type, cells))
    if Calculated in types:
        return all_cleaned(column, [_stored(cell) for cell in cells], units)
    if column.kind is Kind.TEXT and not column.schema.get("range") and types.count(str) == len(cells):
        texts = cast("Sequence[str]", cells)
        if all(map(str.isascii, texts)):
            return [text.strip() or None for text in texts]
        return [_stripped(text) or None for text in texts]
    if column.kind in (Kind.WHOLE, Kind.NUMBER) and types.count(float) + blank == len(cells):
        numbers = cast('Sequence[float | Literal[""]]', cells)
        return [None if n == "" else int(n) if n.is_integer() else n for n in numbers]
    return map_distinct(partial(cleaned, column, units=units), cells)


def map_distinct(work: Callable[[Any], Judged], cells: Sequence[object]) -> list[Judged]:
    """Do some work on each distinct cell once, and give the result for every cell."""
    if len({int, float, bool} & set(map(type, cells))) < 2:
        known = {cell: work(cell) for cell in set(cells)}
        return list(map(known.__getitem__, cells))
    # 1, 1.0 and True are equal, and yet not the same content.
    typed = {key: work(key[1]) for key in {(type(cell), cell) for cell in cells}}
    return [typed[type(cell), cell] for cell in cells]


def _stored(cell: Raw) -> Raw:
    return cell.result if isinstance(cell, Calculated) else cell


def _stripped(text: str) -> str:
    return text.strip() if text.isascii() else text.strip().strip("\u200b\ufeff").strip()


def cleaned(column: Column, raw: Raw, *, units: Collection[str] = ()) -> Value | UnreadableCell | None:
    """Turn the content of a cell into a value of its column; None for a blank cell.

    ``units`` are the spellings, folded, of the column's own unit: they may stand behind a number.
    """
    if isinstance(raw, str):
        text = _stripped(raw)
        return _from_text(column, text, units) if text else None
    if isinstance(raw, Calculated):
        return cleaned(column, raw.result, units=units)
    if isinstance(raw, CellError | NoStoredValue | BadDate):
        return _spoiled(raw)
    if isinstance(raw, datetime | date | time | timedelta):
        return _from_date(column, raw)
    if isinstance(raw, ScientificNumber):
        return _from_scientific(column, raw)
    if isinstance(raw, bool):
        return _from_text(column, shown(raw), ()) if column.kind in (Kind.TEXT, Kind.CHOICE) else raw
    return _from_number(column, raw)


def shown(raw: object) -> str:
    """Show a cell's content in a sentence, as near as can be to what the member sees."""
    if isinstance(raw, float) and raw.is_integer() and abs(raw) < _MOST_EXACT:
        return str(int(raw))
    if isinstance(raw, bool):
        return str(raw).upper()
    if isinstance(raw, datetime):
        return raw.isoformat(" ", "minutes") if raw.time() != time() else raw.date().isoformat()
    text = " ".join(str(raw).split())
    return text if len(text) <= 60 else text[:57] + "..."


def typed_again(raw: Raw) -> str | int | float:
    """Return what a cell of ours can hold of what was typed: a date as it is read, not as a bare number."""
    if isinstance(raw, Calculated):
        return typed_again(raw.result)
    if isinstance(raw, ScientificNumber):
        return raw.value
    if isinstance(raw, bool):
        return str(raw).upper()
    if isinstance(raw, datetime) and raw.time() == time():
        return raw.date().isoformat()
    if isinstance(raw, datetime | date | time):
        return raw.isoformat(" ") if isinstance(raw, datetime) else raw.isoformat()
    return raw if isinstance(raw, str | int | float) else str(raw)


def _from_text(column: Column, text: str, units: Collection[str]) -> Value:
    if column.kind is Kind.TEXT:
        return _RANGE.sub(r"\1-\2", text) if column.schema.get("range") else text
    if column.kind is Kind.CHOICE:
        return column.synonyms.get(folded(text), text)
    plain = unicodedata.normalize("NFKC", text).strip().replace("\u2212", "-")
    if column.kind is Kind.DATE:
        return plain
    if column.kind is Kind.TIME:
        clock = _CLOCK.fullmatch(plain)
        return f"{clock[1]:0>2}:{clock[2]}:{clock[3] or '00'}" if clock else plain
    if len(plain) > _LONGEST_NUMBER:
        return text
    with_unit = _WITH_UNIT.fullmatch(plain)
    if with_unit and folded(with_unit[2]) in units:
        plain = with_unit[1]
    if _GROUPED.fullmatch(plain):
        plain = plain.replace(" ", "")
    if _WHOLE.fullmatch(plain):
        return int(plain.split(".")[0])
    if column.kind is Kind.NUMBER and _DECIMAL_COMMA.fullmatch(plain):
        return float(plain.replace(",", "."))
    return float(plain) if _DECIMAL.fullmatch(plain) else text


def _from_number(column: Column, raw: int | float) -> Value | UnreadableCell:
    number = int(raw) if float(raw).is_integer() else raw
    if column.kind is Kind.CHOICE:
        return column.synonyms.get(folded(str(number)), str(number))
    if column.kind is not Kind.TEXT:
        return number
    if abs(raw) >= _MOST_EXACT and not column.prose:
        message = f"the spreadsheet turned this text into the number {raw:.6E} and may have dropped digits"
        return UnreadableCell(CellRule.NUMBER_BECAME_FLOAT, message, _AS_TEXT)
    return str(number)


def _from_date(column: Column, raw: datetime | date | time | timedelta) -> Value | UnreadableCell:
    if column.kind is Kind.DATE and isinstance(raw, date):
        return (raw.date() if isinstance(raw, datetime) else raw).isoformat()
    if column.kind is Kind.TIME:
        return clock_of(raw) or shown(raw)
    if column.kind is Kind.DATE or column.prose:
        return shown(raw)
    message = f"the spreadsheet turned what was typed here into a date or time ({shown(raw)})"
    fix = _AS_TEXT if column.kind in (Kind.TEXT, Kind.CHOICE) else _AS_NUMBER
    return UnreadableCell(CellRule.NUMBER_BECAME_DATE, message, fix)


def clock_of(raw: object) -> str | None:
    """Return the time of day that a cell holds, to the second, as 20:15:30; None where it is no such time.

    A date at midnight is a date only. A length of time below a day is what some programs store for one.
    """
    if isinstance(raw, Calculated):
        return clock_of(raw.result)
    if isinstance(raw, datetime):
        return raw.time().isoformat("seconds") if raw.time() != time() else None
    if isinstance(raw, time):
        return raw.isoformat("seconds")
    if isinstance(raw, timedelta) and timedelta() <= raw < timedelta(days=1):
        return (datetime.min + raw).time().isoformat("seconds")
    return None


def _from_scientific(column: Column, raw: ScientificNumber) -> Value | UnreadableCell:
    if column.kind is not Kind.TEXT or column.prose:
        return _from_number(column, raw.value)
    message = f"the spreadsheet took what was typed here for a number in scientific notation ({raw})"
    return UnreadableCell(CellRule.NUMBER_BECAME_FLOAT, message, _AS_TEXT)


def _spoiled(raw: CellError | NoStoredValue | BadDate) -> UnreadableCell:
    if isinstance(raw, NoStoredValue):
        return UnreadableCell(
            CellRule.FORMULA_WITHOUT_VALUE,
            f"the formula {shown(raw)} has no stored result, so its value cannot be read",
            "Open the workbook in a spreadsheet program, let it calculate, and save it.",
        )
    if isinstance(raw, CellError):
        message, fix = f"the cell shows the error {raw}", "Mend the formula, or type the value."
        return UnreadableCell(CellRule.VALUE_IS_ERROR, message, fix)
    message = f"the cell has a date format, and its number is no date ({raw})"
    return UnreadableCell(CellRule.NUMBER_BECAME_DATE, message, _AS_NUMBER)
