"""Cells against the schema: the jsonschema library judges each distinct value once, the words are ours."""

from collections.abc import Iterator

from jsonschema import Draft202012Validator, FormatChecker

from rosterkit.book import Book, Table
from rosterkit.cleaning import Value, shown
from rosterkit.roster import Fault
from rosterkit.sheets import Column
from rosterkit.wording import SENTENCES

_FORMATS = FormatChecker(["date"])


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
    validator = Draft202012Validator(column.schema, format_checker=_FORMATS)
    distinct = {(type(value), value) for value in cells if value is not None}
    failing = {key: keyword for key in distinct if (keyword := _broken_keyword(validator, key[1]))}
    if not failing:
        return
    for index, value in enumerate(cells):
        keyword = failing.get((type(value), value)) if value is not None else None
        if keyword:
            yield _fault(table, column, index, keyword, shown(table.raw[column.name][index]))


def _broken_keyword(validator: Draft202012Validator, value: Value) -> str | None:
    """Give the JSON Schema keyword that a value breaks; None if it is fine."""
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
