"""What copies come to, written into the master: the right cells get it, and nothing else changes."""

from collections.abc import Callable, Sequence
from datetime import date, datetime, time, timedelta
from pathlib import Path

import openpyxl
import pytest
from openpyxl.styles import Font
from openpyxl.workbook.workbook import Workbook
from openpyxl.worksheet.table import Table

from rosterkit.commands.new.command import make_workbook
from rosterkit.versions.merged import (
    AddedRow,
    Conflict,
    ConflictKind,
    Merged,
    MergedRow,
    RemovedRow,
    SideValue,
    TakenCell,
)
from rosterkit.versions.version import Version, version_of
from rosterkit.writeback.merge_edit import MergeEdit, merge_edit
from rosterkit.writeback.merge_sheets import missing_sheets
from rosterkit.xlsx.changes import WorkbookChange
from rosterkit.xlsx.grid import CellError, Raw, ScientificNumber
from rosterkit.xlsx.package.opening import opened, opened_in_memory
from rosterkit.xlsx.save.edit import edited

ENGINES = (
    ("Loco", "Owner", "Address", "Checked on", "Built", "Shelf"),
    ("A", "M01", 12, None, None, 1),
    ("B", "M02", 13, None, "2019", 2),
)


def _side(value: Raw, *sources: str) -> SideValue:
    return SideValue(value=value, sources=sources or ("a",), place="A1")


def _row(row: int | None, sheet: str = "Locomotives", added: int | None = None) -> MergedRow:
    return MergedRow(sheet=sheet, row=row, added=added, label="it")


def _taken(row: int, column: str, value: Raw, sheet: str = "Locomotives") -> TakenCell:
    return TakenCell(row=_row(row, sheet), column=column, old="", new=_side(value))


def _added(index: int, sheet: str = "Locomotives", **cells: Raw) -> AddedRow:
    named = {name.replace("_", " "): _side(value) for name, value in cells.items()}
    return AddedRow(row=_row(None, sheet, index), cells=named, sources=("a",))


def _nothing(_: Workbook) -> None:
    """Leave the workbook as it is."""


def _master(tmp_path: Path, lay_out: Callable[[Workbook], object] = _nothing) -> Version:
    book = openpyxl.Workbook()
    sheet = book.worksheets[0]
    sheet.title = "Locomotives"
    for row in ENGINES:
        sheet.append(row)
    lay_out(book)
    path = tmp_path / "master.xlsx"
    book.save(path)
    return version_of(opened(path), "base")


def _edit(merged: Merged, master: Version) -> tuple[MergeEdit, Version]:
    made = missing_sheets(merged, master.book, master.grids)
    if made:
        data = edited(master.package, WorkbookChange(own_sheets=made)).data
        master = version_of(opened_in_memory(data, "made.xlsx"), master.name)
    edit = merge_edit(merged, master.book, master.grids, master.name, date1904=master.package.date1904)
    data = edited(master.package, edit.change).data
    return edit, version_of(opened_in_memory(data, "out.xlsx"), "out")


def _cells(version: Version, sheet: str = "Locomotives") -> list[list[Raw]]:
    return version.grids[sheet].rows


