"""OpenDocument spreadsheets (ODF 1.2, part 1), written by hand: what they may hold, and what is hostile."""

import io
import zipfile
from datetime import date, datetime, time, timedelta
from pathlib import Path

import pytest

from rosterkit.errors import CannotRunError
from rosterkit.lists.plain import PlainArea, PlainCell, PlainList
from tests.lists.files.reading import read, rows_of

NAMES = (
    " ".join(
        f'xmlns:{prefix}="urn:oasis:names:tc:opendocument:xmlns:{name}:1.0"'
        for prefix, name in {
            "office": "office",
            "style": "style",
            "table": "table",
            "text": "text",
            "draw": "drawing",
            "fo": "xsl-fo-compatible",
        }.items()
    )
    + ' xmlns:calcext="urn:org:documentfoundation:names:experimental:calc:xmlns:calcext:1.0"'
)
KIND = b"application/vnd.oasis.opendocument.spreadsheet"


def document(sheets: str, styles: str = "", begin: str = "") -> bytes:
    return (
        f'<?xml version="1.0" encoding="UTF-8"?>{begin}<office:document-content {NAMES}>'
        f"<office:automatic-styles>{styles}</office:automatic-styles>"
        f"<office:body><office:spreadsheet>{sheets}</office:spreadsheet></office:body></office:document-content>"
    ).encode()


def ods(content: bytes, **parts: bytes) -> bytes:
    target = io.BytesIO()
    with zipfile.ZipFile(target, "w", zipfile.ZIP_DEFLATED) as opened:
        opened.writestr("mimetype", KIND)
        for name, part in {"content.xml": content, **parts}.items():
            opened.writestr(name, part)
    return target.getvalue()


def sheet(rows: str, name: str = "Engines", further: str = "") -> str:
    return f'<table:table table:name="{name}"{further}>{rows}</table:table>'


def read_rows(folder: Path, rows: str, styles: str = "") -> PlainList:
    return read(folder, ods(document(sheet(rows), styles)), "list.ods")


def cell_of(folder: Path, cell: str, styles: str = "") -> PlainCell:
    found = read_rows(folder, f"<table:table-row>{cell}</table:table-row>", styles)
    return found.sheets[0].cells[1, 1]


def typed(kind: str, shown: str, **values: str) -> str:
    stated = "".join(f' office:{name.replace("_", "-")}="{value}"' for name, value in values.items())
    return f'<table:table-cell office:value-type="{kind}"{stated}><text:p>{shown}</text:p></table:table-cell>'


@pytest.mark.parametrize(
    ("cell", "text", "value"),
    [
        pytest.param(typed("string", "007"), "007", "007", id="a text with zeros before it"),
        pytest.param(typed("float", "007", value="7"), "007", 7, id="a number shown with zeros before it"),
        pytest.param(typed("float", "182,5", value="182.5"), "182.5", 182.5, id="a decimal comma is shown"),
        pytest.param(typed("float", "182,50", value="182.5"), "182.50", 182.5, id="zeros behind the comma"),
        pytest.param(typed("float", "5.201", value="5201"), "5201", 5201, id="a grouped number"),
        pytest.param(typed("float", "182", value="182.46"), "182.46", 182.46, id="a rounded number"),
        pytest.param(typed("float", "NE 5201", value="5201"), "NE 5201", 5201, id="a text before the number"),
        pytest.param(typed("float", "-7", value="-7"), "-7", -7, id="a negative number"),
        pytest.param(typed("float", "\u22127", value="-7"), "-7", -7, id="a true minus sign"),
        pytest.param(typed("float", "###", value="5201"), "5201", 5201, id="a column that is too narrow"),
        pytest.param(typed("float", "1_0", value="1_0"), "1_0", "1_0", id="a number that is none"),
        pytest.param(typed("percentage", "50 %", value="0.5"), "50 %", 0.5, id="a percentage"),
        pytest.param(typed("currency", "12,50 €", value="12.5"), "12.50 €", 12.5, id="a price"),
        pytest.param(typed("boolean", "WAHR", boolean_value="true"), "TRUE", True, id="a truth value"),
        pytest.param(
            typed("date", "02.03.2019", date_value="2019-03-02"), "2019-03-02", date(2019, 3, 2), id="a date"
        ),
        pytest.param(
            typed("date", "02.03.19 04:05", date_value="2019-03-02T04:05:00"),
            "2019-03-02 04:05",
            datetime(2019, 3, 2, 4, 5),
            id="a date with a time",
        ),
        pytest.param(typed("string", "a  b\n c"), "a b c", "a b c", id="blanks of the file are one"),
        pytest.param(
            typed("string", 'a<text:s text:c="3"/>b<text:tab/>c<text:line-break/>d'),
            "a   b\tc\nd",
            "a   b\tc\nd",
            id="blanks, tabs and line breaks that are meant",
        ),
        pytest.param(
            typed("string", "one</text:p><text:p/><text:p>three"),
            "one\n\nthree",
            "one\n\nthree",
            id="paragraphs",
        ),
        pytest.param(
            typed("string", "a<text:span>b<text:a>c</text:a></text:span>d"),
            "abcd",
            "abcd",
            id="spans and links",
        ),
        pytest.param(
            '<table:table-cell office:value-type="string" office:string-value="kept"/>',
            "kept",
            "kept",
            id="a text that only the attribute has",
        ),
        pytest.param(
            "<table:table-cell><text:p>bare</text:p></table:table-cell>", "bare", "bare", id="no type"
        ),
        pytest.param(
            '<table:table-cell table:formula="of:=[.A2]" office:value-type="float" office:value="4">'
            "<text:p>4</text:p></table:table-cell>",
            "4",
            4,
            id="the result of a formula",
        ),
    ],
)
def test_what_a_cell_shows_and_holds(cell: str, text: str, value: object, tmp_path: Path) -> None:
    found = cell_of(tmp_path, cell)

    assert (found.text, found.value, found.loss) == (text, value, "")


