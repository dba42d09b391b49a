"""Charts on our own sheets: native parts that programs read, replaced with the sheet, and nobody else's."""

import re
import subprocess
from dataclasses import replace
from pathlib import Path
from typing import Any

import pytest
from openpyxl import load_workbook
from openpyxl.chart import BarChart, Reference
from openxml_audit import OpenXmlValidator

from rosterkit.template.new_workbook import new_workbook
from rosterkit.xlsx.changes import OwnCell, OwnSheet, WorkbookChange
from rosterkit.xlsx.chart import Chart, Series
from rosterkit.xlsx.own_sheets.chart_xml import chart_markup, spaces
from rosterkit.xlsx.save.save import write_workbook
from rosterkit.xlsx.verify.charts import verify_chart
from rosterkit.xlsx.verify.remainder import VerificationError
from tests.xlsx.chart_reading import charts_of, formulas
from tests.xlsx.packages import parts, patch, replaced

LINE = Series(name="wanted", across=(2, 1, 5, 1), upward=(2, 2, 5, 2), colour="404040", dashed=True)
POINTS = Series(
    name="timed <now> & then", across=(2, 1, 5, 1), upward=(2, 3, 5, 3), colour="C55A11", points=True
)
BARS = replace(LINE, name="expected", dashed=False, margin=(2, 4, 5, 4))
ROWS = [[OwnCell(text) for text in ("step", "wanted", "timed", "±")]] + [
    [OwnCell(step), OwnCell(step * 3.5), OwnCell(None if step == 3 else step * 4), OwnCell(0.5)]
    for step in range(1, 5)
]


def chart(number: int) -> Chart:
    return Chart(
        title=f'JV {number} & "co"',
        series=(LINE, POINTS, BARS),
        across="step",
        upward="km/h",
        at=(7 + 20 * number, 1, 25 + 20 * number, 8),
        rightmost=28,
        description="wanted and timed",
    )


def page(charts: int) -> OwnSheet:
    return OwnSheet(title="Speed", rows=ROWS, charts=tuple(chart(number) for number in range(charts)))


def write(path: Path, *own_sheets: OwnSheet) -> bool:
    return write_workbook(path, WorkbookChange(own_sheets=own_sheets)).changed


def chart_parts(path: Path) -> list[str]:
    ours = re.compile(r"xl/(charts|drawings)/(_rels/)?(chart|drawing)[0-9]")
    return sorted(name for name in parts(path) if ours.match(name))


@pytest.fixture
def book(tmp_path: Path) -> Path:
    path = tmp_path / "club.xlsx"
    path.write_bytes(new_workbook({"Locomotives": [{"loco": "A", "address": 12}]}))
    return path


def test_openpyxl_reads_the_charts_with_their_series(book: Path) -> None:
    write(book, page(2))

    charts = charts_of(book, "Speed")

    assert len(charts) == 2
    assert formulas(charts[0]) == [
        ("'Speed'!$A$2:$A$5", "'Speed'!$B$2:$B$5"),
        ("'Speed'!$A$2:$A$5", "'Speed'!$C$2:$C$5"),
        ("'Speed'!$A$2:$A$5", "'Speed'!$B$2:$B$5"),
    ]
    assert charts[0].series[2].errBars.plus.numRef.f == "'Speed'!$D$2:$D$5"


def test_a_chart_holds_a_copy_of_its_numbers_without_the_blank_ones(book: Path) -> None:
    write(book, page(1))

    timed = charts_of(book, "Speed")[0].series[1].yVal.numRef.numCache

    assert (timed.ptCount, [(point.idx, point.v) for point in timed.pt]) == (
        4,
        [(0, 4), (1, 8), (3, 16)],
    )


@pytest.mark.slow
def test_the_schemas_of_the_format_find_nothing_wrong_with_the_charts(book: Path) -> None:
    write(book, page(2))
    places = {f"/{name}" for name in chart_parts(book)} | {"/[Content_Types].xml"}

    found = [error for error in OpenXmlValidator().validate(str(book)).errors if error.part_uri in places]

    assert len(places) == 5
    assert found == []


@pytest.mark.external
def test_libreoffice_draws_the_charts(book: Path, tmp_path: Path) -> None:
    write(book, page(2))
    profile = f"-env:UserInstallation=file://{tmp_path / 'profile'}"
    command = ["soffice", profile, "--headless", "--convert-to", "pdf", "--outdir", str(tmp_path), str(book)]
    subprocess.run(command, check=True, capture_output=True, timeout=120)

    text = subprocess.run(
        ["pdftotext", str(tmp_path / "club.pdf"), "-"], check=True, capture_output=True, timeout=60
    ).stdout.decode()

    assert 'JV 0 & "co"' in text
    assert 'JV 1 & "co"' in text
    assert text.count("timed <now> & then") == 2


