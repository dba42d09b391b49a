"""Cells against the schema: the jsonschema library judges each distinct value once, the words are ours."""

import re
import unicodedata
from collections.abc import Iterator, Sequence
from functools import cache, lru_cache, partial
from typing import Any, cast

from jsonschema import Draft202012Validator, FormatChecker

from rosterkit.roster.cell_rules import CellRule
from rosterkit.roster.cell_values import Value, map_distinct, shown
from rosterkit.roster.messages import SENTENCES
from rosterkit.roster.rows import Fault
from rosterkit.roster.schema import Column, Kind, folded, sheet
from rosterkit.roster.tables import Book, Table
from rosterkit.standards.addresses import LONG_ADDRESSES, SHORT_ADDRESSES

_FORMATS = FormatChecker(["date"])
_LIMITS = {"type", "minimum", "maximum", "exclusiveMinimum", "exclusiveMaximum", "minLength", "maxLength"}
"""Keywords of which it holds that what lies between two values that pass passes too."""
_REMEMBERED = 200
"""Signs of a text of which the verdict is remembered."""
_ASSERTIONS = SENTENCES.keys()
"""Keywords that a value can break; all others only describe the column."""
_WORD_FIRST = re.compile(r"\(?([a-z]+)\)?(?:\s+addr(?:ess)?)?[\s:.,;=/-]*([0-9]{1,5})")
_NUMBER_FIRST = re.compile(r"([0-9]{1,5})[\s,;/-]*\(?([a-z]+)\)?(?:\s+addr(?:ess)?)?")
_ADDRESSES = {"short": SHORT_ADDRESSES, "long": LONG_ADDRESSES}


def faults_of(book: Book) -> tuple[Fault, ...]:
    """Judge every cell that a member fills by the schema of its column; all faults, none held back."""
    return tuple(fault for table in book.tables.values() for fault in _table_faults(table))


def _table_faults(table: Table) -> Iterator[Fault]:
    for (name, index), unreadable in table.unreadable.items():
        if not table.sheet[name].computed:
            said = unreadable.rule, unreadable.message, unreadable.fix
            yield Fault(table, table.sheet[name], index, *said)
    for column in table.sheet.filled_by_members:
        if column.name in table.headings.columns:
            yield from _value_faults(table, column)
    yield from _missing_faults(table)


def _value_faults(table: Table, column: Column) -> Iterator[Fault]:
    cells = table.values[column.name]
    if cells.count(None) == len(cells) or _all_pass(column, cells):
        return
    keywords = map_distinct(partial(_broken_keyword, column), cells)
    for index, keyword in enumerate(keywords if any(keywords) else ()):
        if keyword:
            yield _fault(table, column, index, keyword, shown(table.raw[column.name][index]))


@cache
def _validator(column: Column) -> Draft202012Validator:
    return Draft202012Validator(column.schema, format_checker=_FORMATS)


def _all_pass(column: Column, cells: Sequence[Value | None]) -> bool:
    """Judge what is cheap to judge of a column; most columns have no fault, and need no closer look."""
    if _ASSERTIONS & column.schema.keys() <= _LIMITS:
        return _extremes_pass(column, cells)
    return column.kind is Kind.CHOICE and all(_passes(column, cell) for cell in set(cells) - {None})


def _extremes_pass(column: Column, cells: Sequence[Value | None]) -> bool:
    """Judge the shortest and the longest text, the least and the greatest number, which speak for the rest.

    This holds for a schema of a type and limits only: all that lies between two values that pass passes,
    and any text of the same length in place of another.
    """
    kinds = set(map(type, cells)) - {type(None)}
    if kinds == {str}:
        lengths = set(map(len, cast("set[str]", set(cells) - {None})))
        return all(_passes(column, "x" * length) for length in (min(lengths), max(lengths)))
    if len(kinds) > 1 and (column.kind is not Kind.NUMBER or not kinds <= {int, float}):
        return False
    distinct: set[Any] = set(cells) - {None}
    return all(_passes(column, extreme) for extreme in (min(distinct, key=float), max(distinct, key=float)))


