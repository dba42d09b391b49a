"""Cells against the schema: every fault at its cell, each distinct value judged once."""

from collections.abc import Mapping, Sequence
from typing import Any

import pytest
from hypothesis import given
from hypothesis import strategies as st
from jsonschema import Draft202012Validator, FormatChecker

from rosterkit.findings import Place
from rosterkit.roster.rows import Fault
from rosterkit.roster.schema import sheet
from rosterkit.roster.tables import book_of
from rosterkit.roster.validation import faults_of
from rosterkit.xlsx.grid import Raw
from tests.rosters import Rows, grid, sheet_of, workbook_of


def _faults(engines: Rows) -> tuple[Fault, ...]:
    return faults_of(book_of(workbook_of(sheet_of("Locomotives", engines))))


def _place(fault: Fault) -> Place:
    return fault.table.place(fault.column.name, fault.index)


def _said(faults: Sequence[Fault]) -> list[tuple[str | None, str, str]]:
    return [(_place(fault).cell, fault.rule, fault.message) for fault in sorted(faults, key=_place)]


def test_values_that_the_schema_allows_have_no_fault() -> None:
    engine = {"Loco": "A", "Address": 10239, "Vstart": 255, "Length": 0.1, "Checked on": "2024-02-29"}

    assert _faults([engine]) == ()


def test_every_fault_of_a_row_is_given() -> None:
    engine = {
        "Loco": "",
        "Address": 0,
        "Vstart": 256,
        "Length": 0,
        "Checked on": "2025-02-29",
        "BiDi": "maybe",
    }

    assert _said(_faults([engine])) == [
        ("A2", "value-missing", "Loco is blank"),
        ("B2", "address-out-of-range", "0 is too small: Address takes 1 to 10239"),
        ("C2", "value-not-allowed", "256 is too large: Vstart takes 0 to 255"),
        ("D2", "value-not-allowed", "0 is too small: Length takes more than 0"),
        ("E2", "value-not-allowed", "'2025-02-29' is not a date"),
        ("F2", "value-not-allowed", "'maybe' is not one of off, on"),
    ]


def test_a_value_that_stands_a_hundred_times_has_a_fault_at_each_of_its_cells() -> None:
    faults = _faults([{"Loco": f"E{n}", "Address": 5, "Vhigh": 300 if n % 2 else 200} for n in range(200)])

    assert [_place(fault).row for fault in faults] == list(range(3, 202, 2))


def test_a_few_wrong_values_are_found_among_thousands() -> None:
    engines = [{"Loco": f"E{n}", "Address": 128 + n, "Vstart": n % 256} for n in range(5000)]
    engines[1234] = {"Loco": "E1234", "Address": 12.5, "Vstart": "fast"}
    engines[4321] = {"Loco": "L" * 41, "Address": -1, "Vstart": True}

    assert _said(_faults(engines)) == [
        ("B1236", "value-not-allowed", "'12.5' is not a whole number"),
        ("C1236", "value-not-allowed", "'fast' is not a whole number"),
        ("A4323", "value-not-allowed", f"'{'L' * 41}' is longer than 40 characters"),
        ("B4323", "address-out-of-range", "-1 is too small: Address takes 1 to 10239"),
        ("C4323", "value-not-allowed", "'TRUE' is not a whole number"),
    ]


def test_the_message_shows_the_cell_as_the_member_sees_it() -> None:
    faults = _faults([{"Loco": "A", "Address": " ９９９９９ "}, {"Loco": "B", "Address": 20000.0}])

    assert [fault.message for fault in faults] == [
        "９９９９９ is too large: Address takes 1 to 10239",
        "20000 is too large: Address takes 1 to 10239",
    ]


