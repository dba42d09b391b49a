"""What cells mean, in the ordinary spelling, which is read by calamine, and in an odd one, which is not.

Types, escapes and date systems follow ECMA-376 Part 1 (5th edition): 18.3.1.4 (cells), 18.18.11 (their
types), 22.9.2.19 (escaped characters), 18.17.4 (dates).
"""

import re
from collections.abc import Callable
from dataclasses import replace
from datetime import date, datetime, time, timedelta
from pathlib import Path

import pytest

from rosterkit.errors import CannotRunError
from rosterkit.xlsx.grid import BadDate, CellError, MergedRange, NoStoredValue, Raw, ScientificNumber
from rosterkit.xlsx.package.opening import opened
from rosterkit.xlsx.read.fast import rows_of
from rosterkit.xlsx.read.workbook import _Reading, read_workbook
from tests.xlsx.hand_made import MAIN, WORKBOOK, parts, rows, saved, styles, texts, worksheet, zipped


def everything(_: str) -> bool:
    return True


def ordinary(cells: str) -> str:
    return worksheet(cells)


def odd(cells: str) -> str:
    """A comment before the cells: nobody writes one, so such a sheet is read cell by cell."""
    return worksheet(cells).replace("<sheetData>", "<!-- --><sheetData>")


def indented(cells: str) -> str:
    """Elements on lines of their own, as one of the free spreadsheet programs writes them."""
    return worksheet(
        cells.replace("<row", "\n  <row")
        .replace("<c ", "\n    <c ")
        .replace("<v>", "\n      <v>")
        .replace("<f>", "\n      <f>")
        .replace("<is>", "\n      <is>")
        .replace("</c>", "\n    </c>")
        .replace("</row>", "\n  </row>")
    )


def prefixed(cells: str) -> str:
    text = worksheet(cells).replace("<", "<x:").replace("<x:/", "</x:")
    return text.replace(f'xmlns="{MAIN}"', f'xmlns:x="{MAIN}"')


every_spelling = pytest.mark.parametrize("spelling", [ordinary, odd, indented, prefixed])
Spelling = Callable[[str], str]


def grid_rows(folder: Path, sheet: str, strings: str = "", workbook: str = WORKBOOK) -> list[list[Raw]]:
    path = saved(folder, zipped(parts(sheet, strings, workbook=workbook)))
    return read_workbook(path, everything).grids["Locomotives"].rows


TEXTS = texts(
    "<t>Class 1</t>",
    '<t xml:space="preserve"> kept </t>',
    "<t> kept too </t>",
    "<r><t>two </t></r><r><rPr><b/></rPr><t>runs</t></r>",
    '<t>kanji</t><rPh sb="0" eb="1"><t>READ ALOUD</t></rPh>',
    "<t>line_x000D_end</t>",
    "<t>_x005F_x000D_</t>",
    "<t/>",
    "",
    "<t>a &amp; b &#60; c&#10;d</t>",
    "<t><![CDATA[<raw>]]></t>",
    "<t>_xD83D__xDE82_</t>",
)


@every_spelling
def test_shared_texts_are_read_to_the_letter(tmp_path: Path, spelling: Spelling) -> None:
    cells = "".join(f'<row r="{row}"><c r="A{row}" t="s"><v>{row - 1}</v></c></row>' for row in range(1, 13))

    found = grid_rows(tmp_path, spelling(cells), TEXTS)

    assert found == [
        ["Class 1"],
        [" kept "],
        [" kept too "],
        ["two runs"],
        ["kanji"],
        ["line\rend"],
        ["_x000D_"],
        [],
        [],
        ["a & b < c\nd"],
        ["<raw>"],
        ["\U0001f682"],
    ]


CELLS = {
    "whole number": ("<v>3</v>", 3.0),
    "fraction": ("<v>0.1</v>", 0.1),
    "number to the last digit": ("<v>0.30000000000000004</v>", 0.30000000000000004),
    "negative number": ("<v>-2.5</v>", -2.5),
    "power of ten": ("<v>1E-2</v>", 0.01),
    "number without digits before the point": ("<v>.5</v>", 0.5),
    "number with blanks around": ("<v> 12 </v>", 12.0),
    "number with a comma": ("<v>1,5</v>", "1,5"),
    "number in letters": ("<v>NaN</v>", "NaN"),
    "number without end": ("<v>1e400</v>", "1e400"),
    "no value": ("", ""),
    "empty value": ("<v></v>", ""),
    "value of nothing": ("<v/>", ""),
}