@pytest.mark.parametrize(
    ("cell", "text", "value", "loss"),
    [
        pytest.param(
            typed("date", "2. Jan", date_value="2024-01-02"),
            "2024-01-02",
            date(2024, 1, 2),
            "a date shown without its year, as programs make it of a typed 1-2 or 2-1",
            id="a date without year",
        ),
        pytest.param(
            typed("time", "02:27", time_value="PT02H27M00S"),
            "02:27",
            time(2, 27),
            "a time of day, as programs make it of a typed ratio such as 1:87",
            id="a time",
        ),
        pytest.param(
            typed("time", "160:00", time_value="PT160H00M00S"),
            "160:00",
            timedelta(hours=160),
            "a length of time, as programs make it of a typed ratio such as 1:87",
            id="a length of time",
        ),
        pytest.param(
            typed("float", "4,00E+02", value="400"),
            "4E+02",
            400.0,
            "a number in scientific notation, as programs make it of a typed 4E2",
            id="scientific notation",
        ),
        pytest.param(
            '<table:table-cell table:formula="of:=1/0" office:value-type="string" office:string-value="" '
            'calcext:value-type="error"><text:p>#DIV/0!</text:p></table:table-cell>',
            "#DIV/0!",
            "#DIV/0!",
            "the error value #DIV/0! in place of a value",
            id="an error value",
        ),
        pytest.param(
            '<table:table-cell table:formula="of:=[.A2]*2"/>',
            "=[.A2]*2",
            "=[.A2]*2",
            "a formula whose result is not stored in the file",
            id="a formula without its result",
        ),
        pytest.param(
            typed("date", "?", date_value="0000-13-99"),
            "0000-13-99",
            "0000-13-99",
            "a number that is shown as a date, but is none",
            id="a date that is none",
        ),
    ],
)
def test_what_a_cell_has_lost(cell: str, text: str, value: object, loss: str, tmp_path: Path) -> None:
    found = cell_of(tmp_path, cell)

    assert (found.text, found.value, found.loss) == (text, value, loss)


def test_notes_are_no_text_and_drawings_neither(tmp_path: Path) -> None:
    cell = (
        '<table:table-cell office:value-type="string"><office:annotation><text:p>tried 9</text:p>'
        "<text:p>answers 3</text:p></office:annotation><draw:frame><text:p>a box</text:p></draw:frame>"
        "<text:p>3</text:p></table:table-cell>"
    )

    assert cell_of(tmp_path, cell) == PlainCell("3", "3", note="tried 9 answers 3")


