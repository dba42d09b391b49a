"""A workbook of our own form comes back as the roster that it is, and so does the CSV of each sheet."""

import csv
from collections.abc import Iterator, Mapping
from datetime import date, datetime
from functools import cache
from pathlib import Path
from warnings import catch_warnings

import openpyxl
import pytest

from rosterkit.roster.load import roster_at
from rosterkit.roster.model import Roster
from tests.command_line import run
from tests.lists.pipeline import adopted_from

SAMPLES = Path(__file__).parents[2] / "sample_workbooks"
Rows = list[dict[str, object]]

_SAMPLES = [*sorted(SAMPLES.glob("*.xlsx")), *sorted((SAMPLES / "meet").glob("*.xlsx"))]
ORDINARY = [
    pytest.param(path, id=path.stem, marks=[] if path.stem in {"clean", "demo_club"} else pytest.mark.slow)
    for path in _SAMPLES
]
FAULTY = sorted((SAMPLES / "faulty").glob("*.xlsx"))
_MORE = {
    "cells-merged": {"JV 2102": "M01"},
    "engines-elsewhere": {"SM 7021": "M02", "SM 7022": "M02"},
}
"""Owners of engines that a list has and a roster has not: below a merged cell, and on another sheet."""
SHEETS = (
    "Locomotives",
    "Consists",
    "Accessories",
    "Extra values",
    "Speed tables",
    "Decoder types",
    "Address ranges",
)


def _rows(roster: Roster, title: str) -> Rows:
    """What members typed into a sheet, row by row; not blank cells, nor what the schema refuses."""
    table = roster.book.tables.get(title)
    if table is None:
        return []
    refused = {(fault.column.name, fault.index) for fault in roster.faults_in(title)}
    typed = [
        column.name for column in table.sheet.columns if column.name in table.values and not column.computed
    ]
    rows = range(len(next(iter(table.values.values()), ())))
    return [
        {
            name: table.values[name][row]
            for name in typed
            if table.values[name][row] is not None and (name, row) not in refused
        }
        for row in rows
    ]


def _adopted(source: Path, folder: Path) -> Roster:
    out = folder / "adopted.xlsx"
    ran = run("adopt", source, "-o", out)
    assert ran.status in {0, 1}, ran.err
    return roster_at(out)


def _differences(before: Roster, after: Roster) -> Iterator[tuple[str, Rows, Rows]]:
    for title in before.book.tables:
        rows, now = _rows(before, title), _rows(after, title)
        if title == "Decoder types":  # labels that engines name and no row has are added
            now = [row for row in now if row in rows]
        if rows != now:
            yield title, [row for row in rows if row not in now], [row for row in now if row not in rows]


@pytest.mark.parametrize("sample", ORDINARY)
def test_a_workbook_of_ours_comes_back_as_the_same_roster(sample: Path, tmp_path: Path) -> None:
    assert list(_differences(roster_at(sample), _adopted(sample, tmp_path))) == []


@pytest.mark.slow
@pytest.mark.parametrize(
    "sample", [path for path in FAULTY if path.stem not in _MORE], ids=lambda path: path.stem
)
def test_a_faulty_workbook_of_ours_loses_nothing_either(sample: Path) -> None:
    before = roster_at(sample)
    adopted = adopted_from(sample)

    for title in before.book.tables:
        wanted = _rows(before, title)
        rows = [dict(row.values) for row in adopted.rows.get(title, ())]
        assert [row for row in rows if title != "Decoder types" or row in wanted] == wanted


@pytest.mark.slow
@pytest.mark.parametrize(("name", "more"), _MORE.items(), ids=list(_MORE))
def test_what_check_only_tells_of_is_taken_from_a_list(
    name: str, more: Mapping[str, str], tmp_path: Path
) -> None:
    before = {
        row["loco"]: row for row in _rows(roster_at(SAMPLES / "faulty" / f"{name}.xlsx"), "Locomotives")
    }

    after = _rows(_adopted(SAMPLES / "faulty" / f"{name}.xlsx", tmp_path), "Locomotives")

    added = {row["loco"]: row["owner"] for row in after if before.get(row["loco"]) != row}
    assert added == more
    assert all(before.get(row["loco"], {}).items() <= row.items() for row in after)
    assert set(before) <= {row["loco"] for row in after}


def _text(value: object) -> str:
    """A value as a spreadsheet program writes it into a CSV file."""
    if isinstance(value, datetime):
        return (
            value.date().isoformat()
            if value == datetime.combine(value.date(), datetime.min.time())
            else str(value)
        )
    if isinstance(value, date):
        return value.isoformat()
    if isinstance(value, float) and value.is_integer():
        return str(int(value))
    return "" if value is None else str(value)


@cache
def _book(sample: Path) -> openpyxl.Workbook:
    with catch_warnings(action="ignore"):  # one of the programs writes no default style
        return openpyxl.load_workbook(sample, data_only=True)


@cache
def _roster(sample: Path) -> Roster:
    return roster_at(sample)


def _exported(sample: Path, title: str, folder: Path) -> Path | None:
    """Write a sheet of a workbook as CSV; None if it has no such sheet."""
    book = _book(sample)
    if title not in book.sheetnames:
        return None
    path = folder / f"{title}.csv"
    with path.open("w", encoding="utf-8", newline="") as stream:
        csv.writer(stream).writerows(
            [_text(cell) for cell in row] for row in book[title].iter_rows(values_only=True)
        )
    return path


@pytest.mark.parametrize("sample", ORDINARY)
def test_the_engines_come_back_from_the_csv_of_their_sheet(sample: Path, tmp_path: Path) -> None:
    source = _exported(sample, "Locomotives", tmp_path)
    assert source is not None

    after = _adopted(source, tmp_path)

    assert _rows(after, "Locomotives") == _rows(_roster(sample), "Locomotives")


@pytest.mark.parametrize("title", SHEETS)
@pytest.mark.parametrize("sample", ORDINARY)
def test_each_sheet_comes_back_from_its_csv(sample: Path, title: str, tmp_path: Path) -> None:
    before = _roster(sample)
    if title not in before.book.tables or not (source := _exported(sample, title, tmp_path)):
        pytest.skip("no such sheet in it")
    adopted = adopted_from(source)

    rows = [dict(row.values) for row in adopted.rows.get(title, ())]
    wanted = _rows(before, title)
    assert [row for row in rows if title != "Decoder types" or row in wanted] == wanted
