"""Formulas on sheets of our own, their hidden columns, and cells to type into."""

import re
from collections.abc import Callable
from dataclasses import replace
from pathlib import Path

import openpyxl
import pytest
from openpyxl.workbook.workbook import Workbook

from rosterkit.errors import CannotRunError
from rosterkit.xlsx.changes import CellStyle, OwnCell, OwnSheet, WorkbookChange
from rosterkit.xlsx.own_sheets.codes import code_of_formula
from rosterkit.xlsx.own_sheets.new_workbook import workbook_of
from rosterkit.xlsx.own_sheets.typed import coded
from rosterkit.xlsx.package.opening import opened
from rosterkit.xlsx.read.workbook import read_workbook
from rosterkit.xlsx.save.edit import Edited
from rosterkit.xlsx.verify.own_sheet import verify_own_sheet
from rosterkit.xlsx.verify.remainder import VerificationError
from tests.xlsx.clubs import club
from tests.xlsx.edits import made
from tests.xlsx.packages import Patch, element, elements, parts, patch, replaced
from tests.xlsx.read.test_programs import GNUMERIC, LIBREOFFICE, Program

PART = "xl/worksheets/sheet2.xml"
LIVE = OwnSheet(
    title="Live",
    rows=[
        [OwnCell("Live", CellStyle.TITLE)],
        [
            OwnCell("Address"),
            OwnCell(3, CellStyle.INPUT, typed=True),
            OwnCell(None, CellStyle.BOX, typed=True),
        ],
        [
            OwnCell("CV17"),
            OwnCell("", CellStyle.COMPUTED_WHOLE, formula='IF($B$2>127,192+INT($B$2/256),"")'),
            OwnCell(3, CellStyle.COMPUTED_ADDRESS, formula="Locomotives!$C$2"),
            OwnCell("one", formula='INDEX(Locomotives!$B$1:$B$7,2)&"<"'),
        ],
        [
            OwnCell("engines"),
            OwnCell(5, formula="COUNT(Locomotives!$C$1:$C$7)"),
            OwnCell(True, formula="B4>2"),
        ],
    ],
    widths=(12, 8),
    hidden_columns=(2, 4, 5),
)


@pytest.fixture
def path(tmp_path: Path) -> Path:
    made = tmp_path / "club.xlsx"
    club(made).close()
    return made


def _put(path: Path, page: OwnSheet = LIVE, *, replaces_typed: bool = False) -> Edited:
    return made(path, WorkbookChange(own_sheets=(page,), replaces_typed=replaces_typed))


def test_formulas_stand_on_a_sheet_of_our_own_with_their_results(path: Path) -> None:
    _put(path)

    formulas, results = (
        openpyxl.load_workbook(path, data_only=data_only)["Live"] for data_only in (False, True)
    )
    assert [formulas[name].value for name in ("B3", "C3", "D3", "B4", "C4")] == [
        '=IF($B$2>127,192+INT($B$2/256),"")',
        "=Locomotives!$C$2",
        '=INDEX(Locomotives!$B$1:$B$7,2)&"<"',
        "=COUNT(Locomotives!$C$1:$C$7)",
        "=B4>2",
    ]
    assert [results[name].value for name in ("B3", "C3", "D3", "B4", "C4")] == [None, 3, "one", 5, True]
    assert [formulas[name].number_format for name in ("B3", "C3", "D3")] == [
        "0",
        '"short "0;"long "0;;@',
        "General",
    ]


def test_columns_are_hidden_with_their_widths_and_the_codes_too(path: Path) -> None:
    _put(path)

    columns = [dict(one.attrib) for one in elements(parts(path)[PART], "col")]
    assert [(one["min"], one["width"], one.get("hidden")) for one in columns] == [
        ("1", "12", None),
        ("2", "8", "1"),
        ("4", "9", "1"),
        ("5", "9", "1"),
    ]


