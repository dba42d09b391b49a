"""Highlights: conditional formats of ours among those of the members."""

from pathlib import Path

import openpyxl
import pytest
from lxml import etree

from rosterkit.xlsx.changes import CellStyle, Highlight, SheetChange, WorkbookChange
from rosterkit.xlsx.save.edit import Edited
from tests.xlsx.clubs import TITLE, club, locomotives
from tests.xlsx.edits import made
from tests.xlsx.features_kept import conditional_formats
from tests.xlsx.features_patched import unknown_extensions, validation_from_another_sheet
from tests.xlsx.packages import element, elements, parts, patch, replaced

SHEET = "xl/worksheets/sheet1.xml"
RED = Highlight(ranges=("C3", "E2:E4"), formula='AND(N("rosterkit")=0,C3<>"")', look=CellStyle.ERROR)
AMBER = Highlight(ranges=("C5",), formula="C5>2", look=CellStyle.WARNING)


def highlighted(path: Path, *highlights: Highlight) -> Edited:
    return made(path, WorkbookChange(sheets=(SheetChange(title=TITLE, highlights=highlights),)))


@pytest.fixture
def path(tmp_path: Path) -> Path:
    made = tmp_path / "club.xlsx"
    conditional_formats(made)
    return made


def test_highlights_come_behind_the_members_in_place_and_priority(path: Path) -> None:
    priorities = [int(rule.get("priority", "")) for rule in _rules(path)]

    highlighted(path, RED, AMBER)

    rules = _rules(path)
    assert [int(rule.get("priority", "")) for rule in rules] == [
        *priorities,
        max(priorities) + 1,
        max(priorities) + 2,
    ]
    assert [formula.text for rule in rules[-2:] for formula in rule] == [
        'AND(N("rosterkit")=0,C3<>"")',
        'AND(N("rosterkit")=0,C5>2)',
    ]


def _rules(path: Path) -> list[etree._Element]:
    """Return the rules that stand in the sheet itself."""
    return etree.fromstring(parts(path)[SHEET]).findall("{*}conditionalFormatting/{*}cfRule")


@pytest.mark.filterwarnings("ignore:.*:UserWarning:openpyxl")
def test_a_highlight_is_drawn_as_its_look(path: Path) -> None:
    highlighted(path, RED)

    ranges = openpyxl.load_workbook(path)[TITLE].conditional_formatting
    rule = next(rule for one in ranges if str(one.sqref) == "C3 E2:E4" for rule in one.rules)

    assert (rule.dxf.fill.bgColor.rgb, rule.dxf.font.color.rgb) == ("FFFFC7CE", "FF9C0006")


def test_highlights_are_replaced(path: Path) -> None:
    original = parts(path)[SHEET]
    highlighted(path, RED, AMBER)

    highlighted(path, AMBER)

    assert len(elements(parts(path)[SHEET], "cfRule")) == len(elements(original, "cfRule")) + 1


def test_highlights_are_taken_out_whole(path: Path) -> None:
    original = parts(path)[SHEET]
    highlighted(path, RED, AMBER)

    highlighted(path)

    assert parts(path)[SHEET] == original


def test_the_formats_of_rules_do_not_grow(path: Path) -> None:
    highlighted(path, RED, AMBER)
    before = parts(path)["xl/styles.xml"]

    highlighted(path)
    highlighted(path, AMBER, RED)

    assert parts(path)["xl/styles.xml"] == before


def test_our_rule_is_found_beside_one_of_a_member_for_the_same_cells(path: Path) -> None:
    highlighted(path, RED)
    theirs = '<cfRule type="expression" dxfId="0" priority="40"><formula>A1=1</formula></cfRule>'
    patch(
        path,
        {
            SHEET: replaced(
                '<conditionalFormatting sqref="C3 E2:E4">',
                f'<conditionalFormatting sqref="C3 E2:E4">{theirs}',
            )
        },
    )

    highlighted(path)

    data = parts(path)[SHEET]
    assert theirs.encode() in data
    assert b'N("rosterkit")' not in data


def test_a_rule_of_a_member_that_speaks_of_rosterkit_stays(path: Path) -> None:
    highlighted(path, RED)
    highlighted(path)

    assert b'$A1="rosterkit"' in parts(path)[SHEET]