@every_spelling
@pytest.mark.parametrize(("stored", "value"), CELLS.values(), ids=CELLS.keys())
def test_number_is_read_as_it_is_stored(tmp_path: Path, spelling: Spelling, stored: str, value: Raw) -> None:
    cells = rows(f'<c r="A1">{stored}</c><c r="B1"><v>7</v></c>')

    assert grid_rows(tmp_path, spelling(cells)) == [[value, 7.0]]


TYPED = {
    "true": ('t="b"><v>1</v>', True),
    "false": ('t="b"><v>0</v>', False),
    "true in letters": ('t="b"><v>true</v>', True),
    "neither true nor false": ('t="b"><v>maybe</v>', "maybe"),
    "error": ('t="e"><v>#REF!</v>', CellError("#REF!")),
    "error with a formula": ('t="e"><f>1/0</f><v>#DIV/0!</v>', CellError("#DIV/0!")),
    "result that is a text": ('t="str"><f>A2&amp;"x"</f><v>a &lt; b</v>', "a < b"),
    "result that is no text at all": ('t="str"><f>""</f><v></v>', ""),
    "result that is no element at all": ('t="str"><f>""</f>', ""),
    "result with blanks at its ends": ('t="str"><f>A2</f><v> a </v>', " a "),
    "result with an escape": ('t="str"><f>A2</f><v>a_x0009_b</v>', "a\tb"),
    "text in the cell": ('t="inlineStr"><is><t>a &amp; b</t></is>', "a & b"),
    "text in the cell with blanks": ('t="inlineStr"><is><t xml:space="preserve"> a </t></is>', " a "),
    "text in the cell with forgotten blanks": ('t="inlineStr"><is><t> a </t></is>', " a "),
    "text in the cell in two runs": ('t="inlineStr"><is><r><t>a</t></r><r><t>b</t></r></is>', "ab"),
    "text in the cell, read aloud": ('t="inlineStr"><is><t>a</t><rPh><t>b</t></rPh></is>', "a"),
    "text in the cell with an escape": ('t="inlineStr"><is><t>a_x000D_b</t></is>', "a\rb"),
    "text in the cell that begins like a formula": ('t="inlineStr"><is><t>=1+1</t></is>', "=1+1"),
    "number of a type": ('t="n"><v>4</v>', 4.0),
    "number with a formula": ("><f>2*2</f><v>4</v>", 4.0),
    "number of a dynamic array": ('cm="1"><f t="array" ref="A1:A2">B1:B2</f><v>4</v>', 4.0),
    "formula without a value": ('><f>A2 &amp; "x"</f>', NoStoredValue('A2 & "x"')),
    "formula with an empty value": ("><f>A2*2</f><v></v>", NoStoredValue("A2*2")),
    "formula with a value of nothing": ("><f>A2*2</f><v/>", NoStoredValue("A2*2")),
    "date in ISO 8601": ('t="d"><v>2024-02-29</v>', date(2024, 2, 29)),
    "date with time in ISO 8601": (
        't="d"><v>2024-02-29T06:30:15.250Z</v>',
        datetime(2024, 2, 29, 6, 30, 15, 250000),
    ),
    "no date in ISO 8601": ('t="d"><v>2023-02-29</v>', BadDate("2023-02-29")),
    "date in other words": ('t="d"><v>yesterday</v>', BadDate("yesterday")),
}


@every_spelling
@pytest.mark.parametrize(("stored", "value"), TYPED.values(), ids=TYPED.keys())
def test_cell_is_read_by_its_type(tmp_path: Path, spelling: Spelling, stored: str, value: Raw) -> None:
    cells = rows(f'<c r="A1" {stored}</c><c r="B1"><v>7</v></c>'.replace(" >", ">"))

    assert grid_rows(tmp_path, spelling(cells)) == [[value, 7.0]]