@pytest.mark.parametrize(
    "value",
    [
        pytest.param("007", id="a text of digits"),
        pytest.param("=1+1", id="a text that begins like a formula"),
        pytest.param("2026-05-31", id="a text that looks like a date"),
        pytest.param(44.0, id="a number"),
        pytest.param(0.1, id="a fraction"),
        pytest.param(True, id="a truth value"),
        pytest.param(date(2026, 5, 31), id="a date"),
        pytest.param(date(1900, 1, 31), id="a date before the day that never was"),
        pytest.param(datetime(2026, 5, 31, 20, 15, 30), id="a date with its time"),
        pytest.param(time(20, 15, 30), id="a time of day"),
        pytest.param(timedelta(hours=30, minutes=5), id="a length of time"),
        pytest.param(ScientificNumber(400.0), id="a number in scientific notation"),
    ],
)
@pytest.mark.parametrize("number_format", ["General", "yyyy-mm-dd", "@", "0.00", "[h]:mm"])
def test_a_value_stays_what_it_is_in_a_cell_of_any_format(
    tmp_path: Path, value: Raw, number_format: str
) -> None:
    def lay_out(book: Workbook) -> None:
        book["Locomotives"]["D2"].value = 5
        book["Locomotives"]["D2"].number_format = number_format
        book["Locomotives"].column_dimensions["D"].number_format = number_format

    merged = Merged(taken=(_taken(2, "Checked on", value), _taken(3, "Checked on", value)))
    _, out = _edit(merged, _master(tmp_path, lay_out))

    assert [row[3] for row in _cells(out)[1:3]] == [value, value]
    assert [type(row[3]) for row in _cells(out)[1:3]] == [type(value)] * 2


def test_a_date_is_one_in_a_workbook_that_counts_from_1904(tmp_path: Path) -> None:
    def lay_out(book: Workbook) -> None:
        book.epoch = datetime(1904, 1, 1)

    merged = Merged(taken=(_taken(2, "Checked on", date(2026, 5, 31)),))
    _, out = _edit(merged, _master(tmp_path, lay_out))

    assert _cells(out)[1][3] == date(2026, 5, 31)


def test_a_cell_keeps_its_own_format_but_for_the_number_format(tmp_path: Path) -> None:
    def lay_out(book: Workbook) -> None:
        cell = book["Locomotives"]["D2"]
        cell.font = Font(bold=True, color="FFCC0000")
        cell.value = "soon"

    _, out = _edit(Merged(taken=(_taken(2, "Checked on", date(2026, 5, 31)),)), _master(tmp_path, lay_out))
    (tmp_path / "out.xlsx").write_bytes(out.package.raw)
    cell = openpyxl.load_workbook(tmp_path / "out.xlsx")["Locomotives"]["D2"]

    assert (cell.value, cell.number_format) == (datetime(2026, 5, 31), "yyyy-mm-dd")
    assert (cell.font.bold, cell.font.color.rgb) == (True, "FFCC0000")


def _formulas_filled_down(book: Workbook) -> None:
    for row in range(2, 8):
        book["Locomotives"].cell(row, 6).value = f"=C{row}*2"


def _total_below(book: Workbook) -> None:
    book["Locomotives"]["F4"] = "=SUM(F2:F3)"


def _remark_below(book: Workbook) -> None:
    book["Locomotives"]["E4"] = "all seen in spring"


def _merged_below(book: Workbook) -> None:
    book["Locomotives"].merge_cells("A4:B5")


def _gap(book: Workbook) -> None:
    book["Locomotives"]["A7"] = "Z"


@pytest.mark.parametrize(
    ("lay_out", "rows"),
    [
        pytest.param(_nothing, [4, 5], id="directly below the list"),
        pytest.param(_formulas_filled_down, [4, 5], id="where formulas are filled down from the list"),
        pytest.param(_total_below, [5, 6], id="a total is passed over"),
        pytest.param(_remark_below, [5, 6], id="a remark in an own column is passed over"),
        pytest.param(_merged_below, [6, 7], id="merged cells are passed over"),
        pytest.param(_gap, [8, 9], id="not into a gap of the list"),
    ],
)
def test_added_rows_go_below_the_list(
    tmp_path: Path, lay_out: Callable[[Workbook], object], rows: Sequence[int]
) -> None:
    merged = Merged(added=(_added(0, Loco="C", Address=14.0), _added(1, Loco="D", Built="2020")))
    edit, out = _edit(merged, _master(tmp_path, lay_out))

    assert [edit.cell(one.row, "Loco") for one in merged.added] == [("Locomotives", row, 1) for row in rows]
    assert [_cells(out)[row - 1][0] for row in rows] == ["C", "D"]
    assert out.book.tables["Locomotives"].rows[-2:] == rows