def test_a_new_workbook_of_our_sheets_has_them_too(tmp_path: Path) -> None:
    path = tmp_path / "new.xlsx"
    path.write_bytes(workbook_of([OwnSheet(title="Locomotives", rows=[[OwnCell("x")]]), LIVE]))

    sheet = openpyxl.load_workbook(path)["Live"]
    assert sheet["B4"].value == "=COUNT(Locomotives!$C$1:$C$7)"
    assert [sheet[name].number_format for name in ("B3", "C3")] == ["0", '"short "0;"long "0;;@']
    assert sheet.column_dimensions["B"].hidden


def test_programs_are_asked_to_calculate_formulas_of_ours(path: Path) -> None:
    _put(path)

    assert element(parts(path)["xl/workbook.xml"], "calcPr").get("fullCalcOnLoad") == "1"


def test_a_sheet_that_is_as_it_should_be_is_left(path: Path) -> None:
    _put(path)

    assert not _put(path).changed


TAMPERED = [
    pytest.param(replaced("$B$2&gt;127", "$B$2&gt;128"), id="a formula changed"),
    pytest.param(replaced("<v>5</v>", "<v>6</v>"), id="a result changed"),
    pytest.param(replaced("<f>B4&gt;2</f>", ""), id="a formula dropped"),
    pytest.param(replaced('t="str"><f>', "><f>"), id="a text result as a number"),
    pytest.param(
        lambda data: re.sub(
            rb't="inlineStr">(<is>.*?Address.*?</is>)', rb't="str"><f>1</f><v>Address</v>', data
        ),
        id="a formula in place of a text",
    ),
    pytest.param(replaced('max="2" width="8" hidden="1"', 'max="2" width="8"'), id="a hidden column shown"),
    pytest.param(replaced('max="1" width="12"', 'max="1" width="12" hidden="1"'), id="another column hidden"),
]


@pytest.mark.parametrize("change", TAMPERED)
def test_the_proof_holds_formulas_results_and_hidden_columns(path: Path, change: Patch) -> None:
    _put(path)
    data = parts(path)[PART]
    verify_own_sheet(data, coded(LIVE), {})
    assert change(data) != data

    with pytest.raises(VerificationError):
        verify_own_sheet(change(data), coded(LIVE), {})


def _typed_in(name: str, value: str | int | None) -> Callable[[Workbook], None]:
    def change(book: Workbook) -> None:
        book["Live"][name] = value

    return change


def _moved(book: Workbook) -> None:
    """As after a column was put into Locomotives, which was renamed: references changed, and nothing else."""
    for row in book["Live"].iter_rows():
        for cell in row:
            if isinstance(cell.value, str) and cell.value.startswith("="):
                text = cell.value.replace("Locomotives!", "'My engines'!").replace("$C$", "$D$")
                cell.value = text.replace("$7", "$9")


def _lost(book: Workbook) -> None:
    book["Live"]["C3"] = "=#REF!"
    book["Live"]["B4"] = "=count(#REF!$C$1:$C$7)"


@pytest.mark.parametrize(
    "change",
    [
        pytest.param(lambda book: None, id="saved by another program"),
        pytest.param(_typed_in("B2", 4711), id="typed where one is to type"),
        pytest.param(_typed_in("B2", None), id="emptied where one is to type"),
        pytest.param(_typed_in("C2", "=1+1"), id="a formula where one is to type"),
        pytest.param(_moved, id="references that moved"),
        pytest.param(_lost, id="references that were lost"),
        pytest.param(_typed_in("B3", None), id="a formula of ours emptied"),
    ],
)
def test_nothing_stands_in_the_way_of_a_new_sheet(path: Path, change: Callable[[Workbook], None]) -> None:
    _put(path)
    book = openpyxl.load_workbook(path)
    change(book)
    book.save(path)

    _put(path, replace(LIVE, rows=[[OwnCell("other")]]))

    assert openpyxl.load_workbook(path)["Live"]["A1"].value == "other"


