"""What cannot be written without harm is refused in a sentence that names sheet and cell."""

import re
from collections.abc import Callable
from pathlib import Path

import pytest

from rosterkit.errors import CannotRunError
from rosterkit.xlsx.changes import CellStyle, Highlight, SheetChange, WorkbookChange
from tests.xlsx.clubs import FINDINGS, TITLE, club, locomotives
from tests.xlsx.edits import changed, made
from tests.xlsx.features_drawn import png
from tests.xlsx.features_patched import pivot_tables
from tests.xlsx.packages import Patch, before, patch, relationships, replaced

SHEET = "xl/worksheets/sheet1.xml"
BOOK_LINKS = "xl/_rels/workbook.xml.rels"
OFFICE = "http://schemas.openxmlformats.org/officeDocument/2006/relationships"


@pytest.fixture
def path(tmp_path: Path) -> Path:
    made = tmp_path / "club.xlsx"
    club(made).close()
    return made


def _array(path: Path) -> None:
    book = club(path)
    locomotives(book).write_array_formula("G2:G4", "{=C2:C4*2}", None, 6)
    book.close()


def _spill(path: Path) -> None:
    book = club(path)
    sheet = locomotives(book)
    sheet.write_dynamic_array_formula("G2:G4", "=UNIQUE(A2:A6)", None, "M01")
    sheet.write("G3", "M02")
    book.close()


def _merge(path: Path) -> None:
    book = club(path)
    locomotives(book).merge_range("G2:H3", "over four")
    book.close()


def _image(path: Path) -> None:
    book = club(path)
    locomotives(book).embed_image("G3", "engine.png", {"image_data": png()})
    book.close()


def _shared_formula(path: Path) -> None:
    book = club(path)
    locomotives(book).write_formula("G3", "=C3+1", None, 4712)
    locomotives(book).write_formula("G4", "=C4+1", None, 129)
    book.close()
    shared = {
        "<f>C3+1</f>": '<f t="shared" ref="G3:G4" si="0">C3+1</f>',
        "<f>C4+1</f>": '<f t="shared" si="0"/>',
    }
    for old, new in shared.items():
        patch(path, {SHEET: replaced(old, new)})


def _data_table(path: Path) -> None:
    book = club(path)
    locomotives(book).write_formula("G2", "=C3+1", None, 4712)
    book.close()
    patch(path, {SHEET: replaced("<f>C3+1</f>", '<f t="dataTable" ref="G2:G4" dt2D="0" dtr="0" r1="A1"/>')})


@pytest.mark.parametrize(
    ("make", "cell", "why"),
    [
        pytest.param(_array, (3, 7, 1), r"G3 .*array formula \(G2:G4\)", id="a cell of an array formula"),
        pytest.param(
            _array, (2, 7, 1), r"G2 .*array formula \(G2:G4\)", id="the first cell of an array formula"
        ),
        pytest.param(_spill, (3, 7, 1), r"G3 .*array formula \(G2:G4\)", id="a cell of a spilt range"),
        pytest.param(_spill, (4, 7, 1), r"G4 .*array formula \(G2:G4\)", id="an empty cell of a spilt range"),
        pytest.param(
            _spill, (3, 7, None), r"G3 .*array formula \(G2:G4\)", id="emptying a cell of a spilt range"
        ),
        pytest.param(_data_table, (4, 7, 1), r"G4 .*data table \(G2:G4\)", id="a cell of a data table"),
        pytest.param(
            _merge, (3, 8, 1), r"H3 .*merged with others \(G2:H3\)", id="a merged cell that is not the first"
        ),
        pytest.param(_image, (3, 7, 1), "G3 .*holds an image", id="a cell with an image in it"),
        pytest.param(
            _shared_formula, (3, 7, 1), "G3 .*other cells are derived from", id="a formula that others share"
        ),
    ],
)
def test_cells_that_cannot_be_written_without_harm(
    tmp_path: Path, make: Callable[[Path], None], cell: tuple[int, int, int | None], why: str
) -> None:
    path = tmp_path / "harm.xlsx"
    make(path)
    content = path.read_bytes()

    with pytest.raises(CannotRunError, match=f"the cell {why}") as refused:
        changed(path, cell)

    assert "of its sheet 'Locomotives'" in refused.value.message
    assert path.read_bytes() == content


@pytest.mark.parametrize(
    ("make", "cell"),
    [
        pytest.param(_merge, (2, 7, 1), id="the first of merged cells"),
        pytest.param(_merge, (3, 8, None), id="emptying a merged cell that is empty"),
        pytest.param(_shared_formula, (4, 7, 1), id="a formula that is derived from another"),
        pytest.param(_array, (5, 7, 1), id="a cell below an array formula"),
    ],
)
def test_cells_beside_these_can_be_written(
    tmp_path: Path, make: Callable[[Path], None], cell: tuple[int, int, int | None]
) -> None:
    path = tmp_path / "harmless.xlsx"
    make(path)

    result = changed(path, cell)

    assert result.changed or cell[2] is None


