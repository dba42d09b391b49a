"""Sheets of rosterkit's own: added at the end, replaced where they stand, never in place of a member's."""

from pathlib import Path

import openpyxl
import pytest

from rosterkit.xlsx.changes import CellStyle, OwnCell, OwnSheet, WorkbookChange
from rosterkit.xlsx.package.opening import opened
from rosterkit.xlsx.save.edit import Edited
from tests.xlsx.clubs import FINDINGS, TITLE, club
from tests.xlsx.edits import made
from tests.xlsx.packages import element, elements, parts, patch, replaced, stored

BOOK = "xl/workbook.xml"
CARDS = OwnSheet(
    title="Cards",
    rows=[
        [OwnCell("Harbour shunter", CellStyle.ENGINE), OwnCell(None, CellStyle.ENGINE)],
        [OwnCell("Address"), OwnCell(3, CellStyle.VALUE)],
        [OwnCell("CV29"), OwnCell("0000 0110", CellStyle.FIXED), OwnCell(None, CellStyle.BOX)],
        [],
        [OwnCell("Night mail", CellStyle.ENGINE)],
    ],
    landscape=False,
    breaks=(3,),
    heights={1: 24.5, 4: 6},
    merges=((1, 1, 1, 2),),
)


def own_sheets(path: Path, *wanted: OwnSheet) -> Edited:
    return made(path, WorkbookChange(own_sheets=wanted))


@pytest.fixture
def path(tmp_path: Path) -> Path:
    made = tmp_path / "club.xlsx"
    book = club(made)
    book.add_worksheet("Notes").write("A1", "kept")
    book.get_worksheet_by_name("Notes").activate()
    book.close()
    return made


def test_new_sheets_stand_behind_all_others_and_the_active_one_stays(path: Path) -> None:
    own_sheets(path, FINDINGS, CARDS)

    book = openpyxl.load_workbook(path)

    assert book.sheetnames == [TITLE, "Notes", "Findings", "Cards"]
    assert book.active is not None
    assert book.active.title == "Notes"
    assert [sheet.get("sheetId") for sheet in elements(parts(path)[BOOK], "sheet")] == ["1", "2", "3", "4"]


def test_a_page_looks_as_asked(path: Path) -> None:
    own_sheets(path, FINDINGS, CARDS)

    book = openpyxl.load_workbook(path)
    findings, cards = book["Findings"], book["Cards"]

    assert (findings.freeze_panes, findings.auto_filter.ref, findings.print_title_rows) == (
        "A3",
        "A2:D4",
        "$1:$2",
    )
    assert findings.column_dimensions["B"].width == 60
    assert (findings.page_setup.orientation, cards.page_setup.orientation) == ("landscape", "portrait")
    assert [one.id for one in cards.row_breaks.brk] == [3]
    assert (cards.row_dimensions[1].height, cards.row_dimensions[4].height) == (24.5, 6)
    assert [str(one) for one in cards.merged_cells.ranges] == ["A1:B1"]
    assert (cards["B2"].value, cards["B2"].font.bold, cards["C3"].border.left.style) == (3, True, "thin")
    data = parts(path)["xl/worksheets/sheet3.xml"]
    assert element(data, "oddFooter").text == "&L&8&F  ·  &A&R&8Page &P of &N"
    assert (element(data, "pageSetup").get("fitToHeight"), element(data, "pageSetUpPr").get("fitToPage")) == (
        "0",
        "1",
    )


def test_links_lead_into_the_workbook_whatever_the_sheet_is_called(path: Path) -> None:
    page = OwnSheet(title="Findings", rows=[[OwnCell("C3", CellStyle.LINK, ("Bob's & Co", "C3"))]])

    own_sheets(path, page)

    assert openpyxl.load_workbook(path)["Findings"]["A1"].hyperlink.location == "'Bob''s & Co'!C3"


def test_an_earlier_page_is_replaced_where_it_stands(path: Path) -> None:
    own_sheets(path, FINDINGS, CARDS)
    before = stored(path)
    shorter = OwnSheet(title="findings", rows=[[OwnCell("nothing found")]])

    result = own_sheets(path, shorter)

    after = stored(path)
    assert result.titles == {"findings": "Findings"}
    assert openpyxl.load_workbook(path).sheetnames == [TITLE, "Notes", "Findings", "Cards"]
    assert {name for name in after if after[name] != before.get(name)} == {"xl/worksheets/sheet3.xml", BOOK}
    names = [(one.get("name"), one.get("localSheetId")) for one in elements(parts(path)[BOOK], "definedName")]
    assert names == [("_rosterkit_made", "2"), ("_rosterkit_made", "3")]