def test_an_added_row_goes_into_the_first_row_of_live_formulas_of_a_new_workbook(tmp_path: Path) -> None:
    make_workbook(tmp_path / "club.xlsx", sample=True, force=False)
    master = version_of(opened(tmp_path / "club.xlsx"), "base")
    formulas = master.grids["Locomotives"].formulas
    first = master.book.tables["Locomotives"].rows[-1] + 1

    _, out = _edit(Merged(added=(_added(0, Loco="C", Address=1414.0),)), master)

    assert _cells(out)[first - 1][0] == "C"
    assert first in {row for row, _ in formulas}
    assert out.grids["Locomotives"].formulas == formulas


def test_no_formula_is_overwritten_and_what_was_to_stand_there_is_listed(tmp_path: Path) -> None:
    merged = Merged(added=(_added(0, Loco="C", Shelf=9.0),), taken=(_taken(2, "Shelf", 8.0),))
    edit, out = _edit(merged, _master(tmp_path, _formulas_filled_down))

    assert [(one.source, one.value) for one in edit.unwritten] == [("a", 8.0), ("a", 9.0)]
    assert all("a formula stands there" in one.reason for one in edit.unwritten)
    assert out.grids["Locomotives"].formulas[4, 6] == "C4*2"
    assert out.grids["Locomotives"].formulas[2, 6] == "C2*2"


def test_what_is_no_value_is_listed(tmp_path: Path) -> None:
    edit, out = _edit(Merged(taken=(_taken(2, "Built", CellError("#REF!")),)), _master(tmp_path))

    assert [(one.cell, "#REF!" in one.reason) for one in edit.unwritten] == [("A1", True)]
    assert _cells(out)[1] == ["A", "M01", 12, "", "", 1]


def test_a_removed_row_is_emptied_where_it_stands(tmp_path: Path) -> None:
    def lay_out(book: Workbook) -> None:
        book["Locomotives"]["F2"] = "=1+1"
        book["Locomotives"]["H2"] = "no heading of ours or theirs"

    merged = Merged(removed=(RemovedRow(row=_row(2), sources=("a",)),))
    _, out = _edit(merged, _master(tmp_path, lay_out))

    assert _cells(out)[1][:5] == ["", "", "", "", ""]
    assert out.grids["Locomotives"].formulas == {(2, 6): "1+1"}
    assert _cells(out)[1][7] == "no heading of ours or theirs"
    assert _cells(out)[2][0] == "B"


@pytest.mark.parametrize(
    ("standing", "column"),
    [
        pytest.param(_nothing, 7, id="beside the last heading"),
        pytest.param(
            lambda book: book["Locomotives"].cell(3, 7, "mine"), 8, id="where nothing stands in the column"
        ),
    ],
)
def test_a_new_column_stands_at_the_right_end(
    tmp_path: Path, standing: Callable[[Workbook], object], column: int
) -> None:
    merged = Merged(
        taken=(_taken(3, "Works number", "0815"),), new_columns=(("Locomotives", "Works number"),)
    )
    edit, out = _edit(merged, _master(tmp_path, standing))

    assert edit.cell(_row(3), "Works number") == ("Locomotives", 3, column)
    assert _cells(out)[0][column - 1] == "Works number"
    assert _cells(out)[2][column - 1] == "0815"


def test_a_column_of_ours_that_the_master_lacks_gets_our_heading(tmp_path: Path) -> None:
    _, out = _edit(Merged(taken=(_taken(2, "Railway", "Elm"),)), _master(tmp_path))

    assert out.roster.engines[0].railway == "Elm"


def test_of_two_own_columns_with_one_heading_the_second_is_meant_by_its_letters(tmp_path: Path) -> None:
    def lay_out(book: Workbook) -> None:
        book["Locomotives"]["G1"] = "shelf"

    _, out = _edit(Merged(taken=(_taken(2, "shelf (G)", 9.0),)), _master(tmp_path, lay_out))

    assert _cells(out)[1][5:] == [1, 9]