DATE, TIME, DURATION, SCIENTIFIC, TEXT, MOMENT = 1, 2, 3, 4, 5, 6

DATED = {
    "first day": (DATE, "1", date(1900, 1, 1)),
    "day before the leap day that never was": (DATE, "59", date(1900, 2, 28)),
    "leap day that never was": (DATE, "60", BadDate("60")),
    "day after it": (DATE, "61", date(1900, 3, 1)),
    "today's like": (DATE, "45351", date(2024, 2, 29)),
    "last day": (DATE, "2958465", date(9999, 12, 31)),
    "day after the last": (DATE, "2958466", BadDate("2958466")),
    "day zero": (DATE, "0", BadDate("0")),
    "negative": (DATE, "-1", BadDate("-1")),
    "far beyond": (DATE, "1E99", BadDate("1E99")),
    "no number": (DATE, "NaN", BadDate("NaN")),
    "number with a comma": (DATE, "45351,5", BadDate("45351,5")),
    "with time": (MOMENT, "45351.75", datetime(2024, 2, 29, 18, 0)),
    "with time to the millisecond": (MOMENT, "45351.000011574", datetime(2024, 2, 29, 0, 0, 1)),
    "just before midnight": (MOMENT, "45351.999999999", datetime(2024, 3, 1, 0, 0)),
    "last millisecond of all": (MOMENT, "2958465.999999999999", BadDate("2958465.999999999999")),
    "time of day": (TIME, "0.25", time(6, 0)),
    "midnight": (TIME, "0", time(0, 0)),
    "end of the day": (TIME, "0.9999999999", time(23, 59, 59, 999000)),
    "time of a day": (TIME, "45351.25", datetime(2024, 2, 29, 6, 0)),
    "duration": (DURATION, "1.5", timedelta(days=1, hours=12)),
    "negative duration": (DURATION, "-0.5", timedelta(hours=-12)),
    "duration of ages": (DURATION, "1E12", BadDate("1E12")),
    "scientific": (SCIENTIFIC, "400", ScientificNumber(400.0)),
    "scientific, not finite": (SCIENTIFIC, "INF", "INF"),
    "text format": (TEXT, "400", 400.0),
}


@every_spelling
@pytest.mark.parametrize(("style", "stored", "value"), DATED.values(), ids=DATED.keys())
def test_number_is_read_by_its_format(
    tmp_path: Path, spelling: Spelling, style: int, stored: str, value: Raw
) -> None:
    cells = rows(f'<c r="A1" s="{style}"><v>{stored}</v></c><c r="B1" s="1"/><c r="C1" t="n"><v>7</v></c>')

    assert grid_rows(tmp_path, spelling(cells)) == [[value, "", 7.0]]


DATED_1904 = {
    "day zero": (DATE, "0", date(1904, 1, 1)),
    "leap day": (DATE, "59", date(1904, 2, 29)),
    "today's like": (DATE, "43889", date(2024, 2, 29)),
    "with time": (MOMENT, "0.5", datetime(1904, 1, 1, 12, 0)),
    "last day": (DATE, "2957003", date(9999, 12, 31)),
    "day after the last": (DATE, "2957004", BadDate("2957004")),
    "negative": (DATE, "-1", BadDate("-1")),
    "time of day": (TIME, "0.25", time(6, 0)),
    "duration": (DURATION, "1.5", timedelta(days=1, hours=12)),
}


@every_spelling
@pytest.mark.parametrize(("style", "stored", "value"), DATED_1904.values(), ids=DATED_1904.keys())
def test_dates_count_from_1904_where_the_workbook_says_so(
    tmp_path: Path, spelling: Spelling, style: int, stored: str, value: Raw
) -> None:
    cells = rows(f'<c r="A1" s="{style}"><v>{stored}</v></c>')
    workbook = WORKBOOK.replace("<sheets>", '<workbookPr date1904="1"/><sheets>')

    assert grid_rows(tmp_path, spelling(cells), workbook=workbook) == [[value]]


