"""Formulas that stand once for a group of cells: kept, or written anew where all of them are ours."""

import re
from pathlib import Path

import pytest

from rosterkit.errors import CannotRunError
from rosterkit.xlsx.changes import CellChange, SheetChange, WorkbookChange
from rosterkit.xlsx.patch.shared_formulas import shared_formulas
from rosterkit.xlsx.patch.worksheet import sheet_text
from rosterkit.xlsx.read.workbook import read_workbook
from rosterkit.xlsx.save.edit import Edited
from tests.xlsx.clubs import TITLE, club
from tests.xlsx.edits import made
from tests.xlsx.packages import cells, parts, patch

SHEET = "xl/worksheets/sheet1.xml"
FIRST = '<f t="shared" ref="G2:G4" si="7">C2*2+$E$2</f>'
OTHER = '<f t="shared" si="7"/>'
GROUP = {
    2: f'<c r="G2">{FIRST}<v>134.5</v></c>',
    3: f'<c r="G3">{OTHER}<v>9550.5</v></c>',
    4: f'<c r="G4">{OTHER}<v>384.5</v></c>',
}
Wanted = tuple[str | None, float | None]
WANTED: dict[int, Wanted] = {2: ("C2*2+$E$2", 134.5), 3: ("C3*2+$E$2", 9550.5), 4: ("C4*2+$E$2", 384.5)}
"""The formulas of the group and their results, as they are."""


def _with_group(folder: Path, group: dict[int, str]) -> Path:
    path = folder / "club.xlsx"
    club(path).close()

    def put(data: bytes) -> bytes:
        for row, cell in group.items():
            data = re.sub(rb'(<row r="%d".*?)(</row>)' % row, rb"\1%b\2" % cell.encode(), data)
        return data

    patch(path, {SHEET: put})
    return path


@pytest.fixture
def path(tmp_path: Path) -> Path:
    return _with_group(tmp_path, GROUP)


def _write(path: Path, wanted: dict[int, Wanted]) -> Edited:
    changes = tuple(
        CellChange(row=row, column=7, formula=formula, value=value)
        for row, (formula, value) in wanted.items()
    )
    return made(path, WorkbookChange(sheets=(SheetChange(title=TITLE, cells=changes),)))


def _column(path: Path) -> dict[int, str]:
    found = cells(parts(path)[SHEET])
    shown = {row: re.sub(r' xmlns(:\w+)?="[^"]*"', "", found[f"G{row}"].decode()) for row in (2, 3, 4)}
    return {row: cell.replace("<v/>", "<v></v>") for row, cell in shown.items()}


def _plain(row: int, formula: str, value: float) -> str:
    return f'<c r="G{row}"><f>{formula}</f><v>{value:g}</v></c>'


def _first(row: int, formula: str, value: float) -> str:
    return f'<c r="G{row}"><f t="shared" ref="G{row}:G4" si="0">{formula}</f><v>{value:g}</v></c>'


def _other(row: int, value: float) -> str:
    return f'<c r="G{row}"><f t="shared" si="0"/><v>{value:g}</v></c>'


ANEW = {3: _first(3, "C3*2+$E$2", 9550.5), 4: _other(4, 384.5)}
"""The others of the group among themselves."""

