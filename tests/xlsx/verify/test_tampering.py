"""The proof of an edit sees what a faulty or malicious patcher could slip in beside what was asked for."""

import re
from dataclasses import replace
from pathlib import Path

import pytest

from rosterkit.errors import CannotRunError
from rosterkit.xlsx.package.opening import Package, opened
from rosterkit.xlsx.patch.draft import Draft
from rosterkit.xlsx.save.zip_writer import zipped
from rosterkit.xlsx.verify.verify import verify_edit
from tests.xlsx.packages import Patch
from tests.xlsx.verify.tampering import BOOK, LINKS, PAGE, SHEET, STYLES, TABLE, TYPES, claims_of, spoilt

F3 = '<c r="F3" s="3"><v>195</v></c>'
END3 = '</c></row><row r="4"'
"""The end of row 3."""
TYPE = "application/vnd.openxmlformats-officedocument.spreadsheetml."
OWN_NAME = '<definedName name="_rosterkit_made"'

CASES = {
    "a cell is put into a column that was not claimed": (
        SHEET,
        END3,
        '</c><c r="I3"><v>1</v></c></row><row r="4"',
    ),
    "a cell is put beyond the last column": (SHEET, END3, '</c><c r="XFE3"><v>1</v></c></row><row r="4"'),
    "a claimed column is written in a row that was not claimed": (
        SHEET,
        '<row r="9"',
        '<row r="7"><c r="F7"><v>1</v></c></row><row r="9"',
    ),
    "an empty row comes": (SHEET, '<row r="9"', '<row r="7"/><row r="9"'),
    "a row comes beyond the last one": (SHEET, "</sheetData>", '<row r="1048577"/></sheetData>'),
    "a second row bears the number of one": (SHEET, "</sheetData>", '<row r="6"></row></sheetData>'),
    "an edited row gets a height": (SHEET, '<row r="3"', '<row r="3" ht="99"'),
    "another row gets a height": (SHEET, '<row r="9"', '<row r="9" ht="99"'),
    "an edited row gets a format": (SHEET, '<row r="4"', '<row r="4" s="1" customFormat="1"'),
    "the spans of a row leave cells out": (SHEET, '<row r="3" spans="1:8"', '<row r="3" spans="1:3"'),
    "the spans of a row are no spans": (SHEET, '<row r="3" spans="1:8"', '<row r="3" spans="9:1 x"'),
    "the spans of an edited row are lost": (SHEET, '<row r="3" spans="1:8"', '<row r="3"'),
    "an element comes between rows": (SHEET, '<row r="4"', '<x/><row r="4"'),
    "an element comes behind the cells of a row": (SHEET, END3, '</c><extLst/></row><row r="4"'),
    "text comes into a row": (SHEET, '<c r="G3"', 'text<c r="G3"'),
    "white space comes between rows": (SHEET, '</row><row r="4"', '</row> <row r="4"'),
    "a comment comes among the rows": (SHEET, '<row r="4"', '<!--x--><row r="4"'),
    "a processing instruction comes among the rows": (SHEET, '<row r="4"', '<?x y?><row r="4"'),
    "a document type comes": (SHEET, "<worksheet", "<!DOCTYPE worksheet><worksheet"),
    "a cell of a member's is put inside another": (SHEET, '<c r="F3"', '<c r="E4"><c r="F3"'),
    "a cell of a member's gets a format": (SHEET, '<c r="A3" t="s"', '<c r="A3" s="1" t="s"'),
    "a cell of a member's moves": (SHEET, 'r="A9"', 'r="B9"'),
    "a row of a member's moves": (SHEET, 'row r="9"', 'row r="10"'),
    "a number of a member's is spelt in another way": (SHEET, "<v>4711</v>", "<v><![CDATA[4711]]></v>"),
    "a written cell has a format that there is not": (SHEET, '<c r="F3" s="3"', '<c r="F3" s="999"'),
    "a written cell gets a formula beside its value": (SHEET, F3, F3.replace("<v>", "<f>1</f><v>")),
    "a written cell holds a formula for a value": (SHEET, F3, '<c r="F3" s="3"><f>195</f></c>'),
    "a written cell gets cell metadata": (SHEET, '<c r="F3" s="3"', '<c r="F3" s="3" cm="1"'),
    "a written cell gets an extension": (SHEET, "195</v></c>", "195</v><extLst/></c>"),
    "a written number says that it is a text": (SHEET, F3, F3.replace("><v>", ' t="str"><v>')),
    "a written number says that it is an error": (SHEET, F3, F3.replace("><v>", ' t="e"><v>')),
    "a written number says that it is a shared text": (SHEET, F3, F3.replace("><v>", ' t="s"><v>')),
    "a written number says that it is a truth value": (
        SHEET,
        '<c r="G4" s="3"><v>1<',
        '<c r="G4" s="3" t="b"><v>1<',
    ),
    "a written number is none": (SHEET, "<v>195</v>", "<v>1_95</v>"),
    "a written number holds an element": (SHEET, "<v>195</v>", "<v>195<x/></v>"),
    "a written cell is of another namespace": (SHEET, F3, F3.replace(' s="3"', ' s="3" xmlns="urn:x"')),
    "a written text would lose its blanks": (SHEET, '<t xml:space="preserve">', "<t>"),
    "a written text gets a reading aid": (SHEET, "</t></is>", "</t><rPh><t>x</t></rPh></is>"),
    "a column gets hidden": (SHEET, '<col min="6" max="6"', '<col min="6" max="6" hidden="1"'),
    "an added column gets another width": (SHEET, 'max="6" width="9"', 'max="6" width="99"'),
    "an added column gets no width": (SHEET, '<col min="6" max="6" width="9" customWidth="1"/>', ""),
    "a column is said beyond the last one": (SHEET, '<col min="8" max="8"', '<col min="8" max="16999"'),
    "the columns are said twice": (SHEET, "</cols>", '</cols><cols><col min="8" max="8"/></cols>'),
    "the dimension reaches too far": (SHEET, 'ref="A1:H9"', 'ref="A1:XFD9"'),
    "the dimension is none": (SHEET, 'ref="A1:H9"', 'ref="foo"'),
    "the dimension is lost": (SHEET, '<dimension ref="A1:H9"/>', ""),
    "the rows get an attribute": (SHEET, "<sheetData>", '<sheetData x="1">'),
    "a second list of rows comes": (SHEET, "</sheetData>", "</sheetData><sheetData/>"),
    "a filter comes": (SHEET, "<conditionalFormatting", '<autoFilter ref="A1:H6"/><conditionalFormatting'),
    "a validation covers fewer cells": (SHEET, "C2:C9", "C2:C8"),
    "a highlight covers the whole sheet": (SHEET, 'sqref="C5"', 'sqref="A1:XFD1048576"'),
    "a highlight has another formula": (SHEET, "C5&gt;2)", "C5&gt;99)"),
    "a highlight is of another kind": (SHEET, 'type="expression" dxfId="1"', 'type="dataBar" dxfId="1"'),
    "a highlight has a format that there is not": (SHEET, 'dxfId="2" priority', 'dxfId="77" priority'),
    "a highlight comes before those of a member's": (
        SHEET,
        'dxfId="2" priority="3"',
        'dxfId="2" priority="1"',
    ),
    "a highlight stops all others": (SHEET, 'priority="3"', 'priority="3" stopIfTrue="1"'),
    "a sheet of a member's is marked as ours": (
        BOOK,
        f'{OWN_NAME} localSheetId="2"',
        f'{OWN_NAME} localSheetId="0"',
    ),
    "a sheet of a member's gets a filter's name": (
        BOOK,
        OWN_NAME,
        f'<definedName name="_xlnm._FilterDatabase" localSheetId="0">Notes!$A$1</definedName>{OWN_NAME}',
    ),
    "printed headings are those of another sheet": (BOOK, "'Findings'!$1:$2", "Locomotives!$1:$2"),
    "a filter's name is that of another sheet": (BOOK, "'Findings'!$A$2:$D$4", "Locomotives!$A$2:$D$4"),
    "the new sheet is hidden": (BOOK, 'name="Findings"', 'name="Findings" state="veryHidden"'),
    "the new sheet bears another title": (BOOK, 'name="Findings"', 'name="Finding"'),
    "the new sheet stands in the part of another": (BOOK, 'r:id="rId6"', 'r:id="rId2"'),
    "the new sheet stands in no part": (BOOK, 'r:id="rId6"', 'r:id="rId66"'),
    "the new sheet bears the number of another": (BOOK, 'sheetId="3"', 'sheetId="1"'),
    "a second sheet comes": (BOOK, "</sheets>", '<sheet name="Z" sheetId="9" r:id="rId6"/></sheets>'),
    "the workbook no longer calculates by itself": (BOOK, "<calcPr ", '<calcPr calcMode="manual" '),
    "the workbook is not worked out anew": (BOOK, ' fullCalcOnLoad="1"', ' fullCalcOnLoad="0"'),
    "days are counted from another year": (BOOK, "<workbookPr ", '<workbookPr date1904="1" '),
    "a new format names a font that there is not": (STYLES, 'fontId="2"', 'fontId="99"'),
    "a collection of formats comes": (STYLES, "<cellXfs", '<others count="1"><x/></others><cellXfs'),
    "text comes among the formats": (STYLES, "</cellXfs>", "text</cellXfs>"),
    "a table grows downward": (TABLE, 'ref="A1:H6" totals', 'ref="A1:H7" totals'),
    "the filter of a table is wider than it": (TABLE, 'autoFilter ref="A1:H6"', 'autoFilter ref="A1:Z6"'),
    "two columns of a table bear one number": (TABLE, 'tableColumn id="8"', 'tableColumn id="7"'),
    "a new column of a table bears another heading": (TABLE, 'name="Remark"', 'name="Remarks"'),
    "a new column of a table gets a total": (TABLE, 'id="8"', 'id="8" totalsRowLabel="x"'),
    "a new part is of another type": (
        TYPES,
        f'sheet3.xml" ContentType="{TYPE}work',
        f'sheet3.xml" ContentType="{TYPE}chart',
    ),
    "all parts of an ending get another type": (TYPES, '"application/xml"', '"text/xml"'),
    "a relationship to a new sheet leads to an old one": (
        LINKS,
        "worksheets/sheet3.xml",
        "worksheets/sheet2.xml",
    ),
    "a relationship to nothing comes": (
        LINKS,
        "</Relationships>",
        '<Relationship Id="rId9" Type="urn:x" Target=""/></Relationships>',
    ),
    "a relationship to the outside comes": (
        LINKS,
        "</Relationships>",
        '<Relationship Id="rId9" Type="urn:x" Target="sheet3.xml" TargetMode="External"/></Relationships>',
    ),
    "a relationship is of another kind": (
        LINKS,
        'worksheet" Target="worksheets/sheet3',
        'chartsheet" Target="worksheets/sheet3',
    ),
    "a cell of our own sheet gets a formula": (PAGE, "<v>2</v>", "<f>1+1</f><v>2</v>"),
    "a cell of our own sheet has a format that there is not": (PAGE, '<c r="A1" s="4"', '<c r="A1" s="900"'),
    "a cell of our own sheet stands beyond the last column": (PAGE, '<c r="C3"', '<c r="XFE3"/><c r="C3"'),
    "a row of our own sheet moves": (PAGE, '<row r="4" ht="30">', '<row r="5" ht="30">'),
    "a link of our own sheet leads to another cell": (PAGE, "'Locomotives'!C3", "'Locomotives'!C9"),
    "a column of our own sheet is wider": (PAGE, 'width="60"', 'width="90"'),
    "the column of codes is shown": (PAGE, ' hidden="1"', ""),
    "the column of codes is narrower": (PAGE, 'width="9" hidden', 'width="8" hidden'),
    "another column of our own sheet is hidden": (PAGE, 'width="60"', 'width="60" hidden="1"'),
    "a code is another": (PAGE, ">rosterkit:", ">rosterkit:A"),
    "our own sheet is of another namespace": (PAGE, "openxmlformats.org", "openxmlformats.example"),
    "our own sheet is protected": (PAGE, "<autoFilter", '<sheetProtection sheet="1"/><autoFilter'),
    "text stands in our own sheet": (PAGE, "</sheetData>", "text</sheetData>"),
}  # fmt: skip

