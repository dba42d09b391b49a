"""Formulas of ours in a member's sheet: written with their results, and left where they stand already."""

import re
from collections.abc import Callable
from pathlib import Path

import openpyxl
import pytest
from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st
from python_calamine import CalamineWorkbook

from rosterkit.errors import CannotRunError
from rosterkit.xlsx.changes import CellChange, CellStyle, SheetChange, WorkbookChange
from rosterkit.xlsx.package.opening import opened_in_memory
from rosterkit.xlsx.read.workbook import read_workbook
from rosterkit.xlsx.save.edit import Edited
from rosterkit.xlsx.save.in_memory import edited
from tests.xlsx.clubs import TITLE, club, locomotives
from tests.xlsx.edits import made
from tests.xlsx.packages import Patch, cells, element, elements, parts, patch, related, replaced

SHEET = "xl/worksheets/sheet1.xml"
STYLES = "xl/styles.xml"
BOOK = "xl/workbook.xml"
CHAIN = "xl/calcChain.xml"
ADDRESS = '"short "0;"long "0;;@'

Result = str | int | float | None


@pytest.fixture
def path(tmp_path: Path) -> Path:
    made = tmp_path / "club.xlsx"
    club(made).close()
    return made


def _computed(path: Path, *new: tuple[int, int, str | None, Result], look: CellStyle | None = None) -> Edited:
    """Write formulas with their results (row, column, formula, result) into the sheet with the engines."""
    changes = tuple(
        CellChange(row=row, column=column, value=result, formula=formula, look=look)
        for row, column, formula, result in new
    )
    return made(path, WorkbookChange(sheets=(SheetChange(title=TITLE, cells=changes),)))


def _cell(path: Path, name: str) -> bytes:
    return re.sub(rb' xmlns(:\w+)?="[^"]*"', b"", cells(parts(path)[SHEET])[name])


@pytest.mark.parametrize(
    ("formula", "result", "markup"),
    [
        pytest.param("C2+1", 4, b"><f>C2+1</f><v>4</v></c>", id="a whole number"),
        pytest.param("C2/8", 0.375, b"><f>C2/8</f><v>0.375</v></c>", id="a fraction"),
        pytest.param("C2>2", True, b' t="b"><f>C2&gt;2</f><v>1</v></c>', id="a truth value"),
        pytest.param(
            'A2&"<"', "M01<", b' t="str"><f>A2&amp;"&lt;"</f><v>M01&lt;</v></c>', id="signs of the markup"
        ),
        pytest.param('IF(C2,"","")', "", b' t="str"><f>IF(C2,"","")</f><v/></c>', id="a text of no signs"),
        pytest.param('IF(C2,"","")', None, b' t="str"><f>IF(C2,"","")</f><v/></c>', id="nothing"),
        pytest.param("A2", "_x000D_", b' t="str"><f>A2</f><v>_x005F_x000D_</v></c>', id="what looks escaped"),
    ],
)
def test_a_formula_is_stored_with_its_result(path: Path, formula: str, result: Result, markup: bytes) -> None:
    _computed(path, (2, 7, formula, result))

    assert _cell(path, "G2") == b'<c r="G2"' + markup
    assert openpyxl.load_workbook(path)[TITLE]["G2"].value == f"={formula}"
    read = CalamineWorkbook.from_path(str(path)).get_sheet_by_name(TITLE).to_python()[1]
    assert [*read, ""][6] == ("" if result is None else result)


def test_a_formula_takes_the_place_of_a_value_and_a_value_of_a_formula(path: Path) -> None:
    _computed(path, (2, 3, "1+2", 3), (3, 3, "1+4710", 4711))
    _computed(path, (3, 3, None, 4711))

    assert _cell(path, "C2") == b'<c r="C2"><f>1+2</f><v>3</v></c>'
    assert _cell(path, "C3") == b'<c r="C3"><v>4711</v></c>'


@pytest.mark.parametrize(
    "formula",
    [
        pytest.param("", id="no sign at all"),
        pytest.param("A1" + "+1" * 4096, id="more signs than a cell can hold"),
        pytest.param('"\x01"', id="a sign that XML cannot hold"),
        pytest.param('"\r"', id="a line end that XML changes"),
    ],
)
def test_a_formula_that_no_cell_can_hold_is_refused(path: Path, formula: str) -> None:
    before = path.read_bytes()

    with pytest.raises(CannotRunError, match="none that a cell can hold"):
        _computed(path, (2, 7, formula, 1))

    assert path.read_bytes() == before


def _spelt(cell: str) -> Patch:
    return lambda data: re.sub(rb'<c r="G2".*?</c>', cell.encode(), data)