@every_spelling
def test_cells_of_a_shared_formula_without_value_name_that_formula(
    tmp_path: Path, spelling: Spelling
) -> None:
    cells = rows(
        '<c r="A1"><f t="shared" ref="A1:A3" si="0">B1*2</f><v>4</v></c>',
        '<c r="A2"><f t="shared" si="0"/><v>6</v></c>',
        '<c r="A3"><f t="shared" si="0"/></c>',
    )

    assert grid_rows(tmp_path, spelling(cells)) == [[4.0], [6.0], [NoStoredValue("B1*2")]]


@every_spelling
def test_rows_end_with_their_last_value(tmp_path: Path, spelling: Spelling) -> None:
    cells = (
        '<row r="2"><c r="B2"><v>1</v></c><c r="C2" s="1"/></row>'
        '<row r="4"><c r="A4" s="1"/></row>'
        '<row r="5"><c r="A5"><v>2</v></c></row>'
        '<row r="1048576"><c r="XFD1048576" s="1"/></row>'
    )

    assert grid_rows(tmp_path, spelling(cells)) == [[], ["", 1.0], [], [], [2.0]]


@every_spelling
def test_merged_ranges_are_told(tmp_path: Path, spelling: Spelling) -> None:
    sheet = spelling(rows('<c r="A1"><v>1</v></c>'))
    merged = '<mergeCells count="2"><mergeCell ref="A1:C2"/><mergeCell ref="XFC7:XFD1048576"/></mergeCells>'
    end = "</x:worksheet>" if "x:" in sheet else "</worksheet>"
    path = saved(
        tmp_path,
        zipped(
            parts(
                sheet.replace(
                    end,
                    merged.replace("<m", "<x:m").replace("</m", "</x:m") + end
                    if "x:" in end
                    else merged + end,
                )
            )
        ),
    )

    assert read_workbook(path, everything).grids["Locomotives"].merged == (
        MergedRange(1, 1, 2, 3),
        MergedRange(7, 16383, 1048576, 16384),
    )


UNUSUAL = {
    "cells without references": (
        '<row r="2"><c><v>1</v></c><c/><c><v>2</v></c></row><row><c><v>3</v></c></row>',
        [[], [1.0, "", 2.0], [3.0]],
    ),
    "rows without numbers": ('<row><c r="B1"><v>1</v></c><c><v>2</v></c></row>', [["", 1.0, 2.0]]),
    "cells out of order": ('<row r="1"><c r="C1"><v>3</v></c><c r="A1"><v>1</v></c></row>', [[1.0, "", 3.0]]),
    "rows out of order": (
        '<row r="2"><c r="A2"><v>2</v></c></row><row r="1"><c r="A1"><v>1</v></c></row>',
        [[1.0], [2.0]],
    ),
    "references in small letters": ('<row r="1"><c r="b1"><v>1</v></c></row>', [["", 1.0]]),
    "cells in opposite corners": (
        '<row r="1"><c r="A1"><v>1</v></c></row><row r="9000"><c r="XFD9000"><v>2</v></c></row>',
        [[1.0], *[[] for _ in range(8998)], [*[""] * 16383, 2.0]],
    ),
    "a number and a text in one cell": ('<row r="1"><c r="A1"><v>1</v><is><t>x</t></is></c></row>', [[1.0]]),
    "attributes in another order": ('<row r="1"><c t="b" s="1" r="A1"><v>1</v></c></row>', [[True]]),
    "attributes in single quotes": ("<row r='1'><c r='A1'><v>1</v></c></row>", [[1.0]]),
    "no cells at all": ("", []),
}


@pytest.mark.parametrize(("cells", "expected"), UNUSUAL.values(), ids=UNUSUAL.keys())
def test_unusual_cells_are_read_where_they_stand(
    tmp_path: Path, cells: str, expected: list[list[Raw]]
) -> None:
    assert grid_rows(tmp_path, ordinary(cells)) == expected


