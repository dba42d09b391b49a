"""The formulas of a sheet are read by their cells, each as if no other cell shared it.

Elements and attributes follow ECMA-376 Part 1 (5th edition): 18.3.1.40 (formulas), 18.18.6 (their types).
"""

from collections.abc import Callable
from pathlib import Path

import pytest
import xlsxwriter

from rosterkit.xlsx.grid import Grid
from rosterkit.xlsx.read.workbook import read_workbook
from tests.xlsx.hand_made import parts, rows, saved, texts, zipped
from tests.xlsx.read.test_programs import Program, by_openpyxl, by_xlsxwriter, every_program
from tests.xlsx.read.test_workbook import Spelling, every_spelling, odd, ordinary

SHARED = (
    '<c r="B2"><f t="shared" ref="B2:B5" si="0">A1+$A2&amp;A$2&amp;$A$2</f><v>1</v></c>',
    '<c r="B3"><f t="shared" si="0"/><v>1</v></c>',
    '<c r="B4"><f ca="1" t="shared" si="0"></f><v>1</v></c>',
    '<c r="B5"><f t="shared" si="0">A1*9</f><v>1</v></c>',
)
CELLS = {
    "a formula": (('<c r="B7"><f>A1+1</f><v>1</v></c>',), {(7, 2): "A1+1"}),
    "a formula with signs of the markup": (
        ('<c r="A1" t="str"><f>IF(B1&lt;&gt;"",B1&amp;"&#233;","")</f><v>x</v></c>',),
        {(1, 1): 'IF(B1<>"",B1&"é","")'},
    ),
    "a formula without a stored result": (('<c r="A1"><f>B1</f></c>',), {(1, 1): "B1"}),
    "a formula whose result is a text without signs": (
        ('<c r="A1" t="str"><f aca="false">B1</f><v></v></c>',),
        {(1, 1): "B1"},
    ),
    "an array formula": (
        ('<c r="A1"><f t="array" ref="A1:A2">B1:B2</f><v>1</v></c>', '<c r="A2"><v>1</v></c>'),
        {(1, 1): "B1:B2"},
    ),
    "a data table": (('<c r="A1"><f t="dataTable" ref="A1:A2" r1="B1"/><v>1</v></c>',), {(1, 1): ""}),
    "a formula that cells share": (
        SHARED,
        {
            (2, 2): "A1+$A2&A$2&$A$2",
            (3, 2): "A2+$A3&A$2&$A$2",
            (4, 2): "A3+$A4&A$2&$A$2",
            (5, 2): "A1*9",
        },
    ),
    "a formula shared to the right": (
        (
            '<c r="A1"><f t="shared" ref="A1:B1" si="3">Sheet!C1</f><v>1</v></c>'
            '<c r="B1"><f t="shared" si="3"/><v>1</v></c>',
        ),
        {(1, 1): "Sheet!C1", (1, 2): "Sheet!D1"},
    ),
    "a formula of a group that has no first cell": (
        ('<c r="A1"><f t="shared" si="3"/><v>1</v></c>',),
        {(1, 1): ""},
    ),
    "no formula": (('<c r="A1"><v>1</v></c>',), {}),
}


def _grid(folder: Path, sheet: str, strings: str = "") -> Grid:
    return read_workbook(saved(folder, zipped(parts(sheet, strings))), lambda _: True).grids["Locomotives"]


def _rows(cells: tuple[str, ...]) -> str:
    """Put each piece into the row that its first cell names."""
    numbered = ((piece.split('"')[1].lstrip("ABC"), piece) for piece in cells)
    return "".join(f'<row r="{number}">{piece}</row>' for number, piece in numbered)


@every_spelling
@pytest.mark.parametrize(("cells", "formulas"), CELLS.values(), ids=CELLS.keys())
def test_each_formula_is_read_as_if_it_stood_alone(
    tmp_path: Path, spelling: Spelling, cells: tuple[str, ...], formulas: dict[tuple[int, int], str]
) -> None:
    found = _grid(tmp_path, spelling(_rows(cells))).formulas

    assert dict(found) == formulas
    assert all(place in found for place in formulas)
    assert (9, 9) not in found
    assert len(found) == len(formulas)


@pytest.mark.parametrize("spelling", [ordinary, odd])
def test_an_empty_result_among_the_shared_texts_is_a_blank_cell(
    tmp_path: Path, spelling: Callable[[str], str]
) -> None:
    cells = rows(
        '<c r="A1" t="s"><f>IF(1,"","")</f><v>1</v></c><c r="B1" t="s"><f>"x"</f><v>0</v></c>',
        '<c r="A2" t="s"><v>1</v></c><c r="B2"><v>3</v></c>',
    )

    grid = _grid(tmp_path, spelling(cells), texts("<t>x</t>", "<t/>"))

    assert grid.rows == [["", "x"], ["", 3.0]]
    assert dict(grid.formulas) == {(1, 1): 'IF(1,"","")', (1, 2): '"x"'}


@every_program
def test_the_formulas_of_a_program_are_read(tmp_path: Path, program: Program) -> None:
    """Gnumeric has the results that are texts among the shared ones; the libraries do not calculate."""
    wanted = {
        (1, 3): 'IF(A1<>"",B1+1,"")',
        (2, 3): 'IF(A2<>"",B2+1,"")',
        (3, 3): 'IF(A3<>"",B3+1,"")',
        (1, 4): "SUM($B$1:$B$3)*2",
        (2, 4): "'The list'!A1&\"&\"",
    }
    path = tmp_path / "club.xlsx"
    book = xlsxwriter.Workbook(str(path))
    sheet = book.add_worksheet("Locomotives")
    book.add_worksheet("The list").write("A1", "two")
    sheet.write_row("A1", ["one", 1])
    sheet.write_row("A2", ["", 2])
    sheet.write_row("A3", ["three", 3])
    results = dict(zip(wanted, (2, "", 4, 12, "two&"), strict=True))
    for (row, column), formula in wanted.items():
        sheet.write_formula(row - 1, column - 1, f"={formula}", None, results[row, column])
    book.close()

    grid = read_workbook(program(path), lambda _: True).grids["Locomotives"]

    assert dict(grid.formulas) == wanted
    if program not in {by_openpyxl, by_xlsxwriter}:
        assert grid.rows == [["one", 1.0, 2.0, 12.0], ["", 2.0, "", "two&"], ["three", 3.0, 4.0]]
