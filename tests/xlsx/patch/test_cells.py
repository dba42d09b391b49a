"""Cells of a member's sheet that rosterkit owns: values, formats, and the hints around them."""

from collections.abc import Sequence
from pathlib import Path

import openpyxl
import pytest
from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st
from python_calamine import CalamineWorkbook

from rosterkit.xlsx.changes import CellStyle
from tests.xlsx.clubs import TITLE, club, locomotives
from tests.xlsx.edits import Value, changed
from tests.xlsx.packages import cells, element, parts, write

SHEET = "xl/worksheets/sheet1.xml"


@pytest.fixture
def path(tmp_path: Path) -> Path:
    made = tmp_path / "club.xlsx"
    club(made).close()
    return made


@pytest.mark.parametrize(
    ("value", "markup"),
    [
        pytest.param(5, b"<v>5</v>", id="a whole number"),
        pytest.param(-2.0, b"<v>-2</v>", id="a whole number with a point"),
        pytest.param(0.1 + 0.2, b"<v>0.30000000000000004</v>", id="all digits of a fraction"),
        pytest.param(1e300, b"<v>1e+300</v>", id="a large number"),
        pytest.param(2**60, b"<v>1152921504606846976</v>", id="a whole number of 61 bits"),
    ],
)
def test_numbers_are_stored_as_numbers(path: Path, value: float, markup: bytes) -> None:
    changed(path, (2, 7, value))

    cell = cells(parts(path)[SHEET])["G2"]

    assert markup in cell
    assert b" t=" not in cell


@pytest.mark.parametrize(
    ("text", "stored"),
    [
        pytest.param("=HYPERLINK(A1)", "=HYPERLINK(A1)", id="what looks like a formula"),
        pytest.param(" a  b ", " a  b ", id="blanks at the ends"),
        pytest.param("a\r\nb\rc\td", "a\nb\nc\td", id="line ends and tabs"),
        pytest.param("<&>\"'", "<&>\"'", id="signs of the markup"),
        pytest.param("a\x00\x0b\x1fb\ufffe", "ab", id="control characters left out"),
        pytest.param("\ud800x", "x", id="half a sign left out"),
        pytest.param("x" * 40_000, "x" * 32_767, id="cut at what a cell holds"),
        pytest.param("x" + "😀" * 20_000, "x" + "😀" * 16_383, id="cut between signs of two units"),
    ],
)
def test_text_is_stored_as_text(path: Path, text: str, stored: str) -> None:
    changed(path, (2, 7, text))

    sheet = openpyxl.load_workbook(path)[TITLE]

    assert sheet.cell(2, 7).value == stored
    assert sheet.cell(2, 7).data_type == "s"


def test_what_looks_like_an_escape_is_escaped(path: Path) -> None:
    changed(path, (2, 7, "_x000D_ _x41_ _xABCD"))

    assert element(cells(parts(path)[SHEET])["G2"], "t").text == "_x005F_x000D_ _x41_ _xABCD"
    assert (
        CalamineWorkbook.from_path(path).get_sheet_by_name(TITLE).to_python()[1][6] == "_x000D_ _x41_ _xABCD"
    )


def test_shared_texts_are_left_alone(path: Path) -> None:
    before = parts(path)["xl/sharedStrings.xml"]

    changed(path, (2, 1, "M09"), (1, 7, "CV17"))

    assert parts(path)["xl/sharedStrings.xml"] == before


def test_none_empties_a_cell_and_keeps_its_format(path: Path) -> None:
    changed(path, (2, 4, None), (2, 2, ""))

    found = cells(parts(path)[SHEET])

    assert found["D2"].endswith(b' r="D2" s="1"/>')
    assert found["B2"].endswith(b' r="B2"/>')


def test_none_makes_no_cell(path: Path) -> None:
    result = changed(path, (2, 9, None), (40, 3, ""))

    assert not result.changed


def test_a_cell_that_has_its_value_already_is_left_alone(path: Path) -> None:
    result = changed(path, (2, 1, "M01"), (2, 3, 3), (2, 5, 128.5), (3, 2, "Night mail"))

    assert not result.changed


def test_a_formatted_cell_keeps_its_format(path: Path) -> None:
    changed(path, (2, 4, 7.5), look=CellStyle.COMPUTED)

    assert cells(parts(path)[SHEET])["D2"].endswith(b' r="D2" s="1"><v>7.5</v></c>')