def _passes(column: Column, value: Value | None) -> bool:
    return _broken_keyword(column, value) is None


def refusal(column: Column, value: Value | None) -> tuple[str, str] | None:
    """Say why a column's schema refuses a value, and what to do; None where it takes it."""
    keyword = _broken_keyword(column, value)
    return SENTENCES[keyword](column, shown(value)) if keyword else None


def _broken_keyword(column: Column, value: Value | None) -> str | None:
    """Return the keyword of a column's schema that a value breaks."""
    if value is None:
        return None
    judge = _judged.__wrapped__ if isinstance(value, str) and len(value) > _REMEMBERED else _judged
    return judge(column, value)


@lru_cache(maxsize=50_000, typed=True)
def _judged(column: Column, value: Value) -> str | None:
    """Judge a value, and remember the verdict: many workbooks have the same values."""
    return next((str(error.validator) for error in _validator(column).iter_errors(value)), None)


def _missing_faults(table: Table) -> Iterator[Fault]:
    """Find the blank cells of required columns; each distinct set of filled ones is judged once."""
    required = [
        column for column in table.sheet.columns if column.required and column.name in table.headings.columns
    ]
    names = tuple(column.name for column in required)
    if all(None not in table.values[name] for name in names):
        return
    filled = [
        frozenset(
            name
            for name in names
            if table.values[name][index] is not None or (name, index) in table.unreadable
        )
        for index in range(len(table.rows))
    ]
    judge = _judge_of_missing(names)
    verdicts = map_distinct(lambda some: judge.is_valid(dict.fromkeys(some)), filled)
    for index, complete in enumerate(verdicts):
        for column in required:
            if not complete and column.name not in filled[index]:
                yield _fault(table, column, index, "required", "")


@cache
def _judge_of_missing(names: tuple[str, ...]) -> Draft202012Validator:
    return Draft202012Validator({"required": names})


def _fault(table: Table, column: Column, index: int, keyword: str, text: str) -> Fault:
    message, fix = SENTENCES[keyword](column, text)
    if keyword == "type":
        fix = _fix_by_splitting(table, column, index, text) or fix
    usual = CellRule.VALUE_MISSING if keyword == "required" else CellRule.VALUE_NOT_ALLOWED
    return Fault(table, column, index, column.rules.get(keyword, usual), message, fix)


def _fix_by_splitting(table: Table, column: Column, index: int, text: str) -> str | None:
    """Propose two cells for what stands in one; None where the second holds something else already."""
    found = _number_and_kind(column, text)
    if found is None:
        return None
    number, beside, kind = found
    enter = f"Enter {number} in {table.heading(column.name)}"
    if beside.name not in table.headings.columns:
        return f"{enter} and {kind} in a column {beside.heading}."
    there = table.values[beside.name][index]
    if there == kind:
        return f"{enter}; {table.heading(beside.name)} has {kind} already."
    return f"{enter} and {kind} in {table.heading(beside.name)}." if there is None else None


def _number_and_kind(column: Column, text: str) -> tuple[int, Column, str] | None:
    """Read a number with its kind out of one cell, in either order: 'short 44', '44 short', 'L2107'.

    Gives the number, the column that takes the kind (``kindIn`` in the schema) and the kind; None where the
    column has none beside it, or where the text may mean something else, such as a short address of 200.
    """
    if "kindIn" not in column.schema:
        return None
    beside = sheet(column.sheet)[column.schema["kindIn"]]
    plain = unicodedata.normalize("NFKC", text).strip().casefold()
    if match := _WORD_FIRST.fullmatch(plain):
        word, digits = match[1], match[2]
    elif match := _NUMBER_FIRST.fullmatch(plain):
        digits, word = match[1], match[2]
    else:
        return None
    kind, number = beside.synonyms.get(folded(word)), int(digits)
    return (number, beside, kind) if kind and number in _ADDRESSES[kind] else None