STYLES = (
    '<style:default-style style:family="table-cell"/>'
    '<style:style style:name="base" style:family="table-cell">'
    '<style:table-cell-properties fo:background-color="#ffff99"/></style:style>'
    '<style:style style:name="child" style:family="table-cell" style:parent-style-name="base"/>'
    '<style:style style:name="none" style:family="table-cell" style:parent-style-name="base">'
    '<style:table-cell-properties fo:background-color="transparent"/></style:style>'
    '<style:style style:name="white" style:family="table-cell">'
    '<style:table-cell-properties fo:background-color="#ffffff"/></style:style>'
    '<style:style style:name="round" style:family="table-cell" style:parent-style-name="round"/>'
    '<style:style style:name="away" style:family="table"><style:table-properties table:display="false"/>'
    "</style:style>"
)


@pytest.mark.parametrize(
    ("style", "fill"),
    [
        pytest.param("base", "FFFF99", id="of the style"),
        pytest.param("child", "FFFF99", id="of the style above it"),
        pytest.param("none", "", id="transparent ends the chain"),
        pytest.param("white", "", id="white is none"),
        pytest.param("round", "", id="styles that go round in a circle"),
        pytest.param("gone", "", id="a style that is not there"),
    ],
)
def test_the_colour_behind_a_cell(style: str, fill: str, tmp_path: Path) -> None:
    cell = f'<table:table-cell table:style-name="{style}"><text:p>x</text:p></table:table-cell>'

    assert cell_of(tmp_path, cell, STYLES).fill == fill


def test_the_colour_of_a_row_and_of_a_column(tmp_path: Path) -> None:
    content = (
        '<table:table-column table:number-columns-repeated="2"/>'
        '<table:table-column table:default-cell-style-name="child" table:number-columns-repeated="9"/>'
        "<table:table-row><table:table-cell><text:p>a</text:p></table:table-cell><table:table-cell/>"
        "<table:table-cell><text:p>c</text:p></table:table-cell></table:table-row>"
        '<table:table-row table:default-cell-style-name="base"><table:table-cell><text:p>d</text:p>'
        "</table:table-cell></table:table-row>"
    )

    cells = read_rows(tmp_path, content, STYLES).sheets[0].cells

    assert {at: cell.fill for at, cell in cells.items()} == {(1, 1): "", (1, 3): "FFFF99", (2, 1): "FFFF99"}


def test_rows_and_cells_that_are_repeated(tmp_path: Path) -> None:
    content = (
        '<table:table-row table:number-rows-repeated="2"><table:table-cell/>'
        '<table:table-cell table:number-columns-repeated="3"><text:p>x</text:p></table:table-cell>'
        '<table:table-cell table:number-columns-repeated="16380"/></table:table-row>'
        '<table:table-row table:number-rows-repeated="1000000"><table:table-cell/></table:table-row>'
        "<table:table-row><table:table-cell><text:p>y</text:p></table:table-cell></table:table-row>"
    )

    cells = read_rows(tmp_path, content).sheets[0].cells

    assert sorted(cells) == [(1, 2), (1, 3), (1, 4), (2, 2), (2, 3), (2, 4), (1_000_003, 1)]


def test_coloured_cells_that_are_repeated_to_the_end_of_the_sheet_stay_few(tmp_path: Path) -> None:
    content = (
        "<table:table-row><table:table-cell><text:p>x</text:p></table:table-cell>"
        '<table:table-cell table:style-name="base" table:number-columns-repeated="16383"/></table:table-row>'
        '<table:table-row table:number-rows-repeated="1048575">'
        '<table:table-cell table:style-name="base" table:number-columns-repeated="16384"/></table:table-row>'
    )

    cells = read_rows(tmp_path, content, STYLES).sheets[0].cells

    assert {at: cell.fill for at, cell in cells.items()} == {
        (1, 1): "",
        (1, 2): "FFFF99",
        (2, 1): "FFFF99",
        (2, 2): "FFFF99",
    }


def test_merged_cells_groups_of_rows_and_hidden_sheets(tmp_path: Path) -> None:
    merged = (
        "<table:table-header-rows><table:table-row>"
        '<table:table-cell table:number-columns-spanned="2" table:number-rows-spanned="2">'
        "<text:p>Owner</text:p></table:table-cell><table:covered-table-cell/><table:table-cell><text:p>c</text:p></table:table-cell>"
        "</table:table-row></table:table-header-rows><table:table-row-group><table:table-row>"
        '<table:covered-table-cell table:number-columns-repeated="2"/><table:table-cell><text:p>d</text:p>'
        "</table:table-cell></table:table-row></table:table-row-group>"
    )
    away = "<table:table-row><table:table-cell><text:p>s</text:p></table:table-cell></table:table-row>"
    linked = sheet(away, "'file:///home/x.ods'#$Sheet1")
    content = document(sheet(merged) + sheet(away, "Secret", ' table:style-name="away"') + linked, STYLES)

    first, second = read(tmp_path, ods(content), "list.ods").sheets

    assert (rows_of(first), first.merged) == ([["Owner", "", "c"], ["", "", "d"]], (PlainArea(1, 1, 2, 2),))
    assert (second.title, second.hidden) == ("Secret", True)


