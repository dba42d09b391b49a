"""Formulas that fill writes: their stored results, what it mends and leaves, and values in place of them."""

from collections.abc import Callable
from pathlib import Path
from typing import Any

import pytest
from openpyxl import load_workbook
from openpyxl.worksheet.worksheet import Worksheet

from rosterkit.commands.fill import fill
from rosterkit.commands.new.command import make_workbook
from rosterkit.commands.results import fill_text
from rosterkit.live.facts import MOST_COUNTED, NOT_COUNTED
from rosterkit.live.inputs import INPUTS
from tests.command_line import written
from tests.rosters import workbook
from tests.xlsx.packages import parts

ENGINES: list[dict[str, object]] = [
    {"Loco": "A", "Address": 25, "Owner": "M01"},
    {"Loco": "B", "Address": 1000, "Owner": "M02", "Direction": "reversed"},
    {"Loco": "C", "Address": 25, "Owner": "M01"},
]
CVS = ("Answers", "CV1", "CV17", "CV18", "CV19", "CV29")


def _cells(path: Path, title: str = "Locomotives", *, results: bool) -> dict[tuple[str, int], Any]:
    """What stands in the cells of a sheet, by heading and row; formulas, or what is stored for them."""
    sheet = load_workbook(path, data_only=results)[title]
    headings = [str(cell.value) for cell in sheet[1]]
    return {
        (heading, number): value
        for number, row in enumerate(sheet.iter_rows(min_row=2, values_only=True), 2)
        for heading, value in zip(headings, row, strict=True)
    }


def _at(sheet: Worksheet, heading: str, row: int) -> Any:
    at = next(cell.column for cell in sheet[1] if cell.value == heading)
    return sheet.cell(row, at)


@pytest.fixture(scope="module")
def filled(tmp_path_factory: pytest.TempPathFactory) -> bytes:
    path = tmp_path_factory.mktemp("club") / "club.xlsx"
    written(path, workbook(ENGINES, consists=[{"Consist": "X", "Loco": "B", "Address": 9, "Position": 1}]))
    fill(path)
    return path.read_bytes()


@pytest.fixture
def path(tmp_path: Path, filled: bytes) -> Path:
    path = tmp_path / "club.xlsx"
    path.write_bytes(filled)
    return path


def test_cvs_are_formulas_whose_stored_results_are_right(path: Path) -> None:
    formulas, results = _cells(path, results=False), _cells(path, results=True)

    assert all(str(formulas[name, row]).startswith("=") for name in (*CVS, "Alert") for row in (2, 3, 4))
    assert [[results[name, row] for name in CVS] for row in (2, 3, 4)] == [
        [25, 25, None, None, 0, 2],
        [-1000, None, 195, 232, 9, 35],
        [25, 25, None, None, 0, 2],
    ]
    assert results["Alert", 2] == "error [Address] short 25 is also the address of 'C'"
    assert results["Alert", 3] is None


def test_rows_below_the_engines_wait_with_formulas(path: Path) -> None:
    formulas, results = _cells(path, results=False), _cells(path, results=True)

    waiting = [row for row in range(5, 60) if str(formulas.get(("CV29", row))).startswith("=")]
    assert waiting == list(range(5, 45))
    assert [results[name, row] for row in waiting for name in (*CVS, "Alert")] == [None] * 40 * 7


def test_the_results_of_the_demo_club_are_the_values_that_fill_writes_without_formulas(
    tmp_path: Path,
) -> None:
    demo, live, plain = (tmp_path / f"{name}.xlsx" for name in ("demo", "live", "plain"))
    make_workbook(demo, sample=True)
    fill(demo, live)
    fill(demo, plain, values=True)

    for title in ("Locomotives", "Consists", "Accessories"):
        given = _cells(plain, title, results=False)
        found = _cells(live, title, results=True)
        assert {at: value for at, value in found.items() if at[0] != "Alert"} == {
            at: value for at, value in given.items() if at[0] != "Alert"
        }
        # Not a formula is left, nor anything in the rows that wait.
        assert [at for at, value in given.items() if str(value).startswith("=")] == []
    assert [value for (name, _), value in _cells(plain, results=False).items() if name == "Alert"] == (
        [None] * 76
    )
    assert load_workbook(plain)["Live"]["A1"].value.startswith("This workbook was filled with values")