def test_the_same_charts_again_change_nothing(book: Path) -> None:
    write(book, page(2))

    assert write(book, page(2)) is False


@pytest.mark.parametrize("fewer", [pytest.param(1, id="one is left"), pytest.param(0, id="none is left")])
def test_charts_that_are_gone_leave_nothing_behind(book: Path, fewer: int) -> None:
    write(book, page(3))

    write(book, page(fewer))

    drawn = ["xl/drawings/_rels/drawing1.xml.rels", "xl/drawings/drawing1.xml"] if fewer else []
    assert chart_parts(book) == [f"xl/charts/chart{n}.xml" for n in range(1, fewer + 1)] + drawn
    assert parts(book)["[Content_Types].xml"].count(b"drawingml.chart+xml") == fewer
    assert len(charts_of(book, "Speed")) == fewer


def test_more_charts_come_beside_the_first(book: Path) -> None:
    write(book, page(1))

    write(book, page(3))

    assert [len(charts_of(book, "Speed")), len(chart_parts(book))] == [3, 5]


def test_charts_that_a_program_saved_anew_are_replaced(book: Path) -> None:
    write(book, page(2))
    saved = load_workbook(book)
    saved.save(book)

    write(book, page(1))

    assert len(charts_of(book, "Speed")) == 1
    assert [name for name in chart_parts(book) if "/charts/" in name] == ["xl/charts/chart1.xml"]


def test_a_member_s_own_chart_stays_as_it_is(book: Path) -> None:
    club = load_workbook(book)
    own: Any = BarChart()
    engines: Any = club["Locomotives"]
    own.add_data(Reference(engines, min_col=9, min_row=1, max_row=2))
    engines.add_chart(own, "T2")
    club.save(book)
    before = parts(book)

    write(book, page(2))
    write(book, page(1))

    after = parts(book)
    assert after["xl/charts/chart1.xml"] == before["xl/charts/chart1.xml"]
    assert after["xl/drawings/drawing1.xml"] == before["xl/drawings/drawing1.xml"]
    assert len(charts_of(book, "Speed")) == 1


def test_a_drawing_that_a_member_s_sheet_shows_too_is_not_touched(book: Path) -> None:
    write(book, page(1))
    sheets = {name: data for name, data in parts(book).items() if name.startswith("xl/worksheets/_rels/")}
    first = min(sheets)
    link = (
        '<Relationship Id="rIdShared" Target="/xl/drawings/drawing1.xml" '
        'Type="http://schemas.openxmlformats.org/officeDocument/2006/relationships/drawing"/></Relationships>'
    )
    patch(book, {first: replaced("</Relationships>", link)})
    before = parts(book)

    write(book, page(2))

    after = parts(book)
    assert after["xl/drawings/drawing1.xml"] == before["xl/drawings/drawing1.xml"]
    assert after["xl/charts/chart1.xml"] == before["xl/charts/chart1.xml"]
    assert len(charts_of(book, "Speed")) == 2


def test_a_sheet_under_another_title_is_what_the_chart_refers_to(book: Path) -> None:
    club = load_workbook(book)
    club.create_sheet("Speed")["A1"] = "my own"
    club.save(book)

    titles = write_workbook(book, WorkbookChange(own_sheets=(page(1),))).titles

    used = titles["Speed"]
    assert used != "Speed"
    assert formulas(charts_of(book, used)[0])[0][0] == f"'{used}'!$A$2:$A$5"


PROVEN = chart_markup(chart(0), page(1), "'Speed'", spaces(strict=False))


def test_a_chart_as_it_should_be_is_proven() -> None:
    verify_chart(b"", PROVEN, (chart(0), page(1), "'Speed'"))


@pytest.mark.parametrize(
    ("old", "new"),
    [
        pytest.param(b"$C$2:$C$5", b"$C$2:$C$4", id="other cells"),
        pytest.param(b"'Speed'!$C$2", b"'Locomotives'!$C$2", id="another sheet"),
        pytest.param(b"<c:v>16</c:v>", b"<c:v>17</c:v>", id="another number"),
        pytest.param(b'<c:pt idx="3"><c:v>16</c:v></c:pt>', b"", id="a number left out"),
        pytest.param(b"c:numRef>", b"c:numLit>", id="numbers that stand in no cell"),
    ],
)
def test_a_chart_of_something_else_is_not_proven(old: bytes, new: bytes) -> None:
    assert old in PROVEN

    with pytest.raises(VerificationError, match=r"^the chart .* does not show"):
        verify_chart(b"", PROVEN.replace(old, new), (chart(0), page(1), "'Speed'"))
