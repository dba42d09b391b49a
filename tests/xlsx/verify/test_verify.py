"""The proof of an edited workbook sees whatever changed beyond what was meant."""

import re
from dataclasses import replace
from pathlib import Path

import pytest

from rosterkit.errors import CannotRunError
from rosterkit.xlsx.package.opening import Package, opened
from rosterkit.xlsx.patch.draft import Draft
from rosterkit.xlsx.save.zip_writer import zipped
from rosterkit.xlsx.verify.verify import verify_edit
from tests.xlsx.clubs import TITLE
from tests.xlsx.packages import Patch, replaced
from tests.xlsx.verify.tampering import BOOK, PAGE, SHEET, STYLES, claims_of, spoilt


def test_what_was_meant_is_proven(package: Package, after: Path) -> None:
    verify_edit(package, after.read_bytes(), claims_of(package, after))

    assert [sheet.title for sheet in opened(after).sheets] == [TITLE, "Notes", "Findings"]


CHANGES = [
    pytest.param(SHEET, replaced("<v>4711</v>", "<v>4712</v>"), "other cells of row 3", id="a value"),
    pytest.param(SHEET, replaced('r="D3" s="1"', 'r="D3" s="0"'), "other cells of row 3", id="a format"),
    pytest.param(SHEET, replaced("SUM(C2:C6)", "SUM(C2:C7)"), "other cells of row 9", id="a formula"),
    pytest.param(SHEET, replaced("<v>5852</v>", ""), "other cells of row 9", id="a stored value"),
    pytest.param(
        SHEET, replaced('<c r="E6"><v>155.125</v></c>', ""), "other cells of row 6", id="a lost cell"
    ),
    pytest.param(
        SHEET,
        replaced('<c r="F6"', '<c r="F66"'),
        "F66 is out of order",
        id="a cell of ours with a wrong name",
    ),
    pytest.param(SHEET, replaced("<v>194</v>", "<v>195</v>"), "F2 does not hold", id="a value of ours"),
    pytest.param(SHEET, replaced("=1+1", "=1+2"), "H2 does not hold", id="a text of ours"),
    pytest.param(
        SHEET,
        lambda data: re.sub(rb'<c r="H2".*?</c>', b'<c r="H2"><f>1+1</f><v>2</v></c>', data),
        "H2 does not hold",
        id="a formula of ours",
    ),
    pytest.param(
        SHEET, lambda data: re.sub(rb'<row r="4".*?</row>', b"", data), "F4 is missing", id="a lost row"
    ),
    pytest.param(
        SHEET, lambda data: re.sub(rb'<row r="9".*?</row>', b"", data), "a row is missing", id="a lost total"
    ),
    pytest.param(
        SHEET,
        lambda data: re.sub(rb'(<c r="F3".*?</c>)(.*?<row r="4"[^>]*>)', rb"\2\1", data, flags=re.DOTALL),
        "F3 is missing",
        id="a cell of ours in another row",
    ),
    pytest.param(
        SHEET,
        lambda data: re.sub(rb'(<c r="C3".*?</c>)(.*?)(<c r="F3".*?</c>)', rb"\3\1\2", data, flags=re.DOTALL),
        "",
        id="a cell of ours before those left of it",
    ),
    pytest.param(
        SHEET,
        lambda data: re.sub(rb'(<c r="F3".*?</c>)', rb"\1\1", data, flags=re.DOTALL),
        "F3 is out of order",
        id="a cell of ours twice",
    ),
    pytest.param(
        SHEET,
        lambda data: re.sub(rb'(<row r="2".*?</row>)(<row r="3".*?</row>)', rb"\2\1", data, flags=re.DOTALL),
        "the rows are not in order",
        id="two rows that changed places",
    ),
    pytest.param(
        SHEET,
        replaced("</sheetData>", '<row r="1048577"><c r="F1048577"><v>1</v></c></row></sheetData>'),
        "not in order",
        id="a row beyond the last one",
    ),
    pytest.param(SHEET, replaced("</sheetData>", "text</sheetData>"), "", id="text among the rows"),
    pytest.param(SHEET, replaced("</worksheet>", "</worksheet>x"), "", id="text at the end"),
    pytest.param(
        BOOK,
        replaced("<definedNames>", '<definedNames><definedName name="X">1</definedName>'),
        "",
        id="a name",
    ),
    pytest.param(
        SHEET, replaced("</sheetData>", '<row r="99"/></sheetData>'), "row 99 is new", id="a row too many"
    ),
    pytest.param(SHEET, replaced('<row r="5"', '<row r="5" hidden="1"'), "cells of row 5", id="a hidden row"),
    pytest.param(
        SHEET, replaced('<row r="6"', '<row r="5"'), "the rows are not in order", id="two rows of one number"
    ),
    pytest.param(
        SHEET, replaced("<dataValidation ", '<dataValidation allowBlank="0" '), "", id="a validation"
    ),
    pytest.param(
        SHEET, replaced('priority="1"', 'priority="9"'), "beside the rows", id="a rule of the member's"
    ),
    pytest.param(SHEET, replaced('min="1" max="3"', 'min="1" max="4"'), "the columns changed", id="a width"),
    pytest.param(SHEET, replaced('ref="A1:H9"', 'ref="A1:B2"'), "dimension changed", id="the dimension"),
    pytest.param(
        SHEET, replaced("</worksheet>", "<!-- x --></worksheet>"), "beside the rows", id="a comment"
    ),
    pytest.param(
        SHEET, replaced("</worksheet>", ""), "is not well-formed XML", id="markup that is not well-formed"
    ),
    pytest.param(
        SHEET,
        lambda data: re.sub(
            rb"(<conditionalFormatting.*</conditionalFormatting>)(.*)</worksheet>", rb"\2\1</worksheet>", data
        ),
        "not in order",
        id="elements out of order",
    ),
    pytest.param(BOOK, replaced("$C$6", "$C$5"), "the workbook part changed", id="a defined name"),
    pytest.param(
        BOOK, replaced('name="Notes"', 'name="Note"'), "the workbook part changed", id="a sheet's title"
    ),
    pytest.param(
        BOOK,
        replaced('sheetId="1"', 'sheetId="1" state="hidden"'),
        "the workbook part changed",
        id="a hidden sheet",
    ),
    pytest.param(STYLES, replaced("dd.mm.yyyy", "dd.mm.yy"), "the styles changed", id="a number format"),
    pytest.param(STYLES, replaced('<cellXfs count="', '<cellXfs count="1'), "count of cellXfs", id="a count"),
    pytest.param(
        STYLES, replaced("<xf numFmtId", '<xf applyFont="1" numFmtId'), "the styles changed", id="a style"
    ),
    pytest.param(
        "xl/tables/table1.xml", replaced('name="Loco"', 'name="Engine"'), "a table changed", id="a table"
    ),
    pytest.param(
        "xl/tables/table1.xml", replaced('ref="A1:H6"', 'ref="A1:G6"'), "cover its columns", id="its range"
    ),
    pytest.param(
        "[Content_Types].xml",
        replaced("sheet2.xml", "sheet9.xml"),
        "list of content types",
        id="a content type",
    ),
    pytest.param(
        "xl/_rels/workbook.xml.rels",
        replaced("sheet2.xml", "sheet9.xml"),
        "sheet 'Notes' is missing",
        id="a relationship",
    ),
    pytest.param(
        PAGE, replaced("no address", "an address"), "'Findings' holds more or less.*B3", id="a finding"
    ),
    pytest.param(
        PAGE,
        replaced("</sheetData>", '<row r="9"><c r="A9"><v>1</v></c></row></sheetData>'),
        "holds more",
        id="more",
    ),
]