def test_a_cell_inside_a_pivot_table(tmp_path: Path) -> None:
    path = tmp_path / "pivot.xlsx"
    pivot_tables(path)
    links = "xl/worksheets/_rels/sheet2.xml.rels"
    moved = relationships(("rId1", f"{OFFICE}/pivotTable", "../pivotTables/pivotTable1.xml"))
    patch(path, {links: lambda _: relationships()}, {"xl/worksheets/_rels/sheet1.xml.rels": moved})

    with pytest.raises(CannotRunError, match=r"the cell B4 .*lies in a pivot table \(A3:B7\)"):
        changed(path, (4, 2, "x"))


@pytest.mark.parametrize(
    ("change", "allowed"),
    [
        pytest.param(before("<pageMargins", '<sheetProtection sheet="1"/>'), False, id="a protected sheet"),
        pytest.param(before("<pageMargins", '<sheetProtection sheet="true"/>'), False, id="spelt true"),
        pytest.param(
            before("<pageMargins", '<sheetProtection objects="1"/>'), True, id="protected drawings only"
        ),
    ],
)
def test_a_protected_sheet(path: Path, change: Patch, *, allowed: bool) -> None:
    patch(path, {SHEET: change})

    if allowed:
        assert changed(path, (2, 7, 1)).changed
    else:
        with pytest.raises(CannotRunError, match="its sheet 'Locomotives' is protected"):
            changed(path, (2, 7, 1))


def test_a_workbook_whose_structure_is_protected_takes_no_new_sheet(path: Path) -> None:
    patch(path, {"xl/workbook.xml": before("<bookViews", '<workbookProtection lockStructure="1"/>')})

    with pytest.raises(CannotRunError, match="structure is protected"):
        made(path, WorkbookChange(own_sheets=(FINDINGS,)))


def test_a_workbook_whose_structure_is_protected_has_its_own_sheet_replaced(path: Path) -> None:
    made(path, WorkbookChange(own_sheets=(FINDINGS,)))
    patch(path, {"xl/workbook.xml": before("<bookViews", '<workbookProtection lockStructure="1"/>')})

    result = made(path, WorkbookChange(own_sheets=(FINDINGS,)))

    assert result.titles == {"Findings": "Findings"}


@pytest.mark.parametrize(
    ("change", "why"),
    [
        pytest.param(
            replaced('<row r="3"', '<row r="2"'), "row 2 follows row 2", id="two rows of one number"
        ),
        pytest.param(replaced('<row r="6"', '<row r="4"'), "row 4 follows row 5", id="rows out of order"),
        pytest.param(
            replaced('r="B2"', 'r="A2"'), "cells of row 2 are out of order", id="two cells of one reference"
        ),
        pytest.param(
            replaced('r="B2"', 'r="E2"'), "cells of row 2 are out of order", id="cells out of order"
        ),
        pytest.param(
            replaced('r="B2"', 'r="B7"'), "row 2 holds a cell that calls itself 'B7'", id="a wrong reference"
        ),
        pytest.param(
            replaced("</sheetData>", ""), "not well-formed XML", id="markup that is not well-formed"
        ),
        pytest.param(
            replaced('<row r="2"', '<row xmlns="urn:x" r="2"'),
            "declares a namespace among its cells",
            id="namespaces",
        ),
    ],
)
def test_a_sheet_that_is_not_in_order(path: Path, change: Patch, why: str) -> None:
    patch(path, {SHEET: change})
    content = path.read_bytes()

    with pytest.raises(CannotRunError, match=why):
        changed(path, (2, 7, 1))

    assert path.read_bytes() == content


def test_a_signed_workbook(path: Path) -> None:
    kind = "http://schemas.openxmlformats.org/package/2006/relationships/digital-signature/origin"
    link = f'<Relationship Id="s" Type="{kind}" Target="_xmlsignatures/origin.sigs"/>'
    patch(path, {"_rels/.rels": before("</Relationships>", link)}, {"_xmlsignatures/origin.sigs": b"signed"})

    with pytest.raises(CannotRunError, match="bears a digital signature"):
        changed(path, (2, 7, 1))


def test_a_shared_workbook(path: Path) -> None:
    link = f'<Relationship Id="s" Type="{OFFICE}/revisionHeaders" Target="revisions/revisionHeaders.xml"/>'
    patch(
        path,
        {BOOK_LINKS: before("</Relationships>", link)},
        {"xl/revisions/revisionHeaders.xml": "<headers/>"},
    )

    with pytest.raises(CannotRunError, match="shared workbook"):
        changed(path, (2, 7, 1))