@pytest.mark.parametrize(
    ("engine", "fix"),
    [
        pytest.param(
            {"Address": "short 44"}, "Enter 44 in Address and short in a column Address kind.", id="no column"
        ),
        pytest.param(
            {"Address": "short 44", "Address kind": ""},
            "Enter 44 in Address and short in Address kind.",
            id="the kind before the number",
        ),
        pytest.param(
            {"DCC address": "44 Short", "Kind": ""},
            "Enter 44 in DCC address and short in Kind.",
            id="the kind after the number, under the member's own headings",
        ),
        pytest.param(
            {"Address": "long 2107", "Address kind": ""},
            "Enter 2107 in Address and long in Address kind.",
            id="a long address",
        ),
        pytest.param(
            {"Address": "L2107", "Address kind": ""},
            "Enter 2107 in Address and long in Address kind.",
            id="one letter, without a blank",
        ),
        pytest.param(
            {"Address": "44 (s)", "Address kind": ""},
            "Enter 44 in Address and short in Address kind.",
            id="one letter in brackets",
        ),
        *(
            pytest.param(
                {"Address": text, "Address kind": ""},
                "Enter 2107 in Address and long in Address kind.",
                id=f"typed as {text}",
            )
            for text in ("long-2107", "2107, long", "2107/L", "long address 2107", "(long) 2107", "long=2107")
        ),
        pytest.param(
            {"Address": "Short:44", "Address kind": "short"},
            "Enter 44 in Address; Address kind has short already.",
            id="the kind stands in its column too",
        ),
        pytest.param(
            {"Address": 44, "Meet address": "long 3044", "Meet kind": ""},
            "Enter 3044 in Meet address and long in Meet kind.",
            id="a meet address",
        ),
        pytest.param(
            {"Address": "short 44", "Address kind": "long"},
            "Enter a whole number, 1 to 10239.",
            id="the column says the reverse",
        ),
        pytest.param(
            {"Address": "short 200", "Address kind": ""},
            "Enter a whole number, 1 to 10239.",
            id="no short address has that number",
        ),
        pytest.param(
            {"Address": "short 44 or 45", "Address kind": ""},
            "Enter a whole number, 1 to 10239.",
            id="two numbers",
        ),
        pytest.param(
            {"Address": "short 4-4", "Address kind": ""},
            "Enter a whole number, 1 to 10239.",
            id="a number in two pieces",
        ),
        pytest.param(
            {"Address": "consist 44", "Address kind": ""},
            "Enter a whole number, 1 to 10239.",
            id="a word that is no kind",
        ),
    ],
)
def test_an_address_typed_with_its_kind_is_to_be_entered_in_two_cells(
    engine: dict[str, object], fix: str
) -> None:
    assert [fault.fix for fault in _faults([{"Loco": "A", **engine}])] == [fix]


def test_computed_columns_are_not_judged() -> None:
    assert _faults([{"Loco": "A", "Address": 5, "CV1": 999, "CV29": "?", "Check": 5}]) == ()


def test_a_heading_that_is_missing_is_not_blank_in_every_row() -> None:
    faults = faults_of(
        book_of(workbook_of(grid("Locomotives", ("Loco", "Owner"), ("A", "M01"), ("B", "M02"))))
    )

    assert faults == ()


def test_settings_are_judged_at_the_cell_of_their_value() -> None:
    layout = grid(
        "Layout",
        ("Setting", "Value"),
        ("Scale", "G"),
        ("Long addresses from", 129),
        ("Short addresses", "all"),
    )
    faults = faults_of(book_of(workbook_of(grid("Locomotives", ("Loco", "Address"), ("A", 5)), layout)))

    assert _said(faults) == [
        (
            "B2",
            "value-not-allowed",
            "'G' is not one of Z, N, N (UK), TT, 3 mm, HO, H0, OO, S, O, 0, O (UK), 1",
        ),
        ("B3", "value-not-allowed", "129 is too large: Long addresses from takes 1 to 128"),
        ("B4", "value-not-allowed", "'all' is not a range such as 1-99"),
    ]


@pytest.mark.parametrize("heading", ["1-99", "1 - 99", "1 -99", "00001-00099"])
def test_a_range_of_addresses_may_be_typed_as(heading: str) -> None:
    layout = grid("Layout", ("Setting", "Value"), ("Short address range", heading))

    faults = faults_of(book_of(workbook_of(grid("Locomotives", ("Loco", "Address"), ("A", 5)), layout)))

    assert faults == ()


_RAW = (
    st.integers(-2, 260)
    | st.sampled_from(
        [0.5, 12.5, True, "", "1", "on", "off", "reversed", "2026-04-11", "x" * 40, "x" * 41, "10240"]
    )
    | st.text(max_size=3)
)
_NAMES = ("loco", "address", "length", "direction", "vstart", "checked_on", "lock", "meet_address")


@given(st.lists(st.fixed_dictionaries(dict.fromkeys(_NAMES, _RAW)), min_size=1, max_size=30))
def test_the_verdicts_are_those_of_the_validator_on_every_single_value(rows: list[dict[str, Raw]]) -> None:
    known = sheet("Locomotives")
    book = book_of(
        workbook_of(
            grid(
                "Locomotives",
                [known[name].heading for name in (*_NAMES, "model")],
                *([*row.values(), "so that no row is blank"] for row in rows),
            )
        )
    )
    values = book.tables["Locomotives"].values

    found = {(f.column.name, f.index) for f in faults_of(book) if f.message != f"{f.column.heading} is blank"}

    assert found == {
        (name, index)
        for name in _NAMES
        for index, value in enumerate(values[name])
        if value is not None and not _is_valid(known[name].schema, value)
    }


def _is_valid(schema: Mapping[str, Any], value: object) -> bool:
    return Draft202012Validator(schema, format_checker=FormatChecker(["date"])).is_valid(value)