def test_a_page_is_replaced_after_members_moved_renamed_and_hid_sheets(path: Path) -> None:
    own_sheets(path, FINDINGS)
    sheets = [
        '<sheet name="Locomotives" sheetId="1" r:id="rId1"/>',
        '<sheet name="Notes" sheetId="2" r:id="rId2"/>',
        '<sheet name="Findings" sheetId="3" r:id="rId6"/>',
    ]
    assert "".join(sheets).encode() in parts(path)[BOOK]
    hidden = sheets[2].replace("/>", ' state="hidden"/>')
    patch(path, {BOOK: replaced("".join(sheets), hidden + sheets[0] + sheets[1])})
    patch(path, {BOOK: lambda data: data.replace(b'localSheetId="2"', b'localSheetId="0"')})

    own_sheets(path, CARDS, FINDINGS)

    assert [(sheet.title, sheet.hidden, sheet.is_own) for sheet in opened(path).sheets] == [
        ("Findings", True, True),
        ("Locomotives", False, False),
        ("Notes", False, False),
        ("Cards", False, True),
    ]


@pytest.mark.parametrize(
    ("standing", "title"),
    [
        pytest.param(["Findings"], "Findings (rosterkit)", id="the title is taken"),
        pytest.param(["FINDINGS"], "Findings (rosterkit)", id="in other letters"),
        pytest.param(["Findings", "Findings (rosterkit)"], "Findings (rosterkit 2)", id="both are taken"),
    ],
)
def test_a_sheet_of_the_members_is_never_replaced(tmp_path: Path, standing: list[str], title: str) -> None:
    path = tmp_path / "taken.xlsx"
    book = club(path)
    for name in standing:
        book.add_worksheet(name).write("A1", "mine")
    book.close()
    linking = OwnSheet(title="Cards", rows=[[OwnCell("see", CellStyle.LINK, ("Findings", "A1"))]])

    first = own_sheets(path, FINDINGS, linking)
    second = own_sheets(path, FINDINGS, linking)

    read = openpyxl.load_workbook(path)
    assert first.titles["Findings"] == second.titles["Findings"] == title
    assert read.sheetnames == [TITLE, *standing, title, "Cards"]
    assert [read[name]["A1"].value for name in standing] == ["mine"] * len(standing)
    assert read["Cards"]["A1"].hyperlink.location == f"'{title}'!A1"


@pytest.mark.parametrize(
    ("wanted", "title"),
    [
        pytest.param("Cards: M01/M02 [all]?*\\", "Cards  M01 M02  all", id="signs that no title may have"),
        pytest.param("x" * 40, "x" * 31, id="too long"),
        pytest.param("😀" * 20, "😀" * 15, id="too long in units of two"),
        pytest.param("'quoted'", "quoted", id="quotes at its ends"),
        pytest.param("History", "History 1", id="the title that programs keep to themselves"),
        pytest.param("?", "Sheet", id="nothing left"),
        pytest.param('a & <b> "c" it\'s', 'a & <b> "c" it\'s', id="signs of the markup"),
    ],
)
def test_titles_are_such_as_a_sheet_may_have(path: Path, wanted: str, title: str) -> None:
    page = OwnSheet(
        title=wanted, rows=[[OwnCell("a", CellStyle.HEADING)], [OwnCell(1)]], frozen_rows=1, filtered=True
    )

    result = own_sheets(path, page)

    assert result.titles == {wanted: title}
    assert openpyxl.load_workbook(path).sheetnames == [TITLE, "Notes", title]
    assert not own_sheets(path, page).changed


def test_what_a_member_put_on_our_sheet_does_not_stand_in_the_way(path: Path) -> None:
    own_sheets(path, FINDINGS)
    links = '<?xml version="1.0"?><Relationships xmlns="http://schemas.openxmlformats.org/package/2006/relationships"/>'
    patch(path, {}, {"xl/worksheets/_rels/sheet3.xml.rels": links})

    own_sheets(path, OwnSheet(title="Findings", rows=[[OwnCell("new")]]))

    assert "xl/worksheets/_rels/sheet3.xml.rels" not in parts(path)


def test_our_sheet_stays_the_one_that_shows(path: Path) -> None:
    own_sheets(path, FINDINGS)
    patch(
        path,
        {"xl/worksheets/sheet3.xml": replaced("<sheetView ", '<sheetView tabSelected="1" ')},
    )

    own_sheets(path, OwnSheet(title="Findings", rows=[[OwnCell("new")]]))

    assert element(parts(path)["xl/worksheets/sheet3.xml"], "sheetView").get("tabSelected") == "1"


def test_the_document_properties_are_left_alone(path: Path) -> None:
    before = stored(path)["docProps/app.xml"]

    own_sheets(path, FINDINGS)

    assert stored(path)["docProps/app.xml"] == before
