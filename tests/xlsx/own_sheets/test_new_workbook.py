"""A new workbook of pages, as other programs read it."""

from pathlib import Path

import openpyxl
import pytest
from openxml_audit import OpenXmlValidator

from rosterkit.xlsx.changes import CellStyle, OwnCell, OwnSheet
from rosterkit.xlsx.own_sheets.new_workbook import workbook_of
from rosterkit.xlsx.package.opening import opened
from tests.xlsx.readers import Values, by_calamine, by_gnumeric, by_libreoffice, by_openpyxl

_ESCAPE = "_x000D_"
_TEXTS = (
    "plain",
    "=1+1",
    "a & b <c> \"d\" 'e'",
    " 0418 ",
    _ESCAPE,
    "two\nlines",
    "16,5 mm \u00fc",
    "x" * 300,
)
_LIST = OwnSheet(
    title="A & B's list",
    rows=[
        [OwnCell("Text", CellStyle.HEADING), OwnCell("Number", CellStyle.HEADING)],
        *([OwnCell(text, CellStyle.WRAPPED), OwnCell(number)] for number, text in enumerate(_TEXTS)),
        [OwnCell("a link", CellStyle.LINK, ("Second", "B2")), OwnCell(2.5, CellStyle.VALUE)],
    ],
    widths=(30, 10),
    frozen_rows=1,
    filtered=True,
)
_SECOND = OwnSheet(
    title="Second",
    rows=[[OwnCell("Title", CellStyle.TITLE)], [], [OwnCell(None, CellStyle.BOX), OwnCell("in a merge")]],
    widths=(8, 40, 8),
    landscape=False,
    heights={1: 26.0},
    merges=((3, 2, 3, 3),),
    breaks=(1, 2),
)


@pytest.fixture(scope="module")
def path(tmp_path_factory: pytest.TempPathFactory) -> Path:
    target = tmp_path_factory.mktemp("pages") / "pages.xlsx"
    target.write_bytes(workbook_of([_LIST, _SECOND]))
    return target


def expected(*, escape: str = _ESCAPE) -> Values:
    """Return the values.

    Some readers leave in what an escape is escaped with (ISO/IEC 29500-1, 22.9.2.19).
    """
    cells = {(row, 1): text.replace(_ESCAPE, escape) for row, text in enumerate(_TEXTS, 2)}
    numbers = {(row, 2): str(row - 2) for row in range(2, 2 + len(_TEXTS))}
    last = len(_TEXTS) + 2
    first = {(1, 1): "Text", (1, 2): "Number", **cells, **numbers, (last, 1): "a link", (last, 2): "2.5"}
    return {"A & B's list": first, "Second": {(1, 1): "Title", (3, 2): "in a merge"}}


def test_openpyxl_and_calamine_read_what_the_pages_say(path: Path) -> None:
    assert by_openpyxl(path) == expected(escape="_x005F_x000D_")
    assert by_calamine(path) == expected()


@pytest.mark.external
def test_libreoffice_and_gnumeric_read_what_the_pages_say(path: Path, tmp_path: Path) -> None:
    (tmp_path / "gnumeric").mkdir()

    assert by_libreoffice([path], tmp_path)[path] == expected()
    assert by_gnumeric(path, tmp_path / "gnumeric") == expected(escape="_x005F_x000D_")


def test_a_page_is_set_up_for_printing_and_finding_the_way(path: Path) -> None:
    book = openpyxl.load_workbook(path)
    listed, second = book.worksheets

    assert (listed.print_title_rows, listed.freeze_panes, listed.auto_filter.ref) == ("$1:$1", "A2", "A1:B10")
    assert (listed.page_setup.orientation, second.page_setup.orientation) == ("landscape", "portrait")
    assert (listed.page_setup.paperSize, listed.page_setup.fitToHeight) == (9, 0)
    link = listed.cell(10, 1).hyperlink
    assert link is not None
    assert link.location == "'Second'!B2"
    assert [str(area) for area in second.merged_cells.ranges] == ["B3:C3"]
    assert [one.id for one in second.row_breaks.brk] == [1, 2]
    assert (second.row_dimensions[1].height, second.column_dimensions["B"].width) == (26.0, 40.0)
    assert book.active is listed


def test_the_looks_are_drawn(path: Path) -> None:
    listed, second = openpyxl.load_workbook(path).worksheets

    assert listed.cell(1, 1).font.b
    assert listed.cell(2, 1).alignment.wrap_text
    assert listed.cell(10, 2).font.sz > listed.cell(2, 2).font.sz
    assert second.cell(3, 1).border.left.style == "thin"


def test_the_same_pages_give_a_workbook_of_the_same_sheets(path: Path) -> None:
    again = opened(path)
    other = path.with_name("again.xlsx")
    other.write_bytes(workbook_of([_LIST, _SECOND]))

    assert [sheet.title for sheet in again.sheets] == ["A & B's list", "Second"]
    assert [again.read(one.part) for one in again.sheets] == [
        opened(other).read(one.part) for one in opened(other).sheets
    ]


def test_a_judge_of_the_format_finds_fault_with_nothing_but_how_openpyxl_orders_fonts(path: Path) -> None:
    found = OpenXmlValidator().validate(str(path)).errors

    others = [str(one) for one in found if "inline-string" not in str(one)]
    assert {one.partition(":/styleSheet[1]/fonts[1]/font")[0] for one in others} <= {
        "[schema] /xl/styles.xml"
    }
