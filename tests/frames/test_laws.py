"""Laws of frames, for rosters made at random: they hold what the roster does, and write what differs."""

from collections.abc import Sequence
from datetime import date, datetime
from functools import partial
from pathlib import Path
from tempfile import TemporaryDirectory
from typing import Any

import pandas as pd
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

import rosterkit
from rosterkit.roster.load import roster_at
from rosterkit.roster.schema import Column, Kind, sheet
from tests.command_line import written
from tests.frames.changed_cells import changed_cells, changed_parts
from tests.frames.reading import rows_of
from tests.rosters import grid, workbook_of

SHEETS = [sheet(title) for title in ("Locomotives", "Consists", "Extra values", "Readings")]
Rows = list[dict[str, Any]]
"""Values by heading, in the form in which a frame has them; None is blank."""

_SIGNS = st.characters(codec="utf-8", exclude_categories=["C", "Z"])
_TEXTS = st.text(_SIGNS, min_size=1, max_size=12).filter(lambda text: text[0] not in "=#")
"""Other texts openpyxl, which makes the workbooks, takes for formulas and errors."""
_EIGHTHS = st.integers(1, 800).map(lambda eighths: eighths / 8)
"""Numbers that openpyxl, which writes 16 digits, writes without loss."""
_OWN = st.none() | _TEXTS | st.integers(-9999, 9999) | st.booleans() | _EIGHTHS
_BY_THE_LAYOUT = {"address_kind", "meet_kind"}


def _values(column: Column) -> st.SearchStrategy[Any]:
    """Return values that the schema of a column of ours allows."""
    if column.kind is Kind.WHOLE:
        return st.integers(column.schema["minimum"], column.schema["maximum"])
    if column.kind is Kind.NUMBER:
        return _EIGHTHS
    if column.kind is Kind.CHOICE:
        return st.sampled_from(column.choices)
    if column.kind is Kind.DATE:
        return st.dates(date(1900, 3, 1)).map(lambda day: datetime(day.year, day.month, day.day))
    if column.kind is Kind.TIME:
        return st.times().map(lambda time: time.isoformat("seconds"))
    return _TEXTS


@st.composite
def _made(draw: st.DrawFn) -> dict[str, Rows]:
    """Draw rows of some sheets of ours by title, with some of their columns and one of the member's own."""
    made = {}
    for one in [SHEETS[0], *draw(st.lists(st.sampled_from(SHEETS[1:]), unique=True))]:
        needed = {column.heading: _values(column) for column in one.columns if column.required}
        others = [column for column in one.filled_by_members if not column.required]
        chosen = draw(st.lists(st.sampled_from(others), unique=True, max_size=8))
        optional = {column.heading: st.none() | _values(column) for column in chosen}
        values = {**needed, **optional, "Mine": _OWN}
        row = st.fixed_dictionaries(values).map(partial(_in_order, list(values)))
        made[one.title] = draw(st.lists(row, min_size=1, max_size=6))
    return made


def _in_order(headings: Sequence[str], row: dict[str, Any]) -> dict[str, Any]:
    return {heading: row[heading] for heading in headings}


def _workbook(path: Path, made: dict[str, Rows]) -> Path:
    grids = []
    for title, rows in made.items():
        cells = [["" if value is None else value for value in row.values()] for row in rows]
        grids.append(grid(title, list(rows[0]), *cells))
    return written(path, workbook_of(*grids))


def _exact(rows: Sequence[Sequence[Any]]) -> list[list[tuple[bool, Any]]]:
    """Return values so that TRUE and 1 are two."""
    return [[(isinstance(value, bool), value) for value in row] for row in rows]


@pytest.mark.slow
@settings(max_examples=50, deadline=None)
@given(made=_made())
def test_a_frame_holds_what_was_typed(made: dict[str, Rows]) -> None:
    with TemporaryDirectory() as folder:
        read = rosterkit.read(_workbook(Path(folder, "club.xlsx"), made))

    for title, rows in made.items():
        frame = read[title]
        assert frame.index.tolist() == list(range(2, 2 + len(rows)))
        assert _exact(rows_of(frame[list(rows[0])])) == _exact([list(row.values()) for row in rows])
        assert frame.drop(columns=list(rows[0])).isna().all(axis=None)


@pytest.mark.slow
@settings(max_examples=50, deadline=None)
@given(made=_made())
def test_a_frame_with_defaults_holds_the_typed_rows_of_the_roster(made: dict[str, Rows]) -> None:
    with TemporaryDirectory() as folder:
        path = _workbook(Path(folder, "club.xlsx"), made)
        read, roster = rosterkit.read(path, defaults=True), roster_at(path)

    typed = (roster.engines, roster.consist_members, roster.extra_values, roster.readings)
    for one, rows in zip(SHEETS, typed, strict=True):
        columns = [column for column in one.filled_by_members if column.name not in _BY_THE_LAYOUT]
        found = rows_of(read[one.title][[column.heading for column in columns]])
        assert [[_iso(value) for value in row] for row in found] == [
            [getattr(row, column.name) for column in columns] for row in rows
        ]


def _iso(value: Any) -> Any:
    return value.date().isoformat() if isinstance(value, pd.Timestamp) else value


@st.composite
def _edited(draw: st.DrawFn) -> tuple[dict[str, Rows], list[tuple[str, int, str, Any]]]:
    """Draw a workbook's rows, and other values for some of the cells: title, place of the row, heading."""
    made = draw(_made())
    places = [
        (title, n, heading) for title, rows in made.items() for n, row in enumerate(rows) for heading in row
    ]
    edits = []
    for title, n, heading in draw(st.lists(st.sampled_from(places), unique=True, max_size=10)):
        column = next((one for one in sheet(title).columns if one.heading == heading), None)
        texts = st.sampled_from(["=1+1", "+1", "@x", "#N/A", "007", "4E2", "<&>"])
        values = _values(column) if column else _OWN | texts | st.floats(-1e300, 1e300)
        if column and column.kind is Kind.TEXT:
            values |= texts
        edits.append((title, n, heading, draw(values if column and column.required else values | st.none())))
    return made, edits


@pytest.mark.slow
@settings(max_examples=50, deadline=None)
@given(drawn=_edited())
def test_exactly_the_cells_that_differ_are_written_and_read_again(
    drawn: tuple[dict[str, Rows], list[tuple[str, int, str, Any]]],
) -> None:
    made, edits = drawn
    wanted = {title: [dict(row) for row in rows] for title, rows in made.items()}
    for title, n, heading, value in edits:
        wanted[title][n][heading] = value
    differing = {
        (title, f"{chr(ord('A') + list(row).index(heading))}{n + 2}")
        for title, rows in wanted.items()
        for n, row in enumerate(rows)
        for heading, value in row.items()
        if _exact([[value]]) != _exact([[made[title][n][heading]]])
    }
    with TemporaryDirectory() as folder:
        path = _workbook(Path(folder, "club.xlsx"), made)
        read = rosterkit.read(path)
        frames = {title: read[title].astype(object) for title in made}
        for title, n, heading, value in edits:
            frames[title].loc[n + 2, heading] = value

        out = read.write(frames, Path(folder, "out.xlsx"))

        assert set(changed_cells(path, out)) == differing
        parts = {f"xl/worksheets/sheet{list(made).index(title) + 1}.xml" for title, _ in differing}
        assert changed_parts(path, out) == parts
        again = rosterkit.read(out)
    for title, rows in wanted.items():
        assert _exact(rows_of(again[title][list(rows[0])])) == _exact([list(row.values()) for row in rows])
