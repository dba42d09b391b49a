"""A formula of a member's under a computed heading stays, with a stored result too."""

from pathlib import Path

import openpyxl
import pytest
import xlsxwriter

from rosterkit.commands.check import check
from rosterkit.commands.fill import fill

HEADINGS = ("Loco", "Address", "CV1", "CV17", "CV18", "CV19", "CV29", "Check")


def _club(path: Path, cell: str, formula: str, result: str | int) -> None:
    """Make a workbook that was filled before, with two engines and a line of totals.

    It is stored as by a program that calculates.
    """
    book = xlsxwriter.Workbook(str(path))
    sheet = book.add_worksheet("Locomotives")
    for row, values in enumerate((HEADINGS, ("A", 12), ("B", 1200), ("Total",))):
        sheet.write_row(row, 0, values)
    sheet.write("H2", "note [Loco] once written by fill")
    sheet.write_formula(cell, formula, None, result)
    book.close()


@pytest.mark.parametrize(
    ("cell", "formula", "result"),
    [
        pytest.param("C4", "=COUNT(C2:C3)", 2, id="a count beside the word Total, as small as a CV"),
        pytest.param("G2", "=2+4", 6, id="a formula in place of what would be computed"),
        pytest.param("C2", "=B2", 12, id="a formula whose result is what would be computed"),
        pytest.param("D3", '=IF(B3>127,"","-")', "", id="a formula whose result is an empty text"),
    ],
)
def test_a_formula_under_a_computed_heading_stays_and_is_named(
    tmp_path: Path, cell: str, formula: str, result: str | int
) -> None:
    path = tmp_path / "club.xlsx"
    _club(path, cell, formula, result)

    fill(path)
    again = fill(path)

    assert openpyxl.load_workbook(path)["Locomotives"][cell].value == formula
    assert openpyxl.load_workbook(path, data_only=True)["Locomotives"][cell].value == (result or None)
    assert not again.written
    named = [one.place.cell for one in check([path]).findings if one.rule == "computed-not-ours"]
    assert named == [cell]


def test_a_value_beside_such_a_formula_is_computed(tmp_path: Path) -> None:
    path = tmp_path / "club.xlsx"
    _club(path, "G2", "=2+4", 6)

    fill(path)

    sheet = openpyxl.load_workbook(path, data_only=True)["Locomotives"]
    assert [sheet[cell].value for cell in ("C2", "G3")] == [12, 34]