@pytest.mark.parametrize(
    ("side", "expected"),
    [
        pytest.param("base", 11, id="the base's value is written over that of the master that moved on"),
        pytest.param("b", 12, id="a cell that only copies changed is left as the master spells it"),
    ],
)
def test_a_cell_in_conflict_holds_what_the_base_held(tmp_path: Path, side: str, expected: int) -> None:
    sides = (_side(12.0, side), _side(77.0, "a"))
    conflict = Conflict(kind=ConflictKind.CELL, row=_row(2), column="Address", base=11.0, sides=sides)

    _, out = _edit(Merged(conflicts=(conflict,)), _master(tmp_path))

    assert _cells(out)[1][2] == expected


def test_a_conflict_in_a_new_column_makes_the_column(tmp_path: Path) -> None:
    sides = (_side("red"), _side("blue", "b"))
    conflict = Conflict(kind=ConflictKind.CELL, row=_row(2), column="Livery", base="", sides=sides)

    _, out = _edit(Merged(conflicts=(conflict,)), _master(tmp_path))

    assert _cells(out)[0][6] == "Livery"


def test_a_sheet_of_ours_that_the_master_lacks_is_made(tmp_path: Path) -> None:
    first = _added(0, "Consists", Consist="Hill", Loco="A", Position=1.0, Photo="yes")
    merged = Merged(added=(first, _added(1, "Consists", Consist="Hill", Loco="B")))
    edit, out = _edit(merged, _master(tmp_path))

    assert [(row.consist, row.loco, row.position) for row in out.roster.consist_members] == [
        ("Hill", "A", 1),
        ("Hill", "B", None),
    ]
    assert edit.cell(merged.added[1].row, "Loco")[:2] == ("Consists", 3)
    assert _cells(out, "Consists")[1][-1] == "yes"


def test_a_setting_goes_into_its_row_or_into_a_new_one(tmp_path: Path) -> None:
    def lay_out(book: Workbook) -> None:
        sheet = book.create_sheet("Layout")
        sheet.append(("Setting", "Value"))
        sheet.append(("Scale", 87))

    merged = Merged(taken=(_taken(2, "Scale", 160.0, "Layout"), _taken(0, "Event", "Spring", "Layout")))
    _, out = _edit(merged, _master(tmp_path, lay_out))

    assert _cells(out, "Layout") == [["Setting", "Value"], ["Scale", 160], ["Event", "Spring"]]


def test_the_sheet_layout_is_made_with_all_its_settings(tmp_path: Path) -> None:
    _, out = _edit(Merged(taken=(_taken(0, "Event", "Spring", "Layout"),)), _master(tmp_path))

    assert out.roster.layout.event == "Spring"


def test_cells_of_an_own_sheet_go_by_letters(tmp_path: Path) -> None:
    def lay_out(book: Workbook) -> None:
        book.create_sheet("Mine")["B2"] = "old"

    merged = Merged(taken=(_taken(2, "B", "new", "Mine"), _taken(5, "C", date(2026, 5, 1), "Mine")))
    _, out = _edit(merged, _master(tmp_path, lay_out))

    assert _cells(out, "Mine")[1][1] == "new"
    assert _cells(out, "Mine")[4][2] == date(2026, 5, 1)


def test_a_table_over_the_list_takes_added_rows_in(tmp_path: Path) -> None:
    def lay_out(book: Workbook) -> None:
        book["Locomotives"].add_table(Table(displayName="Engines", ref="A1:F3"))

    _, out = _edit(Merged(added=(_added(0, Loco="C"),)), _master(tmp_path, lay_out))
    (tmp_path / "out.xlsx").write_bytes(out.package.raw)

    assert openpyxl.load_workbook(tmp_path / "out.xlsx")["Locomotives"].tables["Engines"].ref == "A1:F4"