def test_a_plain_cell_takes_the_look(path: Path) -> None:
    changed(path, (2, 3, 8), (2, 7, 9), look=CellStyle.COMPUTED)

    sheet = openpyxl.load_workbook(path)[TITLE]

    assert [sheet.cell(2, column).font.italic for column in (3, 7)] == [True, True]
    assert sheet.cell(2, 7).number_format == "General"


def test_a_new_cell_takes_the_format_of_its_column_but_shows_no_number_as_a_date(tmp_path: Path) -> None:
    path = tmp_path / "columns.xlsx"
    book = club(path)
    sheet = locomotives(book)
    sheet.set_column("G:G", 12, book.add_format({"num_format": "yyyy-mm-dd", "bg_color": "#EEFFEE"}))
    sheet.set_column("H:H", 12, book.add_format({"num_format": '"day "0.0', "bg_color": "#FFEEEE"}))
    sheet.set_row(3, None, book.add_format({"num_format": "[h]:mm", "bg_color": "#EEEEFF"}))
    book.close()

    changed(path, (2, 7, 45000), (3, 7, "text"), (2, 8, 1.5), (4, 8, 2), look=CellStyle.COMPUTED)
    read = openpyxl.load_workbook(path)[TITLE]
    shown = {
        name: (read[name].number_format, read[name].fill.fgColor.rgb) for name in ("G2", "G3", "H2", "H4")
    }

    assert shown == {
        "G2": ("General", "FFEEFFEE"),
        "G3": ("yyyy\\-mm\\-dd" if shown["G3"][0].count("\\") else "yyyy-mm-dd", "FFEEFFEE"),
        "H2": ('"day "0.0', "FFFFEEEE"),
        "H4": ("General", "FFEEEEFF"),
    }


def test_rows_and_cells_without_references_are_found_by_counting(tmp_path: Path) -> None:
    path = tmp_path / "bare.xlsx"
    club(path).close()
    content = parts(path)
    rows = "<row><c><v>1</v></c><c><v>2</v></c></row><row><c><v>3</v></c></row>"
    content[SHEET] = content[SHEET].partition(b"<sheetData>")[0] + (
        f"<sheetData>{rows}</sheetData></worksheet>".encode()
    )
    write(path, content)

    changed(path, (1, 2, 20), (2, 3, 33), (4, 1, 41))

    assert CalamineWorkbook.from_path(path).get_sheet_by_name(TITLE).to_python(skip_empty_area=False) == [
        [1, 20, ""],
        [3, "", 33],
        ["", "", ""],
        [41, "", ""],
    ]


_VALUES = st.one_of(
    st.none(),
    st.integers(-(10**6), 10**6),
    st.floats(allow_nan=False, allow_infinity=False, width=32),
    st.text(
        st.characters(min_codepoint=32, max_codepoint=0x24F, exclude_characters="_"), min_size=1, max_size=9
    ),
)
# The columns of the engines are among them, but for the one with dates, which readers show as dates.
_CELLS = st.dictionaries(
    st.tuples(st.integers(1, 12), st.sampled_from([1, 2, 3, 5, 6, 7, 8, 9, 27, 28])), _VALUES, max_size=25
)


@settings(max_examples=60, deadline=None, suppress_health_check=[HealthCheck.function_scoped_fixture])
@given(first=_CELLS, second=_CELLS)
@pytest.mark.slow
def test_whatever_is_written_a_reader_finds_it_and_all_else_as_it_was(
    tmp_path: Path, first: dict[tuple[int, int], Value], second: dict[tuple[int, int], Value]
) -> None:
    path = tmp_path / "any.xlsx"
    club(path).close()
    expected = _read(path)

    for wanted in (first, {**second, **first}, second):
        changed(path, *((row, column, value) for (row, column), value in wanted.items()))
        expected |= wanted

    assert _read(path) == {place: value for place, value in expected.items() if value is not None}


def _read(path: Path) -> dict[tuple[int, int], Value]:
    rows: Sequence[Sequence[object]] = list(openpyxl.load_workbook(path)[TITLE].iter_rows(values_only=True))
    dated = {(row, 4) for row in range(2, 7)}
    return {
        (row, column): value if isinstance(value, str | int | float) else str(value)
        for row, line in enumerate(rows, start=1)
        for column, value in enumerate(line, start=1)
        if value is not None and (row, column) not in dated
    }