IMPOSSIBLE = {
    "cell in a cell": (
        '<row r="1"><c r="A1"><c r="B1"/></c></row>',
        "nests rows, cells and values in a way that no sheet does",
    ),
    "row in a cell": (
        '<row r="1"><c r="A1"><row r="2"/><v>1</v></c></row>',
        "nests rows, cells and values in a way that no sheet does",
    ),
    "cell outside the rows": (
        '<c r="A1"><v>1</v></c>',
        "nests rows, cells and values in a way that no sheet does",
    ),
    "value outside the cells": (
        '<row r="1"><v>1</v></row>',
        "nests rows, cells and values in a way that no sheet does",
    ),
    "error and value in one cell": (
        '<row r="1"><c r="A1" t="e"><v>#REF!</v></c><c r="A1"><v>1</v></c></row>',
        "holds the cell A1 twice",
    ),
    "two errors in one cell": (
        '<row r="1"><c r="A1" t="e"><v>#REF!</v></c><c r="A1" t="e"><v>#N/A</v></c></row>',
        "holds the cell A1 twice",
    ),
    "no such row": ('<row r="0"/>', "numbers a row '0', which no sheet has"),
    "row beyond the last": ('<row r="1048577"/>', "numbers a row '1048577', which no sheet has"),
    "row in letters": ('<row r="one"/>', "numbers a row 'one', which no sheet has"),
    "row without end": (f'<row r="{"9" * 40}"/>', "numbers a row '99999999999999999999', which no sheet has"),
    "reference without a row": ('<row r="1"><c r="A"/></row>', "names the cell 'A', which no sheet has"),
    "reference to row 0": ('<row r="1"><c r="A0"/></row>', "names the cell 'A0', which no sheet has"),
    "reference beyond the last column": (
        '<row r="1"><c r="XFE1"/></row>',
        "names the cell 'XFE1', which no sheet has",
    ),
    "reference with four letters": (
        '<row r="1"><c r="AAAA1"/></row>',
        "names the cell 'AAAA1', which no sheet has",
    ),
    "reference turned round": ('<row r="1"><c r="1A"/></row>', "names the cell '1A', which no sheet has"),
    "reference to a row without end": (
        '<row r="1"><c r="A99999999999"><v>1</v></c></row>',
        "names the cell 'A99999999999', which no sheet has",
    ),
    "empty reference": ('<row r="1"><c r=""/></row>', "names the cell '', which no sheet has"),
    "reference with blanks": ('<row r="1"><c r=" A 1"/></row>', "names the cell ' A 1', which no sheet has"),
    "reference to another row": ('<row r="1"><c r="A2"/></row>', "holds the cell A2 in its row 1"),
    "one cell twice": (
        '<row r="1"><c r="A1"><v>1</v></c><c r="A1"><v>2</v></c></row>',
        "holds the cell A1 twice",
    ),
    "one row twice": (
        '<row r="1"><c r="A1"><v>1</v></c></row><row r="1"><c r="A1"><v>2</v></c></row>',
        "holds the cell A1 twice",
    ),
    "text that is not there": (
        '<row r="3"><c r="B3" t="s"><v>1</v></c></row>',
        "points from its cell B3 at text 1 of the 1 shared texts",
    ),
    "negative text": (
        '<row r="3"><c r="B3" t="s"><v>-1</v></c></row>',
        "points from its cell B3 at text -1 of the 1 shared texts",
    ),
    "format that is not there": (
        '<row r="3"><c r="B3" s="7"><v>1</v></c></row>',
        "gives its cell B3 the format 7 of 7",
    ),
    "unknown type": (
        '<row r="3"><c r="B3" t="x"><v>1</v></c></row>',
        "gives its cell B3 the unknown type 'x'",
    ),
    "element that does not end": (
        '<row r="1"><c r="A1"><v>1</c></row>',
        "is not well-formed XML at line 1 (mismatched tag)",
    ),
    "control character": (
        '<row r="1"><c r="A1" t="str"><v>\x01</v></c></row>',
        "is not well-formed XML at line 1 (not well-formed (invalid token))",
    ),
    "character that XML does not know": (
        '<row r="1"><c r="A1" t="str"><v>&#1;</v></c></row>',
        "is not well-formed XML at line 1 (reference to invalid character number)",
    ),
    "entity that nobody declared": (
        '<row r="1"><c r="A1" t="str"><v>&club;</v></c></row>',
        "is not well-formed XML at line 1 (undefined entity)",
    ),
}