@pytest.mark.parametrize(
    ("cell", "result"),
    [
        pytest.param('<c r="G2"><f>C2+1</f><v>4</v></c>', 4, id="as we write it"),
        pytest.param('<c r="G2" t="n"><f aca="false">C2+1</f><v>4</v></c>', 4, id="with another attribute"),
        pytest.param('<c r="G2"><f>C2+1</f><v>4.0</v></c>', 4, id="a number with a point"),
        pytest.param('<c r="G2" t="str"><f>C2+1</f><v></v></c>', "", id="a text of no signs"),
        pytest.param('<c r="G2" t="str"><f>C2+1</f></c>', None, id="such a text left out"),
        pytest.param('<c r="G2" t="s"><f>C2+1</f><v>0</v></c>', "Owner", id="a shared text"),
        pytest.param('<c r="G2" t="b"><f>C2+1</f><v>1</v></c>', True, id="a truth value"),
    ],
)
def test_a_formula_that_stands_with_its_result_is_left_alone(path: Path, cell: str, result: Result) -> None:
    _computed(path, (2, 7, "C2+1", 4))
    patch(path, {SHEET: _spelt(cell)})
    before = path.read_bytes()

    edited = _computed(path, (2, 7, "C2+1", result))

    assert not edited.changed
    assert path.read_bytes() == before


@pytest.mark.parametrize(
    "cell",
    [
        pytest.param('<c r="G2"><f>C2+1</f></c>', id="no stored result"),
        pytest.param('<c r="G2"><f>C2+1</f><v>5</v></c>', id="another result"),
        pytest.param('<c r="G2" t="str"><f>C2+1</f><v>4</v></c>', id="its result as a text"),
        pytest.param('<c r="G2" t="b"><f>C2+1</f><v>1</v></c>', id="a truth value"),
        pytest.param('<c r="G2"><f>C2 + 1</f><v>4</v></c>', id="another spelling"),
        pytest.param('<c r="G2"><v>4</v></c>', id="the value alone"),
        pytest.param('<c r="G2" t="s"><f>C2+1</f><v>0</v></c>', id="a shared text"),
        pytest.param('<c r="G2" t="s"><f>C2+1</f><v>999</v></c>', id="a shared text that there is not"),
    ],
)
def test_any_other_content_is_rewritten(path: Path, cell: str) -> None:
    _computed(path, (2, 7, "C2+1", 4))
    patch(path, {SHEET: _spelt(cell)})

    assert _computed(path, (2, 7, "C2+1", 4)).changed

    assert _cell(path, "G2") == b'<c r="G2"><f>C2+1</f><v>4</v></c>'


def test_the_rest_of_a_sheet_stays(path: Path) -> None:
    before = parts(path)[SHEET]

    _computed(path, (2, 7, "C2+1", 4))
    _computed(path, (2, 7, None, None))

    after = parts(path)[SHEET].replace(b'<c r="G2"/>', b"").replace(b'spans="1:7"', b'spans="1:5"')
    assert after.replace(b'ref="A1:G6"', b'ref="A1:E6"') == before


def test_programs_are_asked_to_calculate(path: Path) -> None:
    _computed(path, (2, 7, "C2+1", 4))

    assert element(parts(path)[BOOK], "calcPr").get("fullCalcOnLoad") == "1"


def _with_chain(path: Path) -> None:
    kind = "http://schemas.openxmlformats.org/officeDocument/2006/relationships/calcChain"
    override = (
        '<Override PartName="/xl/calcChain.xml" ContentType="application/vnd.openxmlformats-officedocument.'
        'spreadsheetml.calcChain+xml"/></Types>'
    )
    patch(
        path,
        {
            "xl/_rels/workbook.xml.rels": related(("rId77", kind, "calcChain.xml")),
            "[Content_Types].xml": replaced("</Types>", override),
        },
        {
            CHAIN: '<calcChain xmlns="http://schemas.openxmlformats.org/spreadsheetml/2006/main">'
            '<c r="G2" i="1"/></calcChain>'
        },
    )


@pytest.mark.parametrize(
    ("cell", "kept"),
    [
        pytest.param((3, 7, "C3+1", 4712), False, id="a formula comes"),
        pytest.param((2, 7, None, 4), False, id="a formula goes"),
        pytest.param((2, 7, "C2+1", 4), True, id="a formula stays"),
        pytest.param((3, 7, None, 4), True, id="a value comes"),
    ],
)
def test_the_list_of_formula_cells_goes_with_the_formulas(
    path: Path, cell: tuple[int, int, str | None, Result], kept: bool
) -> None:
    _computed(path, (2, 7, "C2+1", 4))
    _with_chain(path)

    _computed(path, cell)

    content = parts(path)
    assert (CHAIN in content) == kept
    assert (b"calcChain" in content["[Content_Types].xml"]) == kept
    assert (b"calcChain" in content["xl/_rels/workbook.xml.rels"]) == kept


