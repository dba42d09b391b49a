"""One sentence and one fix per JSON Schema keyword, in place of the library's own text."""

from collections.abc import Callable, Mapping
from functools import partial

from rosterkit.roster.schema import Column, Kind

Sentence = Callable[[Column, str], tuple[str, str]]
"""Column and cell content to what is wrong and what to do."""


def _not_of_type(column: Column, text: str) -> tuple[str, str]:
    if column.kind is Kind.DATE:
        return _not_of_format(column, text)
    if column.kind is Kind.TIME:
        return _not_of_pattern(column, text)
    wanted = {Kind.WHOLE: "a whole number", Kind.NUMBER: "a number"}.get(column.kind, "a text")
    return f"'{text}' is not {wanted}", _enter(column)


def _not_a_choice(column: Column, text: str) -> tuple[str, str]:
    return f"'{text}' is not one of {column.limits}", f"Choose one of {column.limits}."


def _outside(column: Column, text: str, *, size: str) -> tuple[str, str]:
    return f"{text} is too {size}: {column.heading} takes {column.limits}", _enter(column)


def _too_long(column: Column, text: str) -> tuple[str, str]:
    most = column.schema["maxLength"]
    return f"'{text}' is longer than {most} characters", f"Shorten it to {most} characters at most."


def _too_short(column: Column, text: str) -> tuple[str, str]:
    return f"'{text}' is too short", f"Enter {column.heading}."


def _not_of_pattern(column: Column, text: str) -> tuple[str, str]:
    return f"'{text}' is not {column.limits}", f"Enter {column.limits}."


def _not_of_format(column: Column, text: str) -> tuple[str, str]:
    return f"'{text}' is not a date", "Enter a date, such as 2026-05-31."


def _missing(column: Column, _text: str) -> tuple[str, str]:
    takes = f": {column.limits}" if column.limits != column.kind.value else ""
    return f"{column.heading} is blank", f"Enter {column.heading}{takes}."


def _enter(column: Column) -> str:
    if column.kind in (Kind.WHOLE, Kind.NUMBER):
        number = "a whole number" if column.kind is Kind.WHOLE else "a number"
        blank = column.schema.get("blankWords")
        return f"Enter {number}, {column.limits}{f'; leave the cell blank {blank}' if blank else ''}."
    return f"Enter {column.heading}."


SENTENCES: Mapping[str, Sentence] = {
    "type": _not_of_type,
    "enum": _not_a_choice,
    "minimum": partial(_outside, size="small"),
    "exclusiveMinimum": partial(_outside, size="small"),
    "maximum": partial(_outside, size="large"),
    "maxLength": _too_long,
    "minLength": _too_short,
    "pattern": _not_of_pattern,
    "format": _not_of_format,
    "required": _missing,
}
"""Every keyword that the schema files use and that a value can break."""
