"""A conflict that the sheet Merge keeps is read back with all that it was, from as many cells as it takes."""

from datetime import date, datetime, time, timedelta

import pytest
from hypothesis import given
from hypothesis import strategies as st

from rosterkit.commands.merge.record import ConflictRecord, record_in, record_place, record_texts
from rosterkit.versions.merged import ConflictKind, SideValue
from rosterkit.xlsx.grid import Raw, ScientificNumber
from rosterkit.xlsx.xml.values import LONGEST_TEXT

_MILLISECONDS = st.integers(0, 10**9).map(lambda n: timedelta(milliseconds=n))
VALUES: st.SearchStrategy[Raw] = st.one_of(
    st.text(),
    st.floats(allow_nan=False, allow_infinity=False),
    st.booleans(),
    st.dates(),
    st.datetimes(),
    st.times(),
    _MILLISECONDS,
    st.floats(allow_nan=False, allow_infinity=False).map(ScientificNumber),
)
RECORDS = st.builds(
    ConflictRecord,
    kind=st.sampled_from(ConflictKind),
    sheet=st.text(min_size=1),
    row=st.integers(1, 2**20),
    column=st.none() | st.text(),
    label=st.text(),
    marks=st.dictionaries(st.text(), st.text()),
    base=VALUES,
    sides=st.lists(
        st.builds(
            SideValue,
            value=VALUES,
            sources=st.lists(st.text(min_size=1), min_size=1).map(tuple),
            place=st.text(),
        ),
        min_size=2,
    ).map(tuple),
    kept=st.none() | st.text(),
)


@given(RECORDS, st.integers(0, 3))
def test_what_is_kept_is_read_back(record: ConflictRecord, cells: int) -> None:
    texts = record_texts(record, cells)

    assert record_in(["conflict", "", *texts, "M01", "base"]) == record


def _record(value: Raw) -> ConflictRecord:
    sides = tuple(
        SideValue(value=one, sources=(name,), place="A1") for one, name in ((value, "a"), ("", "b"))
    )
    return ConflictRecord(
        kind=ConflictKind.CELL, sheet="S", row=2, column="Notes", label="A", marks={}, base="", sides=sides
    )


@pytest.mark.parametrize(
    "value",
    [
        pytest.param("long" * 8000, id="a text as long as a cell can hold"),
        pytest.param("\U0001f682" * 16_000, id="of signs beyond the basic plane"),
        pytest.param("_x000D_\r\n\x0b", id="of signs that no cell can hold"),
    ],
)
def test_no_cell_holds_more_than_it_can(value: str) -> None:
    texts = record_texts(_record(value))

    assert max(map(len, texts)) <= LONGEST_TEXT
    assert record_in(texts) == _record(value)


@pytest.mark.parametrize(
    "value",
    [date(2026, 5, 31), datetime(2026, 5, 31, 20, 15), time(20, 15), timedelta(hours=30), True, 1.0, "1"],
)
def test_a_value_keeps_its_type(value: Raw) -> None:
    read = record_in(record_texts(_record(value)))

    assert read is not None
    assert type(read.sides[0].value) is type(value)


@pytest.mark.parametrize(
    "cells",
    [
        pytest.param(["conflict", "x"], id="no record"),
        pytest.param(["merge:{"], id="cut off"),
        pytest.param(["merge:[]"], id="something else"),
        pytest.param(['merge:{"kind":"cell"}'], id="not all of it"),
    ],
)
def test_what_is_no_record_is_none(cells: list[Raw]) -> None:
    assert record_in(cells) is None


def test_a_record_is_found_in_its_column() -> None:
    assert record_place(["conflict", "", *record_texts(_record("x"))]) == 3