@every_spelling
@pytest.mark.parametrize(("cells", "why"), IMPOSSIBLE.values(), ids=IMPOSSIBLE.keys())
def test_cell_that_cannot_be_is_named(tmp_path: Path, spelling: Spelling, cells: str, why: str) -> None:
    path = saved(tmp_path, zipped(parts(spelling(cells))))

    with pytest.raises(CannotRunError) as caught:
        read_workbook(path, everything)

    found = re.sub(r"at line \d", "at line 1", caught.value.message)
    assert found == f"cannot read {path}: its sheet 'Locomotives' {why}"


BROKEN_SHEETS = {
    "document type": (
        f"<!DOCTYPE worksheet>{worksheet('')}",
        "declares a document type, which no workbook does",
    ),
    "entities that multiply": (
        '<!DOCTYPE x [<!ENTITY a "b"><!ENTITY c "&a;&a;">]>' + worksheet("<row>&c;</row>"),
        "declares a document type, which no workbook does",
    ),
    "file from outside": (
        '<!DOCTYPE x [<!ENTITY a SYSTEM "file:///etc/passwd">]>' + worksheet("&a;"),
        "declares a document type, which no workbook does",
    ),
    "another root": ("<chartsheet/>", "is no worksheet"),
    "root of another name": (worksheet("").replace("worksheet", "html"), "is no worksheet"),
    "no XML": ("Name;Address", "is not well-formed XML at line 1 (not well-formed (invalid token))"),
    "nothing": (b"  ", "is not well-formed XML at line 1 (no element found)"),
    "cut short after the cells": (worksheet("")[:-5], "is not well-formed XML at line 1 (unclosed token)"),
    "more after the end": (
        worksheet("") + "<worksheet/>",
        "is not well-formed XML at line 1 (junk after document element)",
    ),
    "wrong end after the cells": (
        worksheet("").replace("</worksheet>", "</sheet>"),
        "is not well-formed XML at line 1 (mismatched tag)",
    ),
    "invalid UTF-8 in a text": (
        worksheet(rows('<c r="A1" t="str"><v>?</v></c>')).encode().replace(b"?", b"\xff"),
        "is not well-formed XML at line 1 (not well-formed (invalid token))",
    ),
    "deep nesting": (worksheet("<row><c>" + "<a>" * 300), "is nested more than 200 levels deep"),
    "merge of no cells": (
        worksheet("", '<mergeCells><mergeCell ref="A0:B2"/></mergeCells>'),
        "names the cell 'A0', which no sheet has",
    ),
    "merge the wrong way round": (
        worksheet("", '<mergeCells><mergeCell ref="B2:A1"/></mergeCells>'),
        "merges the cells 'B2:A1', which is no range",
    ),
    "odd UTF-16": (
        b"\xff\xfe" + worksheet("").encode("utf-16-le") + b"\0",
        "is not the utf-16-le text that it says it is",
    ),
}


@pytest.mark.parametrize(("sheet", "why"), BROKEN_SHEETS.values(), ids=BROKEN_SHEETS.keys())
def test_sheet_that_is_none_is_named(tmp_path: Path, sheet: str | bytes, why: str) -> None:
    path = saved(tmp_path, zipped(parts(sheet)))

    with pytest.raises(CannotRunError) as caught:
        read_workbook(path, everything)

    assert caught.value.message == f"cannot read {path}: its sheet 'Locomotives' {why}"
    assert caught.value.fix == (
        "Open it in a spreadsheet program, let it repair the file, and save it again as an .xlsx workbook."
    )


