"""Formulas that fill writes once for all rows of a column: what each has, and what later fills keep of it.

What each cell has is read by openpyxl, which fills the formula of a group down with its own Translator.
"""

import re
from collections import Counter
from collections.abc import Mapping
from pathlib import Path

import pytest
from openpyxl import load_workbook

from rosterkit.cell_names import column_letters
from rosterkit.commands.fill import fill
from rosterkit.xlsx.read.workbook import read_workbook
from tests.command_line import written
from tests.rosters import workbook
from tests.xlsx.packages import parts, patch

SHEET = "xl/worksheets/sheet1.xml"
CVS = ("Answers", "CV1", "CV17", "CV18", "CV19", "CV29", "CV29 read")
ENGINES: list[dict[str, object]] = [
    {"Loco": f"E{number}", "Address": number, "Owner": "M01"} for number in range(3, 12)
]
FIRST, LAST, END = 2, 10, 51
"""The rows of the first and last engine, and one beyond the last that waits for one."""
FULL_WIDTH = "\uff12\uff15"
"""An address that the tool reads and a spreadsheet program may not."""


@pytest.fixture(scope="module")
def filled(tmp_path_factory: pytest.TempPathFactory) -> bytes:
    path = tmp_path_factory.mktemp("club") / "club.xlsx"
    written(path, workbook(ENGINES, consists=[{"Consist": "X", "Loco": "E4", "Address": 90, "Position": 1}]))
    fill(path)
    return path.read_bytes()


@pytest.fixture
def path(tmp_path: Path, filled: bytes) -> Path:
    path = tmp_path / "club.xlsx"
    path.write_bytes(filled)
    return path


def _formulas(path: Path) -> Mapping[str, Mapping[int, str]]:
    """Return the formulas of Locomotives by heading and row, as openpyxl has them and as we read them."""
    sheet = load_workbook(path)["Locomotives"]
    found: dict[str, dict[int, str]] = {}
    ours = read_workbook(path, lambda _: True).grids["Locomotives"].formulas
    count = 0
    for row in sheet.iter_rows(min_row=2):
        for cell in row:
            if isinstance(cell.value, str) and cell.value.startswith("="):
                found.setdefault(str(sheet.cell(1, cell.column).value), {})[cell.row] = cell.value[1:]
                assert ours[cell.row, cell.column] == cell.value[1:]
                count += 1
    assert count == len(ours)
    return found


def _rows_as_first(texts: Mapping[int, str]) -> bool:
    """Tell whether formulas differ in the number of their row alone, which moves with $ before columns."""
    shapes = {re.sub(rf"(?<=[A-Z]){row}(?![0-9])", "#", text) for row, text in texts.items()}
    return len(shapes) == 1


def _groups(path: Path) -> Counter[str]:
    """Count the elements of formulas: those of groups by their area or as others, and those alone."""
    kinds: Counter[str] = Counter()
    for tag in re.findall(r"<f[ >][^>]*>?", parts(path)[SHEET].decode()):
        area = re.search(r' ref="[A-Z]+([0-9]+):[A-Z]+([0-9]+)"', tag)
        kinds["-".join(area.groups()) if area else "other" if "shared" in tag else "alone"] += 1
    return kinds


def _typed(path: Path, heading: str, row: int, value: str | int) -> None:
    """Type something into a cell of Locomotives, all else of the file left as it is."""
    sheet = load_workbook(path)["Locomotives"]
    column = next(cell.column for cell in sheet[1] if cell.value == heading)
    cell = f'<c r="{column_letters(column)}{row}"'
    content = f' t="inlineStr"><is><t>{value}</t></is>' if isinstance(value, str) else f"><v>{value}</v>"
    new = f"{cell}{content}</c>".encode()

    def put(data: bytes) -> bytes:
        changed, count = re.subn(rf"{cell}(?: [^>]*)?(?:/>|>.*?</c>)".encode(), new, data, count=1)
        # A cell that is not there stands left of all others in its row.
        return changed if count else re.sub(rf'<row r="{row}"[^>]*>'.encode(), rb"\g<0>" + new, data)

    patch(path, {SHEET: put})