def test_a_table_within_a_cell_is_no_row_of_the_sheet(tmp_path: Path) -> None:
    inner = sheet(
        "<table:table-row><table:table-cell><text:p>in</text:p></table:table-cell></table:table-row>"
    )
    content = (
        f"<table:table-row><table:table-cell><draw:frame>{inner}</draw:frame><text:p>a</text:p></table:table-cell>"
        "</table:table-row><table:table-row><table:table-cell><text:p>b</text:p></table:table-cell></table:table-row>"
    )

    assert rows_of(read_rows(tmp_path, content).sheets[0]) == [["a"], ["b"]]


def test_one_xml_file_is_read_too(tmp_path: Path) -> None:
    content = document(sheet(f"<table:table-row>{typed('string', '007')}</table:table-row>"))

    found = read(tmp_path, content, "list.fods")

    assert (rows_of(found.sheets[0]), found.remarks) == ([["007"]], ())


BOMB = '<!DOCTYPE x [<!ENTITY a "aaaa"><!ENTITY b "&a;&a;&a;">]>'
ONE = "<table:table-row><table:table-cell><text:p>x</text:p></table:table-cell></table:table-row>"
TIMES = "<table:table-row {}><table:table-cell {}><text:p>x</text:p></table:table-cell></table:table-row>"


@pytest.mark.parametrize(
    ("content", "why"),
    [
        pytest.param(document(sheet(ONE), begin=BOMB), "declares a document type", id="entities"),
        pytest.param(
            document(sheet(ONE)).replace(b"<text:p>x", b"<text:p>&b;"), "not well-formed", id="no entity"
        ),
        pytest.param(document(sheet(ONE))[:-40], "is not well-formed XML", id="cut short"),
        pytest.param(document(""), "it has no sheets", id="no sheets"),
        pytest.param(document(sheet("")), "it holds no filled cell", id="a blank sheet"),
        pytest.param(b"\x00\x01\x02", "is not well-formed XML", id="no XML at all"),
        pytest.param(
            document(
                sheet(
                    TIMES.format('table:number-rows-repeated="1000"', 'table:number-columns-repeated="1001"')
                )
            ),
            "more than 1,000,000 filled cells",
            id="a million and more filled cells",
        ),
        pytest.param(
            document(sheet(TIMES.format("", 'table:number-columns-repeated="16385"'))),
            "more than 16,384 columns",
            id="more columns than a sheet has",
        ),
        pytest.param(
            document(sheet(TIMES.format('table:number-rows-repeated="99999999999"', ""))),
            "more than 1,048,576 rows",
            id="more rows than a sheet has",
        ),
        pytest.param(
            document(sheet(TIMES.format('table:number-rows-repeated="-1"', ""))),
            "repeats something '-1' times",
            id="less than once",
        ),
        pytest.param(
            document(sheet(TIMES.format("", f'table:number-columns-repeated="{"9" * 5000}"'))),
            "repeats something",
            id="a number of 5,000 digits",
        ),
        pytest.param(
            document(sheet(ONE.replace("x", "<text:span>" * 300 + "x" + "</text:span>" * 300))),
            "not well-formed",
            id="nested too deeply",
        ),
    ],
)
def test_what_is_refused(content: bytes, why: str, tmp_path: Path) -> None:
    with pytest.raises(CannotRunError) as refused:
        read(tmp_path, ods(content), "list.ods")

    assert why in refused.value.message
    assert "\n" not in refused.value.message


def test_a_spreadsheet_without_its_content_is_damaged(tmp_path: Path) -> None:
    target = io.BytesIO()
    with zipfile.ZipFile(target, "w") as opened:
        opened.writestr("mimetype", KIND)

    with pytest.raises(CannotRunError, match=r"its part 'content\.xml' is missing"):
        read(tmp_path, target.getvalue(), "list.ods")