def test_priorities_of_rules_in_the_extensions_count(tmp_path: Path) -> None:
    path = tmp_path / "extended.xlsx"
    validation_from_another_sheet(path)

    highlighted(path, RED)

    rules = elements(parts(path)[SHEET], "cfRule")
    assert [rule.get("priority") for rule in rules] == ["8", "7"]


@pytest.mark.parametrize(
    "make", [unknown_extensions, conditional_formats], ids=["unknown extensions", "x14 rules"]
)
def test_highlights_stand_in_the_sheet_itself_not_in_an_extension(tmp_path: Path, make: object) -> None:
    path = tmp_path / "extended.xlsx"
    assert callable(make)
    make(path)

    highlighted(path, AMBER)

    parents = [one.getparent() for one in elements(parts(path)[SHEET], "conditionalFormatting")]
    ours = next(one for one in elements(parts(path)[SHEET], "formula") if 'rosterkit")=0' in str(one.text))
    assert parents
    assert [str(one.tag).rpartition("}")[2] for one in ours.iterancestors()] == [
        "cfRule",
        "conditionalFormatting",
        "worksheet",
    ]


def test_highlights_stand_before_validations_and_links(tmp_path: Path) -> None:
    path = tmp_path / "order.xlsx"
    book = club(path)
    sheet = locomotives(book)
    sheet.data_validation("C2:C9", {"validate": "integer", "criteria": ">", "value": 0})
    sheet.write_url("A9", "internal:Locomotives!A1")
    sheet.merge_range("A10:B10", "")
    book.close()

    highlighted(path, AMBER)

    root = element(parts(path)[SHEET], "sheetData").getparent()
    assert root is not None
    names = [str(child.tag).rpartition("}")[2] for child in root]
    assert names[names.index("mergeCells") :][:4] == [
        "mergeCells",
        "conditionalFormatting",
        "dataValidations",
        "hyperlinks",
    ]


_GROUP = (
    '<cfRule type="expression" dxfId="0" priority="9"><formula>AND(N("rosterkit")=0,A1=1)</formula></cfRule>'
)
_EXTENSION = '<extLst><ext uri="{1}" xmlns:y="urn:y"><y:id>N("rosterkit")</y:id></ext></extLst>'


@pytest.mark.parametrize(
    "theirs",
    [
        pytest.param(_EXTENSION, id="an extension"),
        pytest.param('<y:cfRule xmlns:y="urn:y" priority="1"/>', id="a rule of another namespace"),
        pytest.param("<!-- ask M02 -->", id="a comment"),
    ],
)
def test_what_another_program_put_into_a_group_of_ours_stays(tmp_path: Path, theirs: str) -> None:
    path = tmp_path / "club.xlsx"
    club(path).close()
    group = f'<conditionalFormatting sqref="C3">{_GROUP}{theirs}</conditionalFormatting>'
    patch(path, {SHEET: replaced("<pageMargins", group + "<pageMargins")})

    highlighted(path, AMBER)

    assert theirs.encode() in parts(path)[SHEET]
    assert [one.text for one in elements(parts(path)[SHEET], "formula")] == [
        'AND(N("rosterkit")=0,FALSE)',
        'AND(N("rosterkit")=0,C5>2)',
    ]
    assert [rule.get("priority") for rule in _rules(path)][-1] == "10"
    assert not highlighted(path, AMBER).changed


def test_a_rule_is_not_ours_by_what_stands_in_its_extension(tmp_path: Path) -> None:
    path = tmp_path / "club.xlsx"
    club(path).close()
    rule = f'<cfRule type="expression" priority="9"><formula>A1=1</formula>{_EXTENSION}</cfRule>'
    group = f'<conditionalFormatting sqref="C3">{rule}</conditionalFormatting>'
    patch(path, {SHEET: replaced("<pageMargins", group + "<pageMargins")})

    highlighted(path, AMBER)

    assert group.encode() in parts(path)[SHEET]


def test_a_rule_of_ours_is_known_however_its_formula_is_spaced(tmp_path: Path) -> None:
    path = tmp_path / "club.xlsx"
    club(path).close()
    rule = '<cfRule type="expression" priority="9"><formula>AND(N(\n"ROSTERKIT"\t)=0,A1)</formula></cfRule>'
    group = f'<conditionalFormatting sqref="C3">{rule}</conditionalFormatting>'
    patch(path, {SHEET: replaced("<pageMargins", group + "<pageMargins")})

    highlighted(path)

    assert _rules(path) == []
