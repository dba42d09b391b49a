"""A workbook is edited in memory as it would be in place, and with the same proof."""

from pathlib import Path

import pytest

from rosterkit.errors import CannotRunError
from rosterkit.xlsx.changes import CellChange, SheetChange, WorkbookChange
from rosterkit.xlsx.package.opening import opened, opened_in_memory
from rosterkit.xlsx.read.workbook import read_workbook
from rosterkit.xlsx.save import edit
from rosterkit.xlsx.save.in_memory import edited
from tests.xlsx.clubs import TITLE, club, usual_change

FORMULA = WorkbookChange(
    sheets=(SheetChange(title=TITLE, cells=(CellChange(row=2, column=7, value=4, formula="C2+1"),)),)
)


@pytest.fixture
def path(tmp_path: Path) -> Path:
    path = tmp_path / "club.xlsx"
    club(path).close()
    return path


@pytest.mark.parametrize(
    "change", [pytest.param(usual_change(), id="the usual change"), pytest.param(FORMULA, id="a formula")]
)
def test_it_is_the_file_that_an_edit_in_place_makes(path: Path, change: WorkbookChange) -> None:
    stood = path.read_bytes()

    made = edited(stood, "starter", change)

    assert made == edit.edited(opened(path), change).data
    assert path.read_bytes() == stood


def test_what_was_made_is_read_and_edited_again_without_a_disk(path: Path) -> None:
    made = edited(path.read_bytes(), "starter", FORMULA)

    grid = read_workbook(opened_in_memory(made, "starter"), lambda _: True).grids[TITLE]

    assert (grid.rows[1][6], grid.formulas[2, 7]) == (4, "C2+1")
    assert edited(made, "starter", FORMULA) == made


@pytest.mark.parametrize(
    ("data", "why"),
    [
        pytest.param(b"", "starter", id="nothing"),
        pytest.param(b"Owner;Loco", "starter", id="a text"),
        pytest.param(b"PK\x03\x04", "cannot read starter: .*damaged", id="the beginning of an archive"),
    ],
)
def test_what_is_no_workbook_is_refused_by_its_name(data: bytes, why: str) -> None:
    with pytest.raises(CannotRunError, match=why):
        edited(data, "starter", FORMULA)