LOSSES = {
    "a written row is lost": (SHEET, r'<row r="3".*?</row>'),
    "what a row of a member's held is lost": (SHEET, r'(?<=<row r="9" spans="1:5">).*?(?=</row>)'),
    "a highlight of a member's is lost": (
        SHEET,
        r'<conditionalFormatting sqref="C2:C6">.*?</conditionalFormatting>',
    ),
    "the mark of our own sheet is lost": (BOOK, r'<definedName name="_rosterkit_made".*?</definedName>'),
    "the new formats are lost": (STYLES, r"<dxf>(?:(?!<dxf>).)*</dxf>(?=</dxfs>)"),
    "the type of the new sheet is lost": (TYPES, r'<Override PartName="/xl/worksheets/sheet3.xml"[^>]*/>'),
    "the relationship to the new sheet is lost": (LINKS, r'<Relationship Id="rId6".*?/>'),
}


def _swapped(old: str, new: str) -> Patch:
    return lambda data: data.replace(old.encode(), new.encode(), 1)


def _lost(pattern: str) -> Patch:
    return lambda data: re.sub(pattern.encode(), b"", data, count=1, flags=re.DOTALL)


@pytest.mark.parametrize(
    ("part", "change"),
    [
        *(pytest.param(part, _swapped(old, new), id=name) for name, (part, old, new) in CASES.items()),
        *(pytest.param(part, _lost(pattern), id=name) for name, (part, pattern) in LOSSES.items()),
        *(
            pytest.param(part, lambda data: data + b"<!--x-->", id=f"a comment comes at the end of {part}")
            for part in (SHEET, BOOK, STYLES, TABLE, PAGE)
        ),
    ],
)
def test_tampering_is_seen(package: Package, after: Path, part: str, change: Patch) -> None:
    tampered = spoilt(after, part, change)

    with pytest.raises(CannotRunError, match="a second look at the new file found more"):
        verify_edit(package, tampered, claims_of(package, after))