BROKEN_PARTS = {
    "texts cut short": (
        {"xl/sharedStrings.xml": b"<sst><si><t>Name"},
        "its part 'xl/sharedStrings.xml' is not well-formed XML at line 1 (no element found)",
    ),
    "entities that multiply in the texts": (
        {"xl/sharedStrings.xml": b'<!DOCTYPE s [<!ENTITY a "b">]><sst><si><t>&a;</t></si></sst>'},
        "its part 'xl/sharedStrings.xml' declares a document type, which no workbook does",
    ),
    "control character in the texts": (
        {"xl/sharedStrings.xml": b"<sst><si><t>\x02</t></si></sst>"},
        "its part 'xl/sharedStrings.xml' is not well-formed XML at line 1 (not well-formed (invalid token))",
    ),
    "invalid UTF-8 in the texts": (
        {"xl/sharedStrings.xml": b"<sst><si><t>\xff</t></si></sst>"},
        "its part 'xl/sharedStrings.xml' is not well-formed XML at line 1 (not well-formed (invalid token))",
    ),
    "styles cut short": (
        {"xl/styles.xml": b"<styleSheet><cellXfs>"},
        "its part 'xl/styles.xml' is not well-formed XML at line 1 (no element found)",
    ),
    "document type in the styles": (
        {"xl/styles.xml": b"<!DOCTYPE a><styleSheet/>"},
        "its part 'xl/styles.xml' declares a document type, which no workbook does",
    ),
}


@pytest.mark.parametrize(("changed", "why"), BROKEN_PARTS.values(), ids=BROKEN_PARTS.keys())
def test_broken_part_that_the_cells_need_is_named(
    tmp_path: Path, changed: dict[str, bytes], why: str
) -> None:
    sheet = worksheet(rows('<c r="A1" t="s"><v>0</v></c>'))
    path = saved(tmp_path, zipped(parts(sheet) | changed))

    with pytest.raises(CannotRunError) as caught:
        read_workbook(path, everything)

    assert caught.value.message == f"cannot read {path}: {why}"


def test_more_values_than_the_fast_reader_gives_are_never_passed_over(tmp_path: Path) -> None:
    hidden_cells = (
        rows('<c r="A1"><v>1</v></c>') + "</sheetData><sheetData>" + '<row r="2"><c r="A2"><v>2</v></c></row>'
    )
    path = saved(tmp_path, zipped(parts(worksheet(hidden_cells))))

    assert read_workbook(path, everything).grids["Locomotives"].rows == [[1.0], [2.0]]


def test_picture_in_a_cell_is_no_error(tmp_path: Path) -> None:
    """The chain of parts is as MS-XLSX 2.6.207 and after describe it (from memory)."""
    rich = "http://schemas.microsoft.com/office/2017/06/relationships"
    office = "http://schemas.openxmlformats.org/officeDocument/2006/relationships"
    extra = (
        f'<Relationship Id="m" Type="{office}/sheetMetadata" Target="metadata.xml"/>'
        f'<Relationship Id="v" Type="{rich}/rdRichValue" Target="richData/rdrichvalue.xml"/>'
        f'<Relationship Id="s" Type="{rich}/rdRichValueStructure"'
        ' Target="richData/rdrichvaluestructure.xml"/>'
    )
    entries = parts(
        worksheet(rows('<c r="A1" t="e" vm="1"><v>#VALUE!</v></c><c r="B1" t="e" vm="2"><v>#VALUE!</v></c>'))
    )
    entries["xl/_rels/workbook.xml.rels"] = entries["xl/_rels/workbook.xml.rels"].replace(
        b"</Relationships>", extra.encode() + b"</Relationships>"
    )
    entries["xl/metadata.xml"] = (
        b'<metadata><metadataTypes><metadataType name="XLDAPR"/>'
        b'<metadataType name="XLRICHVALUE"/></metadataTypes>'
        b'<futureMetadata name="XLRICHVALUE"><bk><ext><rvb i="0"/></ext></bk><bk><ext><rvb i="1"/></ext></bk>'
        b'</futureMetadata><cellMetadata><bk><rc t="1" v="0"/></bk></cellMetadata>'
        b'<valueMetadata><bk><rc t="2" v="1"/></bk><bk><rc t="2" v="0"/></bk></valueMetadata></metadata>'
    )
    entries["xl/richData/rdrichvalue.xml"] = (
        b'<rvData><rv s="0"><v>8</v></rv><rv s="1"><v>0</v></rv></rvData>'
    )
    entries["xl/richData/rdrichvaluestructure.xml"] = (
        b'<rvStructures><s t="_error"><k n="errorType"/></s>'
        b'<s t="_localImage"><k n="_rvRel:LocalImageIdentifier"/></s>'
        b"</rvStructures>"
    )

    read = read_workbook(saved(tmp_path, zipped(entries)), everything)

    assert read.grids["Locomotives"].rows == [["", CellError("#VALUE!")]]