def test_each_column_holds_its_formula_once(path: Path) -> None:
    formulas = _formulas(path)

    assert formulas.keys() == {*CVS, "Alert"}
    assert all(list(texts) == list(range(FIRST, END)) for texts in formulas.values())
    assert all(map(_rows_as_first, formulas.values()))
    assert _groups(path) == {f"{FIRST}-{END - 1}": 8, "other": 8 * (END - FIRST - 1)}
    assert not fill(path).written


def test_another_result_alone_leaves_the_groups(path: Path) -> None:
    before = _groups(path)
    _typed(path, "Address", FIRST, 44)
    _typed(path, "Address", 5, 44)

    fill(path)

    assert _groups(path) == before
    assert all(map(_rows_as_first, _formulas(path).values()))
    results = load_workbook(path, data_only=True)["Locomotives"]
    column = next(cell.column for cell in results[1] if cell.value == "CV1")
    assert [results.cell(row, column).value for row in (FIRST, 3, 5)] == [44, 4, 44]
    assert not fill(path).written


@pytest.mark.parametrize(
    ("row", "groups"),
    [
        pytest.param(
            FIRST, {f"{FIRST + 1}-{END - 1}": 7, f"{FIRST}-{END - 1}": 1}, id="the first: a new group"
        ),
        pytest.param(6, {f"{FIRST}-{END - 1}": 8}, id="one in the middle: the same group"),
    ],
)
def test_a_row_with_values_alone_leaves_the_others_their_formulas(
    path: Path, row: int, groups: dict[str, int]
) -> None:
    before = _formulas(path)
    _typed(path, "Address", row, FULL_WIDTH)

    fill(path)

    after = _formulas(path)
    assert all(after[name] == {at: text for at, text in before[name].items() if at != row} for name in CVS)
    assert after["Alert"] == before["Alert"]
    kinds = _groups(path)
    assert {kind: count for kind, count in kinds.items() if kind != "other"} == groups
    assert not fill(path).written

    _typed(path, "Address", row, 25)
    fill(path)

    assert _formulas(path) == before
    assert not fill(path).written


def test_an_engine_more_leaves_the_groups_whose_formula_stays(path: Path) -> None:
    """Alert alone looks into other rows; the others get theirs in the row that waits for one engine more."""
    _typed(path, "Address", LAST + 1, 12)
    _typed(path, "Loco", LAST + 1, "E12")

    fill(path)

    stayed = END - 1 - FIRST
    assert _groups(path) == {
        f"{FIRST}-{END}": 1,
        f"{FIRST}-{END - 1}": 7,
        "other": stayed * 8 + 1,
        "alone": 7,
    }
    assert all(map(_rows_as_first, _formulas(path).values()))
    assert not fill(path).written


def test_values_take_the_place_of_all_and_formulas_come_back_as_they_were(path: Path) -> None:
    formulas, groups = _formulas(path), _groups(path)

    fill(path, values=True)
    assert _groups(path) == {}
    fill(path)

    assert (_formulas(path), _groups(path)) == (formulas, groups)


def test_a_formula_of_a_group_that_is_left_in_a_row_of_nobody_is_kept(path: Path) -> None:
    """All but CV1 was taken out of a row that waits: it is none of ours any more, and shares our formula."""
    row = 40
    cells = {name: "" for name in (*CVS, "Alert") if name != "CV1"}
    sheet = load_workbook(path)["Locomotives"]
    columns = {str(cell.value): column_letters(cell.column) for cell in sheet[1]}

    def emptied(data: bytes) -> bytes:
        for name in cells:
            data = re.sub(rf'<c r="{columns[name]}{row}"[^>]*>.*?</c>'.encode(), b"", data)
        return data

    patch(path, {SHEET: emptied})
    text = _formulas(path)["CV1"][row]
    _typed(path, "Address", FIRST, FULL_WIDTH)

    fill(path)

    after = _formulas(path)
    assert after["CV1"][row] == text
    assert FIRST not in after["CV1"]
    assert not fill(path).written
