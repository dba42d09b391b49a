"""The schema files: valid, without contradictions, and the one source for sheets and rows."""

import json
from dataclasses import fields
from pathlib import Path
from typing import Any

import pytest
from jsonschema import Draft202012Validator, FormatChecker

from rosterkit.roster.model import (
    Accessory,
    AddressRange,
    ConsistMember,
    DecoderType,
    ExtraValue,
    Layout,
    Locomotive,
    Reading,
)
from rosterkit.roster.rows import Row
from rosterkit.roster.schema import Column, Kind, Sheet, all_sheets, folded, schema_folder, sheet, spellings
from tests.each import for_each

FILES = sorted(schema_folder().rglob("*.json"))
SHEETS = all_sheets()
COLUMNS = [(known, column) for known in SHEETS for column in known.columns]
_OURS = {
    "aliases",
    "blankWords",
    "kindIn",
    "patternWords",
    "prose",
    "range",
    "names",
    "refers",
    "rules",
    "synonyms",
    "unique",
    "unit",
    "width",
}
"""Keywords of our own; JSON Schema lets others be."""
_THEIRS = {
    "$schema",
    "additionalProperties",
    "default",
    "description",
    "enum",
    "exclusiveMinimum",
    "format",
    "items",
    "maxItems",
    "maxLength",
    "maximum",
    "minItems",
    "minLength",
    "minimum",
    "pattern",
    "properties",
    "kindIn",
    "readOnly",
    "required",
    "title",
    "type",
}


def _name(place: tuple[Sheet, Column]) -> str:
    known, column = place
    return f"{known.title}: {column.heading}"


def _document(path: Path) -> dict[str, Any]:
    document: dict[str, Any] = json.loads(path.read_text(encoding="utf-8"))
    return document


@for_each(FILES, lambda path: path.name)
def test_a_schema_file_is_a_valid_schema_of_draft_2020_12(path: Path) -> None:
    document = _document(path)

    Draft202012Validator.check_schema(document)

    assert path.name == "sheets.json" or document["$schema"] == "https://json-schema.org/draft/2020-12/schema"


def test_every_sheet_has_a_file_and_every_file_a_sheet() -> None:
    listed = [entry["schema"] for entry in _document(schema_folder() / "sheets.json")["sheets"]]

    assert sorted(listed) == sorted(p.name for p in schema_folder().glob("*.json") if p.name != "sheets.json")


@for_each(COLUMNS, _name)
def test_a_column_uses_known_keywords_only(place: tuple[Sheet, Column]) -> None:
    known, column = place
    assert known[column.name] is column
    assert column.schema.keys() - _OURS - _THEIRS == set()


@for_each(COLUMNS, _name)
def test_a_default_is_a_value_that_the_column_takes(place: tuple[Sheet, Column]) -> None:
    known, column = place
    validator = Draft202012Validator(column.schema, format_checker=FormatChecker(["date"]))

    assert known.title
    assert column.default is None or validator.is_valid(column.default)


@for_each(COLUMNS, _name)
def test_another_way_to_write_a_choice_means_a_choice(place: tuple[Sheet, Column]) -> None:
    known, column = place
    assert known.title
    assert set(column.synonyms.values()) == set(column.choices)
    assert [column.synonyms[folded(choice)] for choice in column.choices] == list(column.choices)


@for_each(COLUMNS, _name)
def test_a_description_is_a_sentence(place: tuple[Sheet, Column]) -> None:
    known, column = place
    assert known.title
    assert column.description.endswith((".", "?"))


@for_each(SHEETS, lambda known: known.title)
def test_no_two_columns_of_a_sheet_share_a_heading_or_an_alias(known: Sheet) -> None:
    folds = [spelling for spelling, _, _ in spellings(known)]

    assert len(folds) == len(set(folds))


ROWS = [known for known in SHEETS if not known.transposed]
KEYS = [(known, key) for known in ROWS for key in known.identity]


def test_rows_are_recognised_by_something_on_every_sheet_of_rows_and_settings_by_nothing() -> None:
    assert [known.title for known in SHEETS if not known.identity] == ["Layout"]


@for_each(KEYS, lambda pair: f"{pair[0].title}: {pair[1]}")
def test_a_row_is_recognised_by_columns_that_members_fill(pair: tuple[Sheet, tuple[str, ...]]) -> None:
    known, key = pair
    filled = [column.name for column in known.filled_by_members]

    assert set(key) <= set(filled)
    assert len(key) == len(set(key)) > 0
    assert not any(known[name].prose for name in key)


