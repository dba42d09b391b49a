"""Computed columns go beyond what a member has put beside the engines without typing a value there."""

from collections.abc import Callable
from pathlib import Path
from typing import Any

import openpyxl
import pytest
import xlsxwriter

from rosterkit.xlsx.grid import MergedRange
from rosterkit.xlsx.read.workbook import read_workbook
from tests.command_line import run
from tests.xlsx.features_drawn import png
from tests.xlsx.packages import patch, replaced

Put = Callable[[Any, Any], object]


def _sparklines(_: object, sheet: Any) -> None:
    for row in (1, 2):
        sheet.add_sparkline(row, 2, {"range": f"Locomotives!A{row + 1}:B{row + 1}"})


def _photo(_: object, sheet: Any) -> None:
    # 120 pixels are two columns of 64, and 30 are two rows of 20.
    sheet.insert_image("D2", "engine.png", {"image_data": png(120, 30), "object_position": 2})


def _chart(book: Any, sheet: Any) -> None:
    chart = book.add_chart({"type": "column"})
    chart.add_series({"values": "=Locomotives!$B$2:$B$3"})
    sheet.insert_chart("E1", chart)


def _below(_: object, sheet: Any) -> None:
    sheet.insert_image("C9", "engine.png", {"image_data": png(120, 30)})


def _to_the_end(_: object, sheet: Any) -> None:
    sheet.insert_image("XFC2", "engine.png", {"image_data": png(400, 30)})


def _made(path: Path, put: Put) -> Path:
    book = xlsxwriter.Workbook(str(path))
    sheet = book.add_worksheet("Locomotives")
    for row, cells in enumerate((("Loco", "Address"), ("A", 12), ("B", 1000))):
        sheet.write_row(row, 0, cells)
    put(book, sheet)
    book.close()
    return path


@pytest.mark.filterwarnings("ignore:Sparkline:UserWarning:openpyxl")
@pytest.mark.parametrize(
    ("put", "areas", "first"),
    [
        pytest.param(_sparklines, [(3, 3, 3, 3), (2, 3, 2, 3)], "D", id="sparklines in the next column"),
        pytest.param(_photo, [(2, 4, 3, 5)], "F", id="a photo with too few free columns before it"),
        pytest.param(_chart, [(1, 5, 15, 12)], "M", id="a chart beside the engines"),
        pytest.param(_below, [(9, 3, 10, 4)], "C", id="a photo below the engines is not in the way"),
        pytest.param(_to_the_end, [], "C", id="a photo at the end of the sheet is not in the way"),
    ],
)
def test_columns_are_added_beyond(
    tmp_path: Path, put: Put, areas: list[tuple[int, int, int, int]], first: str
) -> None:
    path = _made(tmp_path / "club.xlsx", put)

    found = read_workbook(path, lambda _: True).grids["Locomotives"].drawing_areas
    ran = run("fill", path)

    assert [(one.top, one.left, one.bottom, one.right) for one in found] == areas
    assert ran.status == 0
    sheet = openpyxl.load_workbook(path, keep_links=False, data_only=True)["Locomotives"]
    assert (sheet[f"{first}1"].value, sheet[f"{first}2"].value) == ("Answers", 12)
    assert {cell.value for cell in sheet[1][2 : sheet[f"{first}1"].column - 1]} <= {None}


def test_filling_again_changes_nothing(tmp_path: Path) -> None:
    path = _made(tmp_path / "club.xlsx", _sparklines)
    run("fill", path)
    before = path.read_bytes()

    run("fill", path)

    assert path.read_bytes() == before


def test_a_drawing_of_a_fixed_size_is_measured_in_usual_cells(tmp_path: Path) -> None:
    path = _made(
        tmp_path / "club.xlsx", lambda _, sheet: sheet.insert_image("D2", "a", {"image_data": png()})
    )
    anchor = (
        "<xdr:oneCellAnchor><xdr:from><xdr:col>3</xdr:col><xdr:colOff>0</xdr:colOff><xdr:row>1</xdr:row>"
        '<xdr:rowOff>0</xdr:rowOff></xdr:from><xdr:ext cx="1300000" cy="100"/></xdr:oneCellAnchor></xdr:wsDr>'
    )
    patch(path, {"xl/drawings/drawing1.xml": replaced("</xdr:wsDr>", anchor)}, {})

    found = read_workbook(path, lambda _: True).grids["Locomotives"].drawing_areas

    assert found == (MergedRange(2, 4, 2, 4), MergedRange(2, 4, 2, 6))


def test_a_damaged_drawing_hinders_nobody_from_reading(tmp_path: Path) -> None:
    path = _made(tmp_path / "club.xlsx", _photo)
    patch(path, {"xl/drawings/drawing1.xml": replaced("</xdr:wsDr>", "")}, {})

    grid = read_workbook(path, lambda _: True).grids["Locomotives"]

    assert (grid.rows[1], len(grid.drawing_areas)) == (["A", 12.0], 1)
