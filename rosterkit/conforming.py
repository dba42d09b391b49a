"""Cells against the schema: the jsonschema library judges each distinct value once, the words are ours."""

from collections.abc import Iterator, Sequence
from functools import cache
from typing import Any

from jsonschema import Draft202012Validator, FormatChecker

from rosterkit.book import Book, Table, each_once
from rosterkit.cleaning import Value, shown
from rosterkit.roster import Fault
from rosterkit.sheets import Column, Kind, sheet
from rosterkit.wording import SENTENCES

_FORMATS = FormatChecker(["date"])
_LIMITS = {"type", "minimum", "maximum", "exclusiveMinimum", "exclusiveMaximum", "minLength", "maxLength"}
"""Keywords of which it holds that what lies between two values that pass passes too."""
_ASSERTIONS = SENTENCES.keys()
"""Keywords that a value can break; all others only describe the column."""


def faults_of(book: Book) -> tuple[Fault, ...]:
    """Judge every cell that a member fills by the schema of its column; all faults, none held back."""
    return tuple(fault for table in book.tables.values() for fault in _table_faults(table))


def _table_faults(table: Table) -> Iterator[Fault]:
    for (name, index), spoiled in table.spoiled.items():
        if not table.sheet[name].computed:
            yield Fault(
                table=table,
                column=table.sheet[name],
                index=index,
                rule=spoiled.rule,
                message=spoiled.message,
                fix=spoiled.fix,
            )
    for column in table.sheet.filled_by_members:
        if column.name in table.headings.columns:
            yield from _value_faults(table, column)
    yield from _missing_faults(table)


def _value_faults(table: Table, column: Column) -> Iterator[Fault]:
    cells = table.values[column.name]
    validator = _validator(table.sheet.title, column.name)
    if _ASSERTIONS & column.schema.keys() <= _LIMITS and _extremes_pass(validator, column.kind, cells):
        return
    keywords = each_once(lambda value: _broken_keyword(validator, value), cells)
    for index, keyword in enumerate(keywords if any(keywords) else ()):
        if keyword:
            yield _fault(table, column, index, keyword, shown(table.raw[column.name][index]))


@cache
def _validator(title: str, name: str) -> Draft202012Validator:
    return Draft202012Validator(sheet(title)[name].schema, format_checker=_FORMATS)


def _extremes_pass(validator: Draft202012Validator, kind: Kind, cells: Sequence[Value | None]) -> bool:
    """Judge the shortest and the longest text, the least and the greatest number, which speak for the rest.

    This holds for a schema of a type and limits only: all that lies between two values that pass passes.
    """
    distinct: set[Any] = set(cells) - {None}
    kinds = set(map(type, cells)) - {type(None)}
    if not kinds:
        return True
    if len(kinds) > 1 and (kind is not Kind.NUMBER or not kinds <= {int, float}):
        return False
    by = len if kinds == {str} else float
    return validator.is_valid(min(distinct, key=by)) and validator.is_valid(max(distinct, key=by))


def _broken_keyword(validator: Draft202012Validator, value: Value | None) -> str | None:
    if value is None:
        return None
    return next((str(error.validator) for error in validator.iter_errors(value)), None)


def _missing_faults(table: Table) -> Iterator[Fault]:
    """Find the blank cells of required columns; each distinct set of filled ones is judged once."""
    required = [
        column for column in table.sheet.columns if column.required and column.name in table.headings.columns
    ]
    names = [column.name for column in required]
    judge = Draft202012Validator({"required": names})
    verdicts: dict[frozenset[str], bool] = {}
    for index in range(len(table.rows)):
        filled = frozenset(
            name for name in names if table.values[name][index] is not None or (name, index) in table.spoiled
        )
        if filled not in verdicts:
            verdicts[filled] = judge.is_valid(dict.fromkeys(filled))
        if not verdicts[filled]:
            for column in required:
                if column.name not in filled:
                    yield _fault(table, column, index, "required", "")


def _fault(table: Table, column: Column, index: int, keyword: str, text: str) -> Fault:
    message, fix = SENTENCES[keyword](column, text)
    return Fault(
        table=table,
        column=column,
        index=index,
        rule=column.rules.get(keyword, "value-missing" if keyword == "required" else "value-not-allowed"),
        message=message,
        fix=fix,
    )