@for_each(ROWS, lambda known: known.title)
def test_a_column_that_names_its_row_is_what_the_row_is_recognised_by_at_last(known: Sheet) -> None:
    naming = tuple(column.name for column in known.columns if column.unique)

    assert naming in ((), known.identity[-1])


@for_each(SHEETS, lambda known: known.title)
def test_a_sheet_is_found_by_its_title_in_any_letter_case(known: Sheet) -> None:
    assert sheet(known.title.upper()) is known


@pytest.mark.parametrize(
    ("row", "title"),
    [
        (Locomotive, "Locomotives"),
        (DecoderType, "Decoder types"),
        (AddressRange, "Address ranges"),
        (ConsistMember, "Consists"),
        (Accessory, "Accessories"),
        (ExtraValue, "Extra values"),
        (Reading, "Readings"),
    ],
)
def test_a_row_has_a_field_for_every_column_that_members_fill(row: type[Row], title: str) -> None:
    own = [field.name for field in fields(row) if field.name not in {"table", "index", "unusable"}]

    assert own == [column.name for column in sheet(title).filled_by_members]


def test_the_layout_has_a_field_for_every_setting() -> None:
    own = {field.name for field in fields(Layout)} - {"table", "unusable"}

    assert own == {column.name for column in sheet("Layout").columns}


@pytest.mark.parametrize(
    ("title", "computed"),
    [
        pytest.param("Layout", [], id="Layout has none"),
        pytest.param("Address ranges", [], id="Address ranges has none"),
        pytest.param("Decoder types", [], id="Decoder types has none"),
        pytest.param(
            "Locomotives",
            ["Answers", "CV1", "CV17", "CV18", "CV19", "CV29", "CV29 read", "Alert", "Check"],
            id="Locomotives has what an engine answers, its CVs, and what is wrong",
        ),
        pytest.param(
            "Consists", ["CV19", "CV20", "CV21", "CV22", "Check"], id="Consists has what a consist sets"
        ),
        pytest.param("Accessories", ["CV1", "CV9", "CV29", "Check"], id="Accessories has the CVs"),
        pytest.param("Extra values", ["Check"], id="Extra values has Check"),
        pytest.param("Speed tables", ["Check"], id="Speed tables has Check"),
        pytest.param("Readings", ["Wanted", "Verdict"], id="Readings has what is wanted and the verdict"),
    ],
)
def test_the_computed_columns_are(title: str, computed: list[str]) -> None:
    assert [column.heading for column in sheet(title).computed] == computed


@pytest.mark.parametrize(
    ("title", "name", "kind", "limits"),
    [
        pytest.param("Locomotives", "address", Kind.WHOLE, "1 to 10239", id="a whole number"),
        pytest.param("Locomotives", "length", Kind.NUMBER, "more than 0", id="a number without end"),
        pytest.param("Locomotives", "stall", Kind.NUMBER, "more than 0, at most 100", id="a number"),
        pytest.param("Layout", "clearance", Kind.NUMBER, "at least 0", id="a number from 0"),
        pytest.param("Locomotives", "bidi", Kind.CHOICE, "off, on", id="a choice"),
        pytest.param("Layout", "short_range", Kind.TEXT, "a range such as 1-99", id="a pattern"),
        pytest.param("Locomotives", "checked_on", Kind.DATE, "date", id="a date"),
        pytest.param("Readings", "time", Kind.TIME, "a time of day, such as 20:15", id="a time of day"),
        pytest.param("Locomotives", "loco", Kind.TEXT, "text", id="a text"),
    ],
)
def test_a_column_says_what_it_takes(title: str, name: str, kind: Kind, limits: str) -> None:
    column = sheet(title)[name]

    assert (column.kind, column.limits) == (kind, limits)


def test_a_sheet_or_column_that_is_not_there_is_a_key_error() -> None:
    with pytest.raises(KeyError):
        sheet("Photos")
    with pytest.raises(KeyError):
        sheet("Locomotives")["colour"]


def test_the_limits_of_addresses_are_those_of_the_standards() -> None:
    """NMRA S-9.2.2 (Jul 2012), CV1; RCN-225 (27.07.2025), CV17/18; one byte a CV, S-9.2.2."""
    engines = sheet("Locomotives")
    bytes_ = [engines[name].limits for name in ("vstart", "acceleration", "deceleration", "vhigh", "vmid")]

    assert (engines["address"].limits, engines["meet_address"].limits) == ("1 to 10239", "1 to 10239")
    assert bytes_ == ["0 to 255"] * 5
