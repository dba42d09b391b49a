"""A sheet that is locked without a password: what another reader sees of it, and what stays as it was."""

from pathlib import Path

import pytest
from openpyxl import load_workbook
from openpyxl.worksheet.formula import ArrayFormula
from openpyxl.worksheet.worksheet import Worksheet

from rosterkit.errors import CannotRunError
from rosterkit.xlsx.changes import SheetLock, WorkbookChange
from rosterkit.xlsx.package.opening import opened
from rosterkit.xlsx.read.workbook import read_workbook
from rosterkit.xlsx.save.edit import edited
from tests.xlsx.clubs import TITLE, club, locomotives, usual_change
from tests.xlsx.edits import made as edit_made
from tests.xlsx.features import FEATURES, made
from tests.xlsx.packages import parts, patch, replaced

LOCK = WorkbookChange(locks=(SheetLock(title=TITLE, open=((3, 1, 4, 7), (40, 2, 41, 3))),))
OPEN = {(row, column) for row in (3, 4) for column in range(1, 8)} | {(40, 2), (40, 3), (41, 2), (41, 3)}
NOT_COMPARED = {"the Strict namespaces", "saved by Gnumeric", "no styles"}
"""What openpyxl does not open, or sees other usual formats in than are meant."""
EXTERNAL = {"saved by LibreOffice", "saved by Gnumeric"}


def look(sheet: Worksheet, row: int, column: int) -> tuple[object, ...]:
    """Return how openpyxl sees a cell, but for its protection."""
    cell = sheet.cell(row, column)
    looks = (cell.font, cell.fill, cell.border, cell.alignment)
    value = cell.value.text if isinstance(cell.value, ArrayFormula) else cell.value
    return value, cell.number_format, *map(repr, looks)


@pytest.mark.filterwarnings("ignore::UserWarning")
@pytest.mark.parametrize(
    "feature",
    [pytest.param(one, marks=[pytest.mark.external] if one in EXTERNAL else []) for one in FEATURES],
)
def test_only_the_open_cells_are_not_locked_and_all_look_as_before(tmp_path: Path, feature: str) -> None:
    before = made(tmp_path, feature)
    after = before.with_name(f"after{before.suffix}")
    after.write_bytes(edited(opened(before), LOCK).data)

    package = opened(after)
    read = [read_workbook(path, TITLE.__eq__).grids[TITLE].rows for path in (before, after)]
    assert read[0] == read[1]
    assert [sheet.is_locked for sheet in package.sheets if sheet.title == TITLE] == [True]
    if feature not in NOT_COMPARED:
        old, new = load_workbook(before)[TITLE], load_workbook(after)[TITLE]
        places = [(row, column) for row in range(1, 43) for column in range(1, 12)]
        assert new.protection.sheet
        assert not new.protection.password
        assert {at for at in places if not new.cell(*at).protection.locked} - OPEN == {
            at for at in places if not old.cell(*at).protection.locked
        } - OPEN
        assert {at for at in OPEN if new.cell(*at).protection.locked} == set()
        there = [at for at in places if at not in OPEN or old.cell(*at).has_style or old.cell(*at).value]
        assert [look(new, *at) for at in there] == [look(old, *at) for at in there]


def test_a_cell_that_is_not_there_keeps_the_format_of_its_column(tmp_path: Path) -> None:
    path = tmp_path / "club.xlsx"
    book = club(path)
    locomotives(book).set_column("B:B", 12, book.add_format({"num_format": "@"}))
    book.close()

    edit_made(path, LOCK)

    cell = load_workbook(path)[TITLE]["B40"]
    assert (cell.number_format, cell.protection.locked) == ("@", False)


def test_what_people_may_still_do_is_stated(tmp_path: Path) -> None:
    path = tmp_path / "club.xlsx"
    club(path).close()

    edit_made(path, LOCK)

    protection = load_workbook(path)[TITLE].protection
    allowed = {
        name
        for name in ("formatCells", "insertRows", "sort", "deleteColumns", "autoFilter")
        if not getattr(protection, name)
    }  # the format states what is forbidden
    assert allowed == {"formatCells", "insertRows", "sort", "autoFilter"}
    assert (protection.objects, protection.scenarios) == (False, False)


def test_a_second_lock_of_the_same_cells_changes_nothing(tmp_path: Path) -> None:
    path = tmp_path / "club.xlsx"
    club(path).close()
    edit_made(path, LOCK)

    assert not edit_made(path, LOCK).changed


def test_an_edit_is_not_kept_from_a_sheet_that_is_locked_by_us(tmp_path: Path) -> None:
    path = tmp_path / "club.xlsx"
    club(path).close()
    edit_made(path, LOCK)

    assert edit_made(path, usual_change()).changed
    assert b"<sheetProtection " in parts(path)["xl/worksheets/sheet1.xml"]


@pytest.mark.parametrize(
    ("part", "old", "new"),
    [
        pytest.param("xl/workbook.xml", "_rosterkit_locked", "_other", id="by a member"),
        pytest.param(
            "xl/worksheets/sheet1.xml", ' sheet="1"', ' sheet="1" password="CC1A"', id="with a password since"
        ),
    ],
)
def test_an_edit_is_kept_from_a_sheet_that_is_locked(tmp_path: Path, part: str, old: str, new: str) -> None:
    path = tmp_path / "club.xlsx"
    club(path).close()
    edit_made(path, LOCK)
    patch(path, {part: replaced(old, new)})

    with pytest.raises(CannotRunError, match="is protected"):
        edit_made(path, usual_change())