def test_filled_again_it_has_nothing_to_write(path: Path) -> None:
    before = path.read_bytes()

    assert not fill(path).written
    assert path.read_bytes() == before


def test_values_and_formulas_take_each_other_s_place(path: Path) -> None:
    formulas = parts(path)["xl/worksheets/sheet1.xml"]

    fill(path, values=True)
    again = fill(path, values=True)
    values = _cells(path, results=False)
    fill(path)

    assert not again.written
    assert [values[name, 3] for name in CVS] == [-1000, None, 195, 232, 9, 35]
    assert parts(path)["xl/worksheets/sheet1.xml"].count(b"<f>") == formulas.count(b"<f>")
    assert _cells(path, results=True)["CV29", 3] == 35


def _typed_over(sheet: Worksheet) -> None:
    _at(sheet, "CV29", 2).value = 38


def _blanked(sheet: Worksheet) -> None:
    for name in CVS:
        _at(sheet, name, 3).value = None


def _lost(sheet: Worksheet) -> None:
    cell = _at(sheet, "CV29", 3)
    cell.value = cell.value.replace("Live!", "#REF!")


def _elsewhere(sheet: Worksheet) -> None:
    cell = _at(sheet, "CV19", 3)
    cell.value = cell.value.replace("Live!", "'[1]Live'!")


def _in_a_waiting_row(sheet: Worksheet) -> None:
    _at(sheet, "CV1", 12).value = None


def _values_pasted(sheet: Worksheet) -> None:
    for name, value in zip(CVS, (25, 25, None, None, 0, 2), strict=True):
        _at(sheet, name, 4).value = value


@pytest.mark.parametrize(
    "damage",
    [
        pytest.param(_typed_over, id="a value typed over a formula"),
        pytest.param(_blanked, id="a row of blanked cells"),
        pytest.param(_lost, id="a formula that lost what it read"),
        pytest.param(_elsewhere, id="a formula that reads another workbook"),
        pytest.param(_in_a_waiting_row, id="a blanked cell in a row that waits"),
        pytest.param(_values_pasted, id="values pasted over the formulas of a row"),
    ],
)
def test_fill_mends(path: Path, damage: Callable[[Worksheet], None]) -> None:
    formulas, results = _cells(path, results=False), _cells(path, results=True)
    book = load_workbook(path)
    damage(book["Locomotives"])
    book.save(path)

    fill(path)

    assert _cells(path, results=False) == formulas
    assert _cells(path, results=True) == results
    assert not fill(path).written


def test_a_formula_of_another_kind_stays_and_is_named(path: Path) -> None:
    book = load_workbook(path)
    _at(book["Locomotives"], "CV1", 2).value = "=2+4"
    book.save(path)

    filled = fill(path)

    assert _cells(path, results=False)["CV1", 2] == "=2+4"
    assert [one.place.cell for one in filled.report.findings if one.rule == "computed-not-ours"] == ["F2"]


def test_a_row_that_formulas_do_not_read_gets_values(tmp_path: Path) -> None:
    path = tmp_path / "club.xlsx"
    # Digits of full width, which the tool reads and a spreadsheet program may not.
    written(path, workbook([{"Loco": "A", "Address": "\uff12\uff15"}, {"Loco": "B", "Address": 25}]))

    fill(path)

    cells = _cells(path, results=False)
    assert [cells[name, 2] for name in CVS] == [25, 25, None, None, 0, 2]
    assert str(cells["CV1", 3]).startswith("=")
    assert _cells(path, results=True)["Alert", 3] == "error [Address] short 25 is also the address of 'A'"
    assert not fill(path).written