def test_counts_that_differ_are_never_passed_over(tmp_path: Path) -> None:
    sheet = worksheet(rows('<c r="A1"><v>1</v></c><c r="B1" t="e"><v>#REF!</v></c>'))
    path = saved(tmp_path, zipped(parts(sheet)))
    package = opened(path)
    reading = _Reading(package)
    found = reading._scanned(package.sheets[0])
    assert found is not None
    wrong = replace(found, scan=replace(found.scan, values=2, cells=3))

    (rows_read,) = rows_of(package, [wrong], reading._formats, reading._strings)
    with pytest.raises(CannotRunError) as caught:
        reading._walked(package.sheets[0], wrong)

    assert rows_read is None
    assert caught.value.message == (
        f"cannot read {path}: two ways of reading its sheet 'Locomotives' find different cells"
        " (2 and 3 with a value)"
    )


@every_spelling
def test_cells_without_format_have_the_first_one(tmp_path: Path, spelling: Spelling) -> None:
    cells = rows('<c r="A1"><v>45351</v></c><c r="B1" s="1"><v>45351</v></c>')
    path = saved(tmp_path, zipped(parts(spelling(cells), styles=styles(14, 0))))

    assert read_workbook(path, everything).grids["Locomotives"].rows == [[date(2024, 2, 29), 45351.0]]


@every_spelling
def test_cells_without_format_are_no_dates_in_a_column_of_dates(tmp_path: Path, spelling: Spelling) -> None:
    sheet = spelling(rows('<c r="A1"><v>3</v></c>'))
    prefix = "x:" if "<x:" in sheet else ""
    column = f'<{prefix}cols><{prefix}col min="1" max="1" style="1"/></{prefix}cols><{prefix}sheetData>'
    path = saved(tmp_path, zipped(parts(sheet.replace(f"<{prefix}sheetData>", column))))

    assert read_workbook(path, everything).grids["Locomotives"].rows == [[3.0]]


def test_package_that_is_open_already_is_not_opened_again(tmp_path: Path) -> None:
    path = saved(tmp_path, zipped(parts()))
    package = opened(path)
    path.unlink()

    assert read_workbook(package, everything).grids["Locomotives"].rows == [["Name"]]


CODES = {
    "day first": ("dd.mm.yyyy", DATE),
    "month in words with a language": ("[$-409]mmm yyyy;@", DATE),
    "time with half days": ("h:mm AM/PM", TIME),
    "elapsed hours": ("[hh]:mm", DURATION),
    "scientific": ("0.00E+00", SCIENTIFIC),
    "general with a unit": ('General" days"', 0),
    "money in a colour": ("[Red]#,##0.00 [$€-407]", 0),
    "letters behind a backslash": (r"0\d\h\s", 0),
    "text": ("@", 0),
    "month alone": ("mmmm", DATE),
}


@every_spelling
@pytest.mark.parametrize(("code", "like"), CODES.values(), ids=CODES.keys())
def test_format_written_by_a_member_is_understood(
    tmp_path: Path, spelling: Spelling, code: str, like: int
) -> None:
    escaped = code.replace("&", "&amp;").replace('"', "&quot;")
    own = styles(0, 14, 20, 46, 11, 49, 22, 164).replace(
        "<cellXfs>", f'<numFmts><numFmt numFmtId="164" formatCode="{escaped}"/></numFmts><cellXfs>'
    )
    cells = rows(f'<c r="A1" s="7"><v>61.5</v></c><c r="B1" s="{like}"><v>61.5</v></c>')
    path = saved(tmp_path, zipped(parts(spelling(cells), styles=own)))

    (row,) = read_workbook(path, everything).grids["Locomotives"].rows

    assert row[0] == row[1]