@pytest.mark.parametrize(("part", "change", "why"), CHANGES)
def test_a_change_that_was_not_meant_is_seen(
    package: Package, after: Path, part: str, change: Patch, why: str
) -> None:
    claims = claims_of(package, after)
    tampered = spoilt(after, part, change)

    with pytest.raises(CannotRunError, match=f"a second look at the new file found more changed.*{why}"):
        verify_edit(package, tampered, claims)


@pytest.mark.parametrize(
    "part", ["xl/worksheets/sheet2.xml", "xl/theme/theme1.xml", "docProps/core.xml", "xl/sharedStrings.xml"]
)
def test_a_change_in_a_part_that_was_not_written_is_seen(package: Package, after: Path, part: str) -> None:
    claims = claims_of(package, after)
    tampered = spoilt(after, part, lambda data: data.replace(b"</", b" </", 1))

    with pytest.raises(CannotRunError, match=f"the part '{part}' is not the same"):
        verify_edit(package, tampered, claims)


@pytest.mark.parametrize("part", ["xl/worksheets/sheet2.xml", "xl/theme/theme1.xml"])
def test_a_part_that_nobody_may_write_is_seen(package: Package, after: Path, part: str) -> None:
    claims = claims_of(package, after)
    tampered = spoilt(after, part, lambda data: data.replace(b"</", b" </", 1))

    with pytest.raises(CannotRunError, match=f"the part '{part}' is not one to change"):
        verify_edit(package, tampered, replace(claims, written=claims.written | {part}))


def test_a_lost_part_is_seen(package: Package, after: Path) -> None:
    claims = claims_of(package, after)
    draft = Draft(opened(after))
    draft.removed.add("docProps/core.xml")

    with pytest.raises(CannotRunError, match="the parts are not the same"):
        verify_edit(package, zipped(draft), claims)