def test_an_engine_typed_below_gets_rows_below_it(path: Path) -> None:
    book = load_workbook(path)
    sheet = book["Locomotives"]
    _at(sheet, "Loco", 5).value, _at(sheet, "Address", 5).value = "D", 7
    book.save(path)

    fill(path)

    formulas = _cells(path, results=False)
    assert _cells(path, results=True)["CV1", 5] == 7
    assert [row for row in range(44, 60) if formulas.get(("CV1", row))] == [44, 45]


def test_a_member_s_own_sheet_live_stays_and_formulas_read_ours(path: Path, tmp_path: Path) -> None:
    own = tmp_path / "own.xlsx"
    source = workbook(ENGINES)
    written(own, source)
    book = load_workbook(own)
    book.create_sheet("Live")["A1"] = "steam up at ten"
    book.save(own)

    fill(own)

    assert load_workbook(own)["Live"]["A1"].value == "steam up at ten"
    assert "'Live (rosterkit)'!" in _cells(own, results=False)["CV29", 2]
    assert not fill(own).written


def test_a_label_never_becomes_part_of_a_formula(tmp_path: Path) -> None:
    path = tmp_path / "club.xlsx"
    words = '"&HYPERLINK("x")&"'
    written(path, workbook([{"Loco": words, "Address": 25, "Decoder": words}] * 2))

    fill(path)

    cells = _cells(path, results=False)
    assert [at for at, value in cells.items() if "HYPERLINK" in str(value) and value != words] == [
        ("Check", 2),
        ("Check", 3),
    ]


def test_a_sheet_without_addresses_gets_values(tmp_path: Path) -> None:
    path = tmp_path / "club.xlsx"
    written(path, workbook([{"Loco": "A", "Owner": "M01"}]))

    fill(path)

    assert [cell.value for cell in load_workbook(path)["Locomotives"][1]] == [
        "Loco",
        "Owner",
        "CV1",
        "CV17",
        "CV18",
        "CV19",
        "CV29",
        "Check",
    ]


def test_what_alert_says_marks_cells_as_check_does_and_a_row_without_formulas_is_marked(path: Path) -> None:
    marks = load_workbook(path)["Locomotives"].conditional_formatting

    found = {str(one.sqref): [rule.formula[0] for rule in one.rules] for one in marks}
    error, warning = found["A2:D44"]
    for severity, formula in (("error", error), ("warning", warning)):
        assert [part in formula for part in (f'"{severity} ["', ",$M2)", ",$L2)")] == [True] * 3
    # Alert beside an engine, also beyond the last row with formulas.
    assert found["L2:L1044"] == ['AND(N("rosterkit")=0,ISBLANK($L2),TRIM($A2)&TRIM($B2)<>"")']


def test_what_people_typed_on_live_stays_with_formulas_and_with_values(path: Path) -> None:
    book = load_workbook(path)
    number = INPUTS["number"]
    book["Live"].cell(number.row, number.column).value = 25
    book.save(path)

    fill(path)
    once = load_workbook(path, data_only=True)["Live"]
    shown = [once.cell(number.row, number.column).value, once["B6"].value]
    fill(path, values=True)
    fill(path)

    again = load_workbook(path, data_only=True)["Live"]
    assert shown[0] == 25
    assert "25" in str(shown[1])
    assert [again.cell(number.row, number.column).value, again["B6"].value] == shown


def test_beyond_so_many_engines_it_is_said_that_alert_does_not_count(tmp_path: Path) -> None:
    path = tmp_path / "club.xlsx"
    engines = [{"Loco": f"E{number}", "Address": 128 + number} for number in range(MOST_COUNTED + 1)]
    written(path, workbook([*engines[:-1], {"Loco": "last", "Address": 128}]))

    filled = fill(path)

    assert filled.remarks == [NOT_COUNTED]
    assert NOT_COUNTED in fill_text(filled)
    sheet = load_workbook(path, data_only=True, read_only=True)
    said = [row[0] for row in sheet["Live"].iter_rows(max_col=1, values_only=True)]
    assert NOT_COUNTED in said
    alerts = _cells(path, results=True)
    assert alerts["Alert", MOST_COUNTED + 2] == "error [Address] long 128 is also the address of 'E0'"