@pytest.mark.parametrize("codes", [True, False], ids=["with codes", "without codes"])
@pytest.mark.parametrize(
    ("change", "named"),
    [
        pytest.param(_typed_in("F9", "x"), "F9", id="a text beside ours"),
        pytest.param(_typed_in("A5", "=B4"), "A5", id="a formula below ours"),
        pytest.param(_typed_in("C4", "=B4>2+0*3"), "C4", id="a formula in place of ours"),
        pytest.param(_typed_in("B3", "=SUM($B$2)"), "B3", id="a formula over another function"),
    ],
)
def test_what_somebody_typed_elsewhere_is_named(
    path: Path, change: Callable[[Workbook], None], named: str, codes: bool
) -> None:
    _put(path)
    book = openpyxl.load_workbook(path)
    if not codes:
        book["Live"].delete_cols(5)
    change(book)
    book.save(path)

    with pytest.raises(CannotRunError, match=f"these there are not rosterkit's: {named}$"):
        _put(path, replace(LIVE, frozen_rows=1))

    _put(path, replace(LIVE, frozen_rows=1), replaces_typed=True)


def test_a_value_typed_over_a_formula_of_ours_is_named(path: Path) -> None:
    _put(path)
    book = openpyxl.load_workbook(path)
    book["Live"]["B3"] = 200
    book.save(path)

    with pytest.raises(CannotRunError, match=r"these there are not rosterkit's: B3$"):
        _put(path, replace(LIVE, frozen_rows=1))


@pytest.mark.external
@pytest.mark.parametrize("program", [LIBREOFFICE, GNUMERIC])
def test_a_sheet_that_another_program_saved_is_replaced(path: Path, program: Program) -> None:
    """The program calculated the formulas anew, and spelt them in its own way."""
    _put(path)
    saved = program(path)
    grid = read_workbook(saved, lambda _: True).grids["Live"]
    assert len(grid.formulas) == 5

    edited = _put(saved, replace(LIVE, frozen_rows=1))

    assert edited.changed


def test_the_list_of_formula_cells_goes_where_a_sheet_of_ours_gets_formulas(path: Path) -> None:
    kind = "http://schemas.openxmlformats.org/officeDocument/2006/relationships/calcChain"
    link = f'<Relationship Id="rId9" Type="{kind}" Target="calcChain.xml"/></Relationships>'
    chain = '<calcChain xmlns="http://schemas.openxmlformats.org/spreadsheetml/2006/main"></calcChain>'
    patch(
        path,
        {"xl/_rels/workbook.xml.rels": replaced("</Relationships>", link)},
        {"xl/calcChain.xml": chain},
    )

    _put(path)

    assert "xl/calcChain.xml" not in parts(path)
    assert len(opened(path).sheets) == 2


SHAPES = [
    pytest.param("A1+1", "$B$20+1", True, id="other cells"),
    pytest.param("A1+1", "'My list'!A1+1", True, id="another sheet"),
    pytest.param("SUM(Live!A1:B9)", "sum( Live!A1:C99 )", True, id="a range that grew, in small letters"),
    pytest.param("Live!$A$1:$A$9", "#REF!$A$1:$A$9", True, id="a sheet that went"),
    pytest.param("Live!$A$1", "Live!#REF!", True, id="cells that went"),
    pytest.param("IF(A1,TRUE,0.5)", "IF(A1,TRUE(),0.50)", True, id="words in another spelling"),
    pytest.param("A1+1", "A1+2", False, id="another number"),
    pytest.param("A1+1", "A1-1", False, id="another sign"),
    pytest.param("SUM(A1:A9)", "MAX(A1:A9)", False, id="another function"),
    pytest.param('A1&"a"', 'A1&"b"', False, id="another text"),
    pytest.param("A1", "A1+A1", False, id="a word more"),
]


@pytest.mark.parametrize(("one", "other", "same"), SHAPES)
def test_a_formula_keeps_its_code_wherever_its_references_lead(one: str, other: str, same: bool) -> None:
    assert (code_of_formula(one) == code_of_formula(other)) == same
