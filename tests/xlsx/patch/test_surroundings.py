"""What has to fit the cells that rosterkit writes: dimension, spans, widths, styles and calculation."""

from pathlib import Path

import openpyxl
import pytest
from lxml import etree

from rosterkit.xlsx.changes import CellStyle, SheetChange, WorkbookChange
from tests.xlsx.clubs import TITLE, club, locomotives
from tests.xlsx.edits import changed, made
from tests.xlsx.packages import cells, element, elements, parts, patch, replaced

SHEET = "xl/worksheets/sheet1.xml"


@pytest.fixture
def path(tmp_path: Path) -> Path:
    made = tmp_path / "club.xlsx"
    club(made).close()
    return made


def test_the_dimension_and_the_spans_of_rows_are_widened(path: Path) -> None:
    changed(path, (2, 7, 1), (9, 2, 1))

    data = parts(path)[SHEET]

    assert element(data, "dimension").get("ref") == "A1:G9"
    assert [row.get("spans") for row in elements(data, "row")] == [
        "1:5",
        "1:7",
        "1:5",
        "1:5",
        "1:5",
        "1:5",
        None,
    ]


@pytest.mark.parametrize(
    ("widths", "stated", "expected"),
    [
        pytest.param({7: 9.5}, "", [(7, 7, "9.5")], id="no widths before"),
        pytest.param(
            {7: 9.5, 9: 20},
            '<col min="1" max="2" width="4"/><col min="6" max="16384" width="11" customWidth="1"/>',
            [(1, 2, "4"), (6, 6, "11"), (7, 7, "9.5"), (8, 8, "11"), (9, 9, "20"), (10, 16384, "11")],
            id="a run that goes to the last column is split",
        ),
        pytest.param(
            {7: 9.5, 4: 8},
            '<col min="1" max="2" width="4"/><col min="9" max="9" width="5"/>',
            [(1, 2, "4"), (4, 4, "8"), (7, 7, "9.5"), (9, 9, "5")],
            id="new columns stand between others",
        ),
        pytest.param(
            {7: 9.5},
            '<col min="7" max="7" width="33" customWidth="1"/>',
            [(7, 7, "33")],
            id="a width of the member's is kept",
        ),
        pytest.param(
            {7: 9.5, 4: 8},
            '<col min="1" max="2" width="4"></col><col min="6" max="8" width="11" customWidth="1"\n></col>',
            [(1, 2, "4"), (4, 4, "8"), (6, 6, "11"), (7, 7, "9.5"), (8, 8, "11")],
            id="what is said of columns ends with a tag of its own",
        ),
    ],
)
def test_columns_get_their_widths(
    path: Path, widths: dict[int, float], stated: str, expected: list[tuple[int, int, str]]
) -> None:
    if stated:
        patch(path, {SHEET: replaced("<sheetData>", f"<cols>{stated}</cols><sheetData>")})

    made(path, WorkbookChange(sheets=(SheetChange(title=TITLE, widths=widths),)))

    columns = elements(parts(path)[SHEET], "col")
    assert [
        (int(one.get("min", "")), int(one.get("max", "")), one.get("width")) for one in columns
    ] == expected


def test_styles_do_not_grow_when_cells_are_written_again(path: Path) -> None:
    changed(path, (2, 7, 1), look=CellStyle.COMPUTED)
    before = parts(path)["xl/styles.xml"]

    changed(path, (3, 7, 2), (2, 7, 5), look=CellStyle.COMPUTED)

    assert parts(path)["xl/styles.xml"] == before


def test_counts_in_the_styles_are_right(path: Path) -> None:
    changed(path, (2, 7, 1), (2, 8, "x"), look=CellStyle.BOX)

    root = etree.fromstring(parts(path)["xl/styles.xml"])

    counted = [one for one in root if one.get("count") is not None]
    assert [int(one.get("count", "")) for one in counted] == [len(one) for one in counted]


def test_an_overwritten_formula_takes_the_calculation_chain_out(tmp_path: Path) -> None:
    path = tmp_path / "formulas.xlsx"
    book = club(path)
    locomotives(book).write_formula("G2", "=C2+1", None, 4)
    book.close()
    links = "xl/_rels/workbook.xml.rels"
    kind = "http://schemas.openxmlformats.org/officeDocument/2006/relationships/calcChain"
    override = '<Override PartName="/xl/calcChain.xml" ContentType="application/vnd.ms-excel.calcchain+xml"/>'
    patch(
        path,
        {
            links: replaced(
                "</Relationships>",
                f'<Relationship Id="c" Type="{kind}" Target="calcChain.xml"/></Relationships>',
            ),
            "[Content_Types].xml": replaced("</Types>", f"{override}</Types>"),
        },
        {"xl/calcChain.xml": '<calcChain><c r="G2" i="1"/></calcChain>'},
    )

    changed(path, (2, 8, 1))
    with_chain = set(parts(path))
    changed(path, (2, 7, 5))
    found = parts(path)

    assert "xl/calcChain.xml" in with_chain
    assert "xl/calcChain.xml" not in found
    assert b"calcChain" not in found[links] + found["[Content_Types].xml"]


@pytest.mark.parametrize(
    ("formula", "asked"),
    [
        pytest.param("=G2*2", "1", id="where there are formulas"),
        pytest.param(None, None, id="not where there are none"),
    ],
)
def test_programs_are_asked_to_work_formulas_out_anew(
    tmp_path: Path, formula: str | None, asked: str | None
) -> None:
    path = tmp_path / "formulas.xlsx"
    book = club(path)
    if formula:
        locomotives(book).write_formula("A9", formula, None, 17)
    book.set_calc_mode("manual")
    book.close()
    changed(path, (2, 7, 5))
    calculation = element(parts(path)["xl/workbook.xml"], "calcPr")

    assert calculation.get("fullCalcOnLoad") == asked
    assert calculation.get("calcMode") == "manual"
    assert not formula or b"<v>17</v>" in cells(parts(path)[SHEET])["A9"]


@pytest.mark.filterwarnings("ignore:Workbook contains no default style:UserWarning:openpyxl")
@pytest.mark.parametrize(
    "collections",
    [
        pytest.param("", id="a style sheet of one tag"),
        pytest.param('<fonts count="0"/><cellXfs count="0"></cellXfs>', id="empty lists"),
    ],
)
def test_an_empty_style_sheet_is_filled(path: Path, collections: str) -> None:
    space = "http://schemas.openxmlformats.org/spreadsheetml/2006/main"
    end = f">{collections}</styleSheet>" if collections else "/>"
    styles = f'<styleSheet xmlns="{space}"{end}'
    patch(
        path, {"xl/styles.xml": lambda _: styles.encode(), SHEET: lambda data: data.replace(b' s="1"', b"")}
    )

    changed(path, (2, 7, 5), look=CellStyle.COMPUTED)

    sheet = openpyxl.load_workbook(path)[TITLE]
    assert (sheet["G2"].value, sheet["G2"].font.italic, sheet["A2"].font.italic) == (5, True, False)
    assert not changed(path, (2, 7, 5), look=CellStyle.COMPUTED).changed
