"""Whatever a little list holds, every filled cell of it stands in the workbook that it becomes."""

import csv
import io
import zipfile
from collections.abc import Callable
from pathlib import Path
from tempfile import TemporaryDirectory
from xml.sax.saxutils import escape

import openpyxl
import pytest
from hypothesis import HealthCheck, example, given, settings
from hypothesis import strategies as st

from tests.command_line import run

Rows = list[list[str]]

_WORDS = st.sampled_from(
    ["007", "1e5", "4E2", "1/2", "1-2", "TRUE", "NA", "#N/A", "=1+1", "+5", "-", "'5", "  x ", "5,5", "1.0",
     "€ 9,50", "see card", "3 (prog 2101)", "CV2=5", "2019-03-02", "10%", "Total", "Note", "ja", "✓", "0"]
)  # fmt: skip
_TEXTS = st.text(st.characters(exclude_categories=("Cs", "Cc", "Zl", "Zp", "Cn", "Co")), max_size=12)
_CELLS = st.one_of(st.just(""), _WORDS, st.integers(0, 10300).map(str), _TEXTS)
_HEADS = st.one_of(
    st.sampled_from(
        ["Owner", "Price", "Decoder", "Length", "Notes", "Bought", "CV3", "Type", "Box", "Address"]
    ),
    _TEXTS,
)


@st.composite
def lists(draw: st.DrawFn) -> Rows:
    """Draw a list that has engines for certain, and around them what there may be."""
    heads = draw(st.lists(_HEADS, max_size=5))
    width = 2 + len(heads)
    titles = draw(st.lists(_CELLS, max_size=2))
    rows: Rows = [[title, *[""] * (width - 1)] for title in titles]
    rows.append(["Loco", "DCC address", *heads])
    for number in range(draw(st.integers(1, 12))):
        cells = draw(st.lists(_CELLS, min_size=len(heads), max_size=len(heads)))
        rows.append([f"NE {5201 + number}", str(5201 + number), *cells])
    rows += draw(st.lists(st.lists(_CELLS, min_size=width, max_size=width), max_size=3))
    return rows


def _as_csv(rows: Rows, path: Path) -> None:
    stream = io.StringIO()
    csv.writer(stream).writerows(rows)
    path.write_bytes(stream.getvalue().encode("utf-8-sig"))


def _as_xlsx(rows: Rows, path: Path) -> None:
    workbook = openpyxl.Workbook()
    sheet = workbook.worksheets[0]
    for number, row in enumerate(rows, 1):
        for column, text in enumerate(row, 1):
            if text:
                cell = sheet.cell(number, column)
                cell.value = (
                    int(text) if text.isascii() and text.isdigit() and text == str(int(text)) else text
                )
                cell.data_type = "n" if isinstance(cell.value, int) else "s"
    workbook.save(path)


def _as_ods(rows: Rows, path: Path) -> None:
    cells = ("".join(_cell(text) if text else "<table:table-cell/>" for text in row) for row in rows)
    body = "".join(f"<table:table-row>{row}</table:table-row>" for row in cells)
    names = "urn:oasis:names:tc:opendocument:xmlns"
    content = (
        f'<?xml version="1.0" encoding="UTF-8"?><office:document-content xmlns:office="{names}:office:1.0" '
        f'xmlns:table="{names}:table:1.0" xmlns:text="{names}:text:1.0" office:version="1.2"><office:body>'
        f'<office:spreadsheet><table:table table:name="List">{body}</table:table></office:spreadsheet>'
        "</office:body></office:document-content>"
    )
    with zipfile.ZipFile(path, "w") as package:
        package.writestr("mimetype", "application/vnd.oasis.opendocument.spreadsheet")
        package.writestr("content.xml", content)


def _cell(text: str) -> str:
    paragraph = escape(text).replace("  ", " <text:s/>")
    return f'<table:table-cell office:value-type="string"><text:p>{paragraph}</text:p></table:table-cell>'


def _stands_in(rows: Rows, book: openpyxl.Workbook) -> bool:
    """Whether some sheet holds every filled cell where it stood, however far the whole was moved."""
    filled = {
        (number, column): _words(text)
        for number, row in enumerate(rows, 1)
        for column, text in enumerate(row, 1)
        if _words(text)
    }
    first = min(filled)
    for sheet in book.worksheets:
        there = {
            (c.row, c.column): _words(c.value)
            for row in sheet.iter_rows()
            for c in row
            if c.value is not None
        }
        for row, column in [at for at, text in there.items() if text == filled[first]]:
            moved = row - first[0], column - first[1]
            if all(there.get((r + moved[0], c + moved[1])) == text for (r, c), text in filled.items()):
                return True
    return False


def _words(value: object) -> str:
    """What a cell says: a number without .0, and blanks around words as one."""
    text = str(int(value)) if isinstance(value, float) and value.is_integer() else str(value)
    return " ".join(text.split())


@pytest.mark.parametrize(
    ("cells", "whole"),
    [
        pytest.param({"A1": "Loco", "B1": "Box", "A2": "NE 5", "B2": 7}, True, id="all where they stood"),
        pytest.param({"C4": "Loco", "D4": "Box", "C5": "NE 5", "D5": "7"}, True, id="moved as a whole"),
        pytest.param({"A1": "Loco", "B1": "Box", "A2": "NE 5"}, False, id="one is missing"),
        pytest.param({"A1": "Loco", "B1": "Box", "A2": "NE 5", "B3": 7}, False, id="one stands elsewhere"),
        pytest.param({"A1": "Loco", "B1": "Box", "A2": "NE 5", "B2": 7.5}, False, id="one is another"),
    ],
)
def test_the_comparison_sees_what_is_lost(cells: dict[str, str | float], whole: bool) -> None:
    book = openpyxl.Workbook()
    for at, value in cells.items():
        book.worksheets[0][at] = value

    assert _stands_in([["Loco", "Box"], ["NE 5", "7"]], book) is whole


@pytest.mark.slow
@pytest.mark.parametrize(
    ("ending", "write"),
    [
        pytest.param("csv", _as_csv, id="between commas"),
        pytest.param("xlsx", _as_xlsx, id="a workbook"),
        pytest.param("ods", _as_ods, id="an OpenDocument sheet"),
    ],
)
@given(rows=lists())
@example(rows=[["Loco", "DCC address", "Address"], ["NE 5", "5", "12 Mill Lane"], ["Total", "1", ""]])
@example(rows=[["=1+1", "", ""], ["Loco", "DCC address", "Length"], ["NE 5", "5", "=B3"]])
@settings(max_examples=5, deadline=None, suppress_health_check=list(HealthCheck))
def test_every_filled_cell_stands_in_the_new_workbook(
    ending: str, write: Callable[[Rows, Path], None], rows: Rows
) -> None:
    with TemporaryDirectory() as folder:
        source, out = Path(folder) / f"list.{ending}", Path(folder) / "out.xlsx"
        write(rows, source)
        before = source.read_bytes()

        ran = run("adopt", source, "-o", out)

        assert ran.status in {0, 1}, ran.err
        assert source.read_bytes() == before
        assert _stands_in(rows, openpyxl.load_workbook(out))
