"""Whole workbooks: copies saved by spreadsheet programs are told as what was edited in them."""

from collections.abc import Callable, Sequence
from datetime import date, datetime, time
from pathlib import Path

import openpyxl
import pytest
from openpyxl.worksheet.worksheet import Worksheet

from rosterkit.versions.changes import changes
from rosterkit.versions.meanings import meaning_of
from rosterkit.versions.merged import Merged
from rosterkit.versions.three_way import merge
from rosterkit.versions.version import Version, version_of
from rosterkit.xlsx.package.opening import opened
from tests.samples.__main__ import FOLDER
from tests.xlsx.read.test_programs import Program, every_program

_OWN: dict[str, Sequence[str | float | date | time]] = {
    "Bought": (date(2020, 1, 2), datetime(2021, 3, 4, 20, 15, 30), time(7, 5)),
    "Price": (1 / 3, 0.1 + 0.2, 1234567.891234567, 1e-7, 1e22, 99.99),
    "Runs": (True, False),
    "Story": ("two\nlines", " blank before", "_x000D_", "über <&>"),
    "Shelf": ("0012", "1.10"),
    "Name": ('=A{row}&" of "&$B{row}', "=SUM(I$2:I{row})", '=IF(A{row}="","",1.50)'),
}
"""Headings of members' own columns, with what stands below them in turn."""
_ROWS = 12
Edit = Callable[[Worksheet], None]


def _at(path: Path) -> Version:
    return version_of(opened(path), path.stem)


@pytest.fixture(scope="module")
def base(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """Make the demo club with columns and a sheet of members' own."""
    book = openpyxl.load_workbook(FOLDER / "demo_club.xlsx")
    page = book["Locomotives"]
    for place, (heading, contents) in enumerate(_OWN.items(), page.max_column + 1):
        page.cell(1, place, heading)
        for row in range(2, 2 + _ROWS):
            content = contents[row % len(contents)]
            text = content.format(row=row) if isinstance(content, str) else content
            page.cell(row, place, text).number_format = "@" if heading == "Shelf" else "General"
            if isinstance(content, date | time):
                page.cell(row, place).number_format = "yyyy-mm-dd hh:mm:ss"
    shed = book.create_sheet("Shed plan")
    for cells in (("Day", "What", "Sum"), (date(2026, 5, 1), "track", "=COUNTA(A1:A9)"), (None, 3.5, True)):
        shed.append(cells)
    path = tmp_path_factory.mktemp("base") / "base.xlsx"
    book.save(path)
    return path


@every_program
def test_a_copy_that_a_program_saved_and_nobody_changed_changes_nothing(
    base: Path, tmp_path: Path, program: Program
) -> None:
    copy = tmp_path / "copy.xlsx"
    copy.write_bytes(base.read_bytes())

    found = changes(_at(base), _at(program(copy)))

    assert (found.sheets, found.absent, found.new_sheets) == ({}, (), {})


def _column(page: Worksheet, heading: str) -> int:
    return next(int(cell.column or 0) for cell in page[1] if cell.value == heading)


def _change(page: Worksheet) -> None:
    page.cell(3, _column(page, "Address"), 4711)
    page.cell(4, _column(page, "Price"), 0.7)
    page.cell(5, _column(page, "Bought"), date(2026, 2, 3)).number_format = "yyyy-mm-dd"
    page.cell(6, _column(page, "Story"), "another\nstory")
    _add(page)


def _add(page: Worksheet) -> None:
    last = max(row for row in range(1, page.max_row + 1) if page.cell(row, _column(page, "Loco")).value)
    page.cell(last + 1, _column(page, "Loco"), "New one")
    page.cell(last + 1, _column(page, "Address"), 4712)
    page.cell(1, page.max_column + 1, "Colour")
    page.cell(2, page.max_column, "blue")


def _sort(page: Worksheet) -> None:
    """Remove a row, put those below the ones with formulas into another order, and change one."""
    first = 2 + _ROWS
    page.delete_rows(first + 1)
    rows = [[cell.value for cell in row] for row in page.iter_rows(min_row=first)]
    for place, cells in enumerate(reversed(rows), first):
        for column, value in enumerate(cells, 1):
            page.cell(place, column).value = value
    page.cell(first, _column(page, "Notes"), "stands elsewhere now")


@pytest.mark.parametrize("edit", [_change, _sort])
@every_program
def test_what_was_edited_is_told_alike_whichever_program_saved_it(
    base: Path, tmp_path: Path, program: Program, edit: Edit
) -> None:
    book = openpyxl.load_workbook(base)
    edit(book["Locomotives"])
    copy = tmp_path / "copy.xlsx"
    book.save(copy)
    sent = _at(base)

    plain, saved = merge(sent, sent, [_at(copy)]), merge(sent, sent, [_at(program(copy))])

    assert _told(plain) == _told(saved)
    assert len(plain.taken) + len(plain.added) + len(plain.removed) == (6 if edit is _change else 2)
    assert (saved.conflicts, saved.not_merged) == ((), ())


def _told(found: Merged) -> list[object]:
    taken = [(one.row, one.column, meaning_of(one.new.value)) for one in found.taken]
    rows = [sorted((name, meaning_of(cell.value)) for name, cell in one.cells.items()) for one in found.added]
    return [taken, [repr(row) for row in rows], [one.row for one in found.removed], found.new_columns]