@pytest.mark.parametrize(
    "change",
    [
        pytest.param(lambda data: data + b"x", id="behind the end"),
        pytest.param(lambda data: b"x" + data, id="before the beginning"),
        pytest.param(lambda data: data.replace(b"PK\1\2", b"xPK\1\2", 1), id="before the directory"),
    ],
)
def test_a_byte_that_belongs_to_no_part_is_seen(package: Package, after: Path, change: Patch) -> None:
    with pytest.raises(CannotRunError, match="a second look"):
        verify_edit(package, change(after.read_bytes()), claims_of(package, after))


@pytest.mark.parametrize("part", ["docProps/core.xml", "xl/theme/theme1.xml", "xl/tables/table1.xml"])
def test_a_part_of_a_member_s_may_not_go_even_if_claimed(package: Package, after: Path, part: str) -> None:
    draft = Draft(opened(after))
    draft.drop(part)
    claims = claims_of(package, after)
    claims = replace(claims, removed=frozenset({part}), written=claims.written - {part})

    with pytest.raises(CannotRunError, match=f"the part '{part}' is not ours alone"):
        verify_edit(package, zipped(draft), claims)


def test_a_claim_beyond_the_last_column_is_refused(package: Package, after: Path) -> None:
    claims = claims_of(package, after)
    asked = claims.changes[SHEET]
    beyond = replace(asked, cells=(*asked.cells, replace(asked.cells[-1], row=3, column=16_385, value=1)))
    tampered = spoilt(after, SHEET, _swapped(END3, '</c><c r="XFE3"><v>1</v></c></row><row r="4"'))

    with pytest.raises(CannotRunError, match=r"the cell \w+3 is out of order"):
        verify_edit(package, tampered, replace(claims, changes={SHEET: beyond}))


def test_a_sheet_that_was_to_change_and_did_not_is_refused(package: Package, after: Path) -> None:
    claims = claims_of(package, after)
    draft = Draft(package)
    draft.written |= {part: opened(after).read(part) for part in claims.written if part != SHEET}
    claims = replace(claims, written=claims.written - {SHEET})

    with pytest.raises(CannotRunError, match="a second look"):
        verify_edit(package, zipped(draft), claims)