CHANGED: dict[str, tuple[dict[int, Wanted], dict[int, str]]] = {
    "the first gets another formula, the others theirs": (
        WANTED | {2: ("C2+1", 4)},
        {2: _plain(2, "C2+1", 4)} | ANEW,
    ),
    "the first gets a value": (WANTED | {2: (None, 5)}, {2: '<c r="G2"><v>5</v></c>'} | ANEW),
    "the first is emptied": (WANTED | {2: (None, None)}, {2: '<c r="G2"/>'} | ANEW),
    "the first gets another result": (
        WANTED | {2: ("C2*2+$E$2", 7)},
        GROUP | {2: f'<c r="G2">{FIRST}<v>7</v></c>'},
    ),
    "the first alone is ours, and gets another result": (
        {2: ("C2*2+$E$2", 7)},
        GROUP | {2: f'<c r="G2">{FIRST}<v>7</v></c>'},
    ),
    "all get another": (
        {row: (f"C{row}", row) for row in (2, 3, 4)},
        {2: _first(2, "C2", 2), 3: _other(3, 3), 4: _other(4, 4)},
    ),
    "all get others": (
        {2: ("C2", 2), 3: ("C3+1", 3), 4: ("C4+2", 4)},
        {2: _plain(2, "C2", 2), 3: _plain(3, "C3+1", 3), 4: _plain(4, "C4+2", 4)},
    ),
    "first and last get another, the second a value": (
        {2: ("C2", 2), 3: (None, 3), 4: ("C4", 4)},
        {2: _first(2, "C2", 2), 3: '<c r="G3"><v>3</v></c>', 4: _other(4, 4)},
    ),
    "all get values": (
        {row: (None, row) for row in (2, 3, 4)},
        {row: f'<c r="G{row}"><v>{row}</v></c>' for row in (2, 3, 4)},
    ),
    "the second gets another": (WANTED | {3: ("C3", 1)}, GROUP | {3: _plain(3, "C3", 1)}),
    "the last gets another result": (
        WANTED | {4: ("C4*2+$E$2", 1)},
        GROUP | {4: f'<c r="G4">{OTHER}<v>1</v></c>'},
    ),
    "the second alone is ours, and gets another": ({3: ("C3", 1)}, GROUP | {3: _plain(3, "C3", 1)}),
}


@pytest.mark.parametrize(("wanted", "written"), CHANGED.values(), ids=CHANGED.keys())
def test_cells_of_a_group_that_become_others_keep_or_leave_it(
    path: Path, wanted: dict[int, Wanted], written: dict[int, str]
) -> None:
    assert _write(path, wanted).changed

    assert _column(path) == written
    formulas = read_workbook(path, lambda _: True).grids[TITLE].formulas
    assert {row: formulas.get((row, 7)) for row in wanted} == {row: one[0] for row, one in wanted.items()}
    assert not _write(path, wanted).changed


def test_the_first_is_refused_where_another_is_not_ours(path: Path) -> None:
    before = path.read_bytes()

    with pytest.raises(CannotRunError, match=r"the cell G2 .*other cells are derived from"):
        _write(path, {2: ("C2", 3), 3: WANTED[3]})

    assert path.read_bytes() == before


ODD = {
    "an other stands before the first": {
        2: GROUP[3].replace("G3", "G2"),
        3: f'<c r="G3">{FIRST}<v>1</v></c>',
        4: GROUP[4],
    },
    "the cells do not say where they stand": {
        2: f'<c r="F2"/><c>{FIRST}<v>134.5</v></c>',
        3: f'<c r="F3"/><c>{OTHER}<v>9550.5</v></c>',
        4: GROUP[4],
    },
    "an other has a formula of its own": GROUP | {3: '<c r="G3"><f t="shared" si="7">C3</f><v>3</v></c>'},
    "the quotes are others, and the element has an end": GROUP
    | {3: "<c r='G3'><f ca='1' t='shared' si='7'></f><v>3</v></c>"},
}


@pytest.mark.parametrize("group", ODD.values(), ids=ODD.keys())
def test_an_odd_group_is_written_as_well(tmp_path: Path, group: dict[int, str]) -> None:
    path = _with_group(tmp_path, group)

    assert _write(path, {row: (f"C{row}", row) for row in (2, 3, 4)}).changed

    assert _column(path) == {2: _first(2, "C2", 2), 3: _other(3, 3), 4: _other(4, 4)}


def test_a_number_that_two_groups_have_says_nothing_certain(tmp_path: Path) -> None:
    path = _with_group(tmp_path, GROUP | {3: f'<c r="G3">{FIRST}<v>9550.5</v></c>'})

    with pytest.raises(CannotRunError, match="other cells are derived from"):
        _write(path, {row: (f"C{row}", row) for row in (2, 3, 4)})

    assert _write(path, {4: WANTED[4]}).changed


def test_the_groups_of_a_sheet_are_found(path: Path) -> None:
    groups = shared_formulas(sheet_text(parts(path)[SHEET]))

    assert list(groups) == ["7"]
    assert (groups["7"].firsts, groups["7"].others) == ([(2, 7)], {(3, 7), (4, 7)})
    assert [groups["7"].text_at((row, 7)) for row in (2, 3, 5)] == [None, "C3*2+$E$2", None]