def test_a_sheet_that_is_not_there(path: Path) -> None:
    with pytest.raises(CannotRunError, match="has no sheet 'Engines'"):
        made(path, WorkbookChange(sheets=(SheetChange(title="Engines"),)))


def test_a_sheet_that_holds_no_cells(tmp_path: Path) -> None:
    path = tmp_path / "chart.xlsx"
    book = club(path)
    chart = book.add_chart({"type": "line"})
    chart.add_series({"values": "=Locomotives!$E$2:$E$6"})
    book.add_chartsheet("Chart").set_chart(chart)
    book.close()
    highlight = Highlight(ranges=("A1",), formula="TRUE", look=CellStyle.ERROR)

    with pytest.raises(CannotRunError, match="its sheet 'Chart' holds no cells"):
        made(path, WorkbookChange(sheets=(SheetChange(title="Chart", highlights=(highlight,)),)))


def test_a_number_that_no_cell_can_hold(path: Path) -> None:
    with pytest.raises(CannotRunError, match="not finite"):
        changed(path, (2, 7, float("nan")))


def test_titles_are_found_whatever_their_case(path: Path) -> None:
    result = made(path, WorkbookChange(sheets=(SheetChange(title=TITLE.upper(), widths={7: 12}),)))

    assert result.changed


@pytest.mark.parametrize(
    "dimension",
    [
        pytest.param(True, id="a sheet that says how far it reaches"),
        pytest.param(False, id="one that does not"),
    ],
)
@pytest.mark.parametrize(
    ("cell", "why"),
    [
        pytest.param(
            (1, 16_385, "CV17"),
            "the cell XFE1 .*beyond the last column that a sheet has",
            id="a column too far",
        ),
        pytest.param(
            (1_048_577, 2, "JV 31"),
            "the cell B1048577 .*beyond the last row that a sheet has",
            id="a row too far",
        ),
    ],
)
def test_a_cell_beyond_the_end_of_the_sheet(
    path: Path, cell: tuple[int, int, str], why: str, *, dimension: bool
) -> None:
    if not dimension:
        patch(path, {SHEET: replaced('<dimension ref="A1:E6"/>', "")})
    content = path.read_bytes()

    with pytest.raises(CannotRunError, match=why):
        changed(path, cell)

    assert path.read_bytes() == content


@pytest.mark.parametrize("cell", [(1, 16_384, "CV17"), (1_048_576, 2, "JV 31")], ids=["column", "row"])
def test_the_last_cell_of_a_sheet_can_be_written(path: Path, cell: tuple[int, int, str]) -> None:
    assert changed(path, cell).changed


def _twice(data: bytes) -> bytes:
    found = re.search(rb"<borders.*?</borders>", data, re.DOTALL)
    assert found is not None
    return data.replace(found[0], found[0] * 2)


@pytest.mark.parametrize(
    ("part", "change", "why"),
    [
        pytest.param(
            SHEET,
            replaced('r="B2"', 'r="B2&#10;"'),
            r"row 2 holds a cell that calls itself 'B2\\n'",
            id="a reference with a line end",
        ),
        pytest.param(
            SHEET,
            replaced('<row r="2"', '<row r="2&#10;"'),
            r"a row bears the number '2\\n'",
            id="a row's number with a line end",
        ),
        pytest.param(
            SHEET,
            replaced('/2006/main"', '/2006/main&#10;"'),
            r"its sheet 'Locomotives' is not well-formed XML \(xmlns: .* is not a valid URI",
            id="a namespace with a line end",
        ),
        pytest.param(
            SHEET,
            replaced("<sheetData>", '<cols><col min="one" max="2" width="4"/></cols><sheetData>'),
            "speaks of the columns 'one' to '2'",
            id="columns that no sheet has",
        ),
        pytest.param("xl/styles.xml", _twice, "holds its borders more than once", id="two lists of borders"),
        pytest.param(
            "xl/styles.xml",
            lambda _: b"<styleSheet/>",
            "is no style sheet",
            id="a style sheet of no namespace",
        ),
    ],
)
def test_what_is_damaged_in_an_odd_way_is_refused_in_one_line(
    path: Path, part: str, change: Patch, why: str
) -> None:
    patch(path, {part: change})
    content = path.read_bytes()

    with pytest.raises(CannotRunError, match=why) as refused:
        changed(path, (2, 7, 1))

    assert path.read_bytes() == content
    assert "\n" not in refused.value.message
    assert "second look" not in refused.value.message