def _formatted(code: str) -> Callable[[Path], None]:
    def make(path: Path) -> None:
        book = club(path)
        given = book.add_format({"num_format": code, "bold": True, "bg_color": "#112233"})
        locomotives(book).write_number("G2", 4, given)
        book.close()

    return make


def _listed_general(path: Path) -> None:
    _formatted("0.000")(path)
    patch(path, {STYLES: replaced('formatCode="0.000"', 'formatCode="GENERAL"')})


@pytest.mark.parametrize(
    ("make", "look", "shown"),
    [
        pytest.param(_formatted("General"), CellStyle.COMPUTED_WHOLE, "0", id="none: a whole number"),
        pytest.param(_formatted("General"), CellStyle.COMPUTED_ADDRESS, ADDRESS, id="none: an address"),
        pytest.param(_formatted("General"), CellStyle.COMPUTED, "General", id="none, and none wanted"),
        pytest.param(_listed_general, CellStyle.COMPUTED_WHOLE, "0", id="none, listed by its name"),
        pytest.param(_formatted("0.00"), CellStyle.COMPUTED_WHOLE, "0.00", id="a built-in one stays"),
        pytest.param(_formatted('0" m"'), CellStyle.COMPUTED_ADDRESS, '0" m"', id="another stays"),
        pytest.param(_formatted("dd.mm.yyyy"), CellStyle.COMPUTED_WHOLE, "dd.mm.yyyy", id="a date stays"),
    ],
)
def test_a_number_format_is_added_to_a_cell_that_has_none(
    tmp_path: Path, make: Callable[[Path], None], look: CellStyle, shown: str
) -> None:
    path = tmp_path / "club.xlsx"
    make(path)

    _computed(path, (2, 7, "C2+1", 4), look=look)

    cell = openpyxl.load_workbook(path)[TITLE]["G2"]
    assert cell.number_format == shown
    assert cell.font.bold
    assert cell.fill.start_color.rgb == "FF112233"


def test_a_plain_cell_takes_the_look_with_its_number_format(path: Path) -> None:
    _computed(path, (2, 7, "C2", 3), look=CellStyle.COMPUTED_ADDRESS)
    _computed(path, (3, 7, "-C3", -4711), (4, 7, None, None), look=CellStyle.COMPUTED_ADDRESS)
    _computed(path, (5, 7, "C5", 9), look=CellStyle.COMPUTED_WHOLE)

    sheet = openpyxl.load_workbook(path)[TITLE]
    assert [sheet[name].number_format for name in ("G2", "G3", "G5")] == [ADDRESS, ADDRESS, "0"]
    assert sheet["G2"].font.italic
    assert [one.get("formatCode") for one in elements(parts(path)[STYLES], "numFmt")].count(ADDRESS) == 1


def test_a_column_of_dates_shows_a_result_as_a_whole_number(tmp_path: Path) -> None:
    path = tmp_path / "club.xlsx"
    book = club(path)
    locomotives(book).set_column("G:G", 9, book.add_format({"num_format": "dd.mm.yyyy", "bold": True}))
    book.close()

    _computed(path, (2, 7, "C2", 3), look=CellStyle.COMPUTED_WHOLE)
    _computed(path, (3, 7, "C3", 4711))

    sheet = openpyxl.load_workbook(path)[TITLE]
    assert [sheet[name].number_format for name in ("G2", "G3")] == ["0", "General"]
    assert [sheet[name].font.bold for name in ("G2", "G3")] == [True, True]


SIGNS = st.characters(
    blacklist_categories=("Cs", "Cc"), blacklist_characters="\ufffe\uffff", whitelist_characters="\t\n"
)


@given(
    formula=st.text(SIGNS, min_size=1, max_size=60),
    result=st.one_of(
        st.none(),
        st.booleans(),
        st.integers(-(2**53), 2**53),
        st.floats(allow_nan=False, allow_infinity=False),
        st.text(SIGNS, max_size=40),
    ),
)
@settings(max_examples=60, deadline=None, suppress_health_check=[HealthCheck.function_scoped_fixture])
def test_any_formula_and_result_come_back_as_they_were_given(
    stood: bytes, formula: str, result: Result
) -> None:
    change = CellChange(row=2, column=7, value=result, formula=formula)
    wanted = WorkbookChange(sheets=(SheetChange(title=TITLE, cells=(change,)),))

    data = edited(stood, "club", wanted)

    grid = read_workbook(opened_in_memory(data, "club"), lambda _: True).grids[TITLE]
    assert grid.formulas[2, 7] == formula
    assert [*grid.rows[1], "", ""][6] == ("" if result is None else result)
    assert edited(data, "club", wanted) == data


@pytest.fixture
def stood(path: Path) -> bytes:
    return path.read_bytes()
