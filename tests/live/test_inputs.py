"""What somebody typed on the sheet Live is found again by its label, and put into the next one."""

from datetime import date, datetime

import pytest

from rosterkit.live.inputs import INPUTS, typed_in
from rosterkit.live.page import live_sheet
from rosterkit.xlsx.changes import CellStyle, OwnCell, OwnSheet
from rosterkit.xlsx.grid import Calculated, CellError, Grid, NoStoredValue, Raw, ScientificNumber
from tests.live.pages import page_of
from tests.rosters import workbook


def _sheet(**typed: OwnCell) -> OwnSheet:
    made = page_of(workbook([{"Loco": "A", "Address": 5}])).made
    return live_sheet(made.places, made.machinery, typed=typed)


def _grid(sheet: OwnSheet, typed: dict[str, Raw], formulas: dict[str, str] | None = None) -> Grid:
    """Return the sheet as it is read back after somebody typed into inputs."""
    rows: list[list[Raw]] = [["" if one.value is None else one.value for one in row] for row in sheet.rows]
    for name, raw in typed.items():
        one = INPUTS[name]
        row = rows[one.row - 1]
        row += [""] * (one.column - len(row))
        row[one.column - 1] = raw
    places = {
        (row, column): cell.formula
        for row, cells in enumerate(sheet.rows, 1)
        for column, cell in enumerate(cells, 1)
        if cell.formula is not None
    }
    places |= {(INPUTS[name].row, INPUTS[name].column): text for name, text in (formulas or {}).items()}
    return Grid(title=sheet.title, rows=rows, formulas=places)


def _input(value: str | float | None, formula: str | None = None) -> OwnCell:
    return OwnCell(value, CellStyle.INPUT, formula=formula, typed=True)


def test_every_input_is_found_again() -> None:
    typed: dict[str, Raw] = {name: f"typed {n}" for n, name in enumerate(INPUTS)}

    assert typed_in(_grid(_sheet(), typed)) == {name: _input(f"typed {n}") for n, name in enumerate(INPUTS)}


def test_blank_inputs_are_not_there() -> None:
    assert typed_in(_grid(_sheet(), {})) == {}


@pytest.mark.parametrize("name", INPUTS)
def test_one_input_is_never_taken_for_another(name: str) -> None:
    assert typed_in(_grid(_sheet(), {name: 25.0})) == {name: _input(25.0)}


@pytest.mark.parametrize(
    ("raw", "kept"),
    [
        pytest.param(2107.0, 2107.0, id="a number"),
        pytest.param("0042", "0042", id="digits as text"),
        pytest.param("=1+1 ?", "=1+1 ?", id="a text that looks like a formula"),
        pytest.param(True, "TRUE", id="a truth value"),
        pytest.param(date(2026, 3, 5), "2026-03-05", id="a date"),
        pytest.param(datetime(2026, 3, 5, 10, 30), "2026-03-05 10:30:00", id="a date with a time"),
        pytest.param(CellError("#N/A"), "#N/A", id="an error"),
        pytest.param(ScientificNumber(400.0), 400.0, id="scientific notation"),
        pytest.param("Kind", "Kind", id="a text that is a label"),
    ],
)
def test_whatever_is_typed_is_kept(raw: Raw, kept: str | float) -> None:
    assert typed_in(_grid(_sheet(), {"member": raw})) == {"member": _input(kept)}


def test_a_formula_that_somebody_typed_is_kept_with_its_result() -> None:
    grid = _grid(_sheet(), {"number": Calculated(25.0)}, {"number": "Locomotives!C7"})
    without = _grid(_sheet(), {"near": NoStoredValue("B5+1")})

    assert typed_in(grid) == {"number": _input(25.0, "Locomotives!C7")}
    assert typed_in(without) == {"near": _input("", "B5+1")}


def test_labels_that_moved_take_their_inputs_along() -> None:
    grid = _grid(_sheet(), {"cv29": 6.0, "free_kind": "long"})
    rows: list[list[Raw]] = [[], ["a row of one's own"], *([["", "", *row] for row in grid.rows])]
    moved = Grid(title="Live", rows=rows, formulas={(r + 2, c + 2): f for (r, c), f in grid.formulas.items()})

    assert typed_in(moved) == {"cv29": _input(6.0), "free_kind": _input("long")}


def test_without_its_label_an_input_is_found_in_its_place() -> None:
    grid = _grid(_sheet(), {"near": 2107.0})
    grid.rows[INPUTS["near"].row - 1][INPUTS["near"].column - 2] = "Number near"

    assert typed_in(grid) == {"near": _input(2107.0)}


def test_what_was_typed_stands_in_the_next_sheet() -> None:
    typed = {"near": _input(2107.0), "member": _input("whoever", "B5")}
    sheet = _sheet(**typed)

    for name, cell in typed.items():
        assert sheet.rows[INPUTS[name].row - 1][INPUTS[name].column - 1] == cell
    assert sum(cell.typed for row in sheet.rows for cell in row) == len(INPUTS)
