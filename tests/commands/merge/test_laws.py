"""Whatever copies hold: each cell of the merged workbook follows from it, and all conflicts stand there."""

import io
from collections.abc import Sequence
from datetime import date, datetime
from functools import cache

import openpyxl
from hypothesis import given, settings
from hypothesis import strategies as st

from rosterkit.commands.merge.merging import merged_workbook
from rosterkit.versions.three_way import merge
from rosterkit.versions.version import Version, version_of
from rosterkit.xlsx.package.opening import opened_in_memory
from tests.commands.merge.workbooks import ENGINES

COLUMNS = ("Address", "Checked on", "Notes")
_ROWS = range(2, 6)
_VALUES = (None, 7, 8.5, 1500, "=1+1", "words", "007", date(2026, 5, 31), date(2025, 1, 1))
_Edits = dict[tuple[int, str], object]
_CELLS = st.tuples(st.sampled_from(_ROWS), st.sampled_from(COLUMNS))
EDITS: st.SearchStrategy[_Edits] = st.dictionaries(_CELLS, st.sampled_from(_VALUES), max_size=6).map(
    # 007 is 7 where numbers stand.
    lambda edits: {at: 7 if value == "007" and at[1] != "Notes" else value for at, value in edits.items()}
)


@cache
def _data(edits: frozenset[tuple[tuple[int, str], object]]) -> bytes:
    book = openpyxl.Workbook()
    sheet = book.worksheets[0]
    sheet.title = "Locomotives"
    for row in ENGINES:
        sheet.append(row)
    for (number, heading), value in edits:
        cell = sheet.cell(number, ENGINES[0].index(heading) + 1)
        cell.value = value  # type: ignore[assignment]
        if isinstance(value, str):
            cell.data_type = "s"
    buffer = io.BytesIO()
    book.save(buffer)
    return buffer.getvalue()


def _version(name: str, edits: _Edits) -> Version:
    return version_of(opened_in_memory(_data(frozenset(edits.items())), name), name)


def _held(row: int, heading: str) -> object:
    return ENGINES[row - 1][ENGINES[0].index(heading)]


def _read(value: object) -> object:
    return value.date() if isinstance(value, datetime) else value


@settings(deadline=None, max_examples=40)
@given(st.lists(EDITS, min_size=1, max_size=3))
def test_each_cell_follows_from_what_the_copies_hold(copies: Sequence[_Edits]) -> None:
    base = _version("base", {})
    sides = [_version(f"c{number}", edits) for number, edits in enumerate(copies)]

    names = [one.name for one in sides]
    made = merged_workbook(merge(base, base, sides), base, names, frozenset(), "out.xlsx")
    book = openpyxl.load_workbook(io.BytesIO(made.data))
    lines = list(book["Merge"].iter_rows(values_only=True)) if "Merge" in book.sheetnames else [()]
    conflicts = {(line[2], line[3]): line for line in lines[1:] if line[0] == "conflict"}

    expected = set()
    for row in _ROWS:
        for heading in COLUMNS:
            was, label = _held(row, heading), str(ENGINES[row - 1][0])
            wanted = {edits[row, heading] for edits in copies if (row, heading) in edits} - {was}
            now = book["Locomotives"].cell(row, ENGINES[0].index(heading) + 1)
            assert _read(now.value) == (wanted.pop() if len(wanted) == 1 else was), (label, heading)
            assert now.data_type != "f"
            if len(wanted) > 1:
                expected.add((label, heading))
                shown = {"(blank)" if value is None else value for value in wanted}
                shown = {str(one) if isinstance(one, date) else one for one in shown}
                assert shown <= set(conflicts[label, heading]), (label, heading)
    assert set(conflicts) == expected


@settings(deadline=None, max_examples=40)
@given(EDITS)
def test_the_same_copy_twice_is_once_and_a_copy_alone_is_taken_whole(edits: _Edits) -> None:
    base, copy = _version("base", {}), _version("a", edits)

    once = merged_workbook(merge(base, base, [copy]), base, ["a"], frozenset(), "out.xlsx")
    twice = merge(base, base, [copy, _version("b", edits)])

    again = merge(base, version_of(opened_in_memory(once.data, "out.xlsx"), "master"), [copy])
    assert not twice.conflicts
    assert again.changes_nothing
