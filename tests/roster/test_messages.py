"""Our own sentence for every keyword of the schema that a value can break."""

import json
from collections.abc import Iterator
from typing import Any

import pytest
from jsonschema import Draft202012Validator, FormatChecker

from rosterkit.roster.messages import SENTENCES
from rosterkit.roster.schema import Column, all_sheets, schema_folder, sheet
from tests.each import for_each

# JSON Schema draft 2020-12, sections 10 and 11 of Core and 6 and 7 of Validation, without those for whole
# documents (if, then, else, dependentSchemas, $ref and the like), which a single cell cannot break.
BREAKABLE = {
    "type",
    "enum",
    "const",
    "multipleOf",
    "maximum",
    "exclusiveMaximum",
    "minimum",
    "exclusiveMinimum",
    "maxLength",
    "minLength",
    "pattern",
    "format",
    "allOf",
    "anyOf",
    "oneOf",
    "not",
    "required",
}
COLUMNS = [(known.title, column) for known in all_sheets() for column in known.columns]
FILLED = [(title, column) for title, column in COLUMNS if not column.computed]


def _keywords(document: Any) -> Iterator[str]:
    if isinstance(document, dict):
        for key, below in document.items():
            if key == "properties":
                for schema in below.values():
                    yield from _keywords(schema)
            else:
                yield key


@for_each([path.name for path in sorted(schema_folder().glob("*.json"))])
def test_every_keyword_of_a_schema_file_that_a_value_can_break_has_a_sentence(name: str) -> None:
    document = json.loads((schema_folder() / name).read_text(encoding="utf-8"))

    assert set(_keywords(document)) & BREAKABLE <= SENTENCES.keys()


def test_every_sentence_is_for_a_keyword_that_the_schema_uses() -> None:
    used = {key for _, column in COLUMNS for key in column.schema} | {"required"}

    assert set(SENTENCES) - used == set()


@for_each(FILLED, lambda filled: f"{filled[0]}: {filled[1].heading}")
def test_no_sentence_has_the_words_of_the_library(filled: tuple[str, Column]) -> None:
    title, column = filled
    validator = Draft202012Validator(column.schema, format_checker=FormatChecker(["date"]))
    wrong = ["x" * 500, "", "x", -1, 10**9, 0.5, 0, True]
    errors = [(value, error) for value in wrong for error in validator.iter_errors(value)]

    said = [(*SENTENCES[str(error.validator)](column, str(value)), error.message) for value, error in errors]

    assert title
    assert [message for message, fix, raw in said if raw in message or raw in fix] == []
    assert [message for message, _, _ in said if "valid" in message or "does not match" in message] == []


@pytest.mark.parametrize(
    ("title", "name", "keyword", "text", "message", "fix"),
    [
        pytest.param(
            "Locomotives",
            "address",
            "type",
            "twelve",
            "'twelve' is not a whole number",
            "Enter a whole number, 1 to 10239.",
            id="not a whole number",
        ),
        pytest.param(
            "Readings",
            "value",
            "type",
            "no answer",
            "'no answer' is not a whole number",
            "Enter a whole number, 0 to 255; leave the cell blank where the decoder gave no acknowledgment.",
            id="words where a blank cell says it",
        ),
        pytest.param(
            "Locomotives",
            "length",
            "type",
            "195 mm",
            "'195 mm' is not a number",
            "Enter a number, more than 0.",
            id="not a number",
        ),
        pytest.param(
            "Locomotives",
            "checked_on",
            "type",
            "46123",
            "'46123' is not a date",
            "Enter a date, such as 2026-05-31.",
            id="a number where a date is wanted",
        ),
        pytest.param(
            "Locomotives",
            "checked_on",
            "format",
            "in May",
            "'in May' is not a date",
            "Enter a date, such as 2026-05-31.",
            id="not a date",
        ),
        pytest.param(
            "Locomotives",
            "direction",
            "enum",
            "up",
            "'up' is not one of normal, reversed",
            "Choose one of normal, reversed.",
            id="not a choice",
        ),
        pytest.param(
            "Locomotives",
            "vhigh",
            "minimum",
            "-1",
            "-1 is too small: Vhigh takes 0 to 255",
            "Enter a whole number, 0 to 255.",
            id="too small",
        ),
        pytest.param(
            "Locomotives",
            "stall",
            "exclusiveMinimum",
            "0",
            "0 is too small: Stall A takes more than 0, at most 100",
            "Enter a number, more than 0, at most 100.",
            id="not more than 0",
        ),
        pytest.param(
            "Layout",
            "clearance",
            "minimum",
            "-5",
            "-5 is too small: Clearance at each end takes at least 0",
            "Enter a number, at least 0.",
            id="too small, without an upper limit",
        ),
        pytest.param(
            "Locomotives",
            "vstart",
            "maximum",
            "256",
            "256 is too large: Vstart takes 0 to 255",
            "Enter a whole number, 0 to 255.",
            id="too large",
        ),
        pytest.param(
            "Locomotives",
            "loco",
            "maxLength",
            "LLL",
            "'LLL' is longer than 40 characters",
            "Shorten it to 40 characters at most.",
            id="too long",
        ),
        pytest.param(
            "Locomotives", "loco", "minLength", "", "'' is too short", "Enter Loco.", id="too short"
        ),
        pytest.param(
            "Layout",
            "short_range",
            "pattern",
            "all",
            "'all' is not a range such as 1-99",
            "Enter a range such as 1-99.",
            id="not of the pattern",
        ),
        pytest.param(
            "Locomotives", "loco", "required", "", "Loco is blank", "Enter Loco.", id="a text that is missing"
        ),
        pytest.param(
            "Address ranges",
            "kind",
            "required",
            "",
            "Kind is blank",
            "Enter Kind: short, long, consist, accessory.",
            id="a choice that is missing",
        ),
    ],
)
def test_the_sentence_for_a_keyword(
    title: str, name: str, keyword: str, text: str, message: str, fix: str
) -> None:
    assert SENTENCES[keyword](sheet(title)[name], text) == (message, fix)
