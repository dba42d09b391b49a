"""What somebody typed into a sheet of ours is not lost: fill and speed name it instead of replacing it."""

import re
import subprocess
from collections.abc import Callable
from pathlib import Path
from typing import Any

import pytest
from openpyxl import load_workbook
from openpyxl.chart import BarChart, Reference
from openpyxl.comments import Comment
from openpyxl.workbook.workbook import Workbook
from openpyxl.worksheet.worksheet import Worksheet

from rosterkit.commands.fill import fill
from rosterkit.commands.new.command import make_workbook
from rosterkit.errors import CannotRunError
from rosterkit.template.new_workbook import new_workbook
from rosterkit.xlsx.package.opening import opened
from tests.command_line import run
from tests.xlsx.packages import before, patch, relationships

ENGINES: list[dict[str, str | int | float | None]] = [
    {"loco": "A", "address": 3, "railway": "JV", "number": "1"},
    {"loco": "B", "address": 3, "railway": "JV", "number": "1"},
    {"loco": "C", "address": 1000, "dc_operation": "on"},
]


@pytest.fixture(scope="module")
def filled(tmp_path_factory: pytest.TempPathFactory) -> bytes:
    path = tmp_path_factory.mktemp("club") / "club.xlsx"
    path.write_bytes(new_workbook({"Locomotives": ENGINES}))
    fill(path)
    return path.read_bytes()


@pytest.fixture
def path(tmp_path: Path, filled: bytes) -> Path:
    path = tmp_path / "club.xlsx"
    path.write_bytes(filled)
    return path


def _saved(path: Path, change: Callable[[Workbook], object]) -> None:
    """Open the workbook in another program, change it there, and save it."""
    book = load_workbook(path)
    change(book)
    book.save(path)


def _row_of(sheet: Worksheet, text: str) -> int:
    return next(n for n in range(1, sheet.max_row + 1) if sheet.cell(n, 5).value == text)


def _at_last_read(book: Workbook) -> None:
    sheet = book["Cards"]
    sheet.cell(_row_of(sheet, "CV29"), 9, 6)


def _read_back_of_another(book: Workbook) -> None:
    """Write beside a line of an engine that the roster has not got, as after a new label."""
    sheet = book["Cards"]
    row = _row_of(sheet, "CV29")
    sheet[f"B{row}"], sheet[f"J{row}"], sheet[f"A{row}"] = "Z", 6, "x"


def _beside(book: Workbook) -> None:
    book["Findings"]["J3"] = "asked M02"


def _below(book: Workbook) -> None:
    sheet = book["Findings"]
    sheet.cell(sheet.max_row + 3, 5, "to do by spring")


def _in_a_blank_cell(book: Workbook) -> None:
    book["Findings"]["C2"] = "both of them"


def _over_a_text(book: Workbook) -> None:
    book["Findings"]["F2"] = "done on Friday"


def _in_an_own_row(book: Workbook) -> None:
    book["Findings"].insert_rows(3)
    book["Findings"]["A3"] = "mine"


def _linked(book: Workbook) -> None:
    book["Findings"]["E3"].hyperlink = "https://example.org/manual"


def _charted(book: Workbook) -> None:
    chart = BarChart()
    chart.add_data(Reference(book["Locomotives"], min_col=2, min_row=1, max_row=4))
    sheet: Any = book["Findings"]
    sheet.add_chart(chart, "J2")


def _many(book: Workbook) -> None:
    for row in range(2, 12):
        book["Findings"][f"K{row}"] = row


def _note(book: Workbook) -> None:
    book["Findings"]["B3"].comment = Comment("read twice", "M01")


@pytest.mark.parametrize(
    ("change", "named"),
    [
        pytest.param(
            _read_back_of_another,
            r"its sheet 'Cards' .*: A[0-9]+ and J[0-9]+ \(CV29 of 'Z'\)$",
            id="what was read back of an engine that is gone, and a tick",
        ),
        pytest.param(_at_last_read, r"its sheet 'Cards' .*: I[0-9]+$", id="a value in a blank cell of ours"),
        pytest.param(_beside, r"its sheet 'Findings' .*: J3$", id="a note beside the findings"),
        pytest.param(_below, r"its sheet 'Findings' .*: E[0-9]+$", id="a note below the findings"),
        pytest.param(_in_a_blank_cell, r"its sheet 'Findings' .*: C2$", id="a word in a blank cell of ours"),
        pytest.param(_over_a_text, r"its sheet 'Findings' .*: F2$", id="a text in place of ours"),
        pytest.param(_in_an_own_row, r"its sheet 'Findings' .*: A3$", id="a row put between ours"),
        pytest.param(_linked, r": the link to 'https://example.org/manual'$", id="a link at a text of ours"),
        pytest.param(_charted, r"its sheet 'Findings' .*: a chart$", id="a chart over another sheet"),
        pytest.param(_many, r"K2, K3, K4, K5, K6 and 5 more$", id="many cells, the first five named"),
        pytest.param(_note, r"its sheet 'Findings' .*: the note at 'B3'$", id="a note at a cell"),
    ],
)
def test_what_was_typed_into_a_sheet_of_ours_is_named_and_kept(
    path: Path, change: Callable[[Workbook], object], named: str
) -> None:
    _saved(path, change)
    stood = path.read_bytes()

    ran = run("fill", str(path))

    assert (ran.status, ran.out, path.read_bytes()) == (2, "", stood)
    with pytest.raises(CannotRunError, match=named):
        fill(path, path.with_name("copy.xlsx"))
    assert not path.with_name("copy.xlsx").exists()


@pytest.mark.parametrize(
    ("reference", "result"),
    [
        pytest.param("G3", "", id="a formula with an empty result"),
        pytest.param("A2", "error", id="a formula with the very text that stood there"),
    ],
)
def test_a_formula_in_a_sheet_of_ours_is_named_whatever_its_result(
    path: Path, reference: str, result: str
) -> None:
    _saved(path, lambda book: book["Locomotives"].cell(4, 2, "C2"))
    part = next(sheet.part for sheet in opened(path).sheets if sheet.title == "Findings")
    typed = f'<c r="{reference}" t="str"><f>IF(F2=1,"read","{result}")</f><v>{result}</v></c>'
    cell = re.compile(rb'<c r="%b"[^>]*?(?:/>|>.*?</c>)' % reference.encode())
    patch(path, {part: lambda data: cell.sub(typed.encode(), data, count=1)})
    assert load_workbook(path)["Findings"][reference].value == f'=IF(F2=1,"read","{result}")'

    with pytest.raises(CannotRunError, match=f"its sheet 'Findings' .*: {reference}$"):
        fill(path)


def test_a_photo_on_a_sheet_of_ours_is_named(path: Path) -> None:
    part = next(sheet.part for sheet in opened(path).sheets if sheet.title == "Cards")
    kind = "http://schemas.openxmlformats.org/officeDocument/2006/relationships/drawing"
    space = "http://schemas.openxmlformats.org/drawingml/2006/spreadsheetDrawing"
    links = part.replace("worksheets/", "worksheets/_rels/") + ".rels"
    drawing = f'<d:wsDr xmlns:d="{space}"><d:oneCellAnchor><d:pic/></d:oneCellAnchor></d:wsDr>'
    added = {links: relationships(("rId1", kind, "../drawings/drawing9.xml"))}
    shown = f'<drawing xmlns:r="{kind.removesuffix("/drawing")}" r:id="rId1"/>'
    patch(path, {part: before("</worksheet>", shown)}, {**added, "xl/drawings/drawing9.xml": drawing})

    with pytest.raises(CannotRunError, match=r"its sheet 'Cards' .*: a photo or drawing$"):
        fill(path)


def test_it_is_replaced_where_that_is_asked_for(path: Path) -> None:
    _saved(path, _read_back_of_another)

    ran = run("fill", str(path), "--replace")

    sheet = load_workbook(path)["Cards"]
    assert (ran.status, [cell.value for cell in sheet["J"] if cell.value]) == (1, ["Read back"])


def _sorted(book: Workbook, *, codes: bool) -> None:
    """Turn the order of the findings round, as a member who sorts them does."""
    sheet = book["Findings"]
    width = sheet.max_column if codes else sheet.max_column - 1
    rows = [[cell.value for cell in row[:width]] for row in sheet.iter_rows(min_row=2)]
    for row, values in enumerate(reversed(rows), 2):
        for column, value in enumerate(values, 1):
            sheet.cell(row, column).value = value


def _emptied(book: Workbook) -> None:
    for (cell,) in book["Findings"]["B2:B20"]:
        cell.hyperlink = None  # this library leaves links where they were when a row goes
    book["Findings"].delete_rows(2)
    book["Findings"]["F2"] = None


@pytest.mark.parametrize(
    "change",
    [
        pytest.param(lambda _: None, id="only saved"),
        pytest.param(lambda book: _sorted(book, codes=True), id="sorted"),
        pytest.param(lambda book: _sorted(book, codes=False), id="sorted without the hidden column"),
        pytest.param(_emptied, id="a row deleted and a cell emptied"),
    ],
)
def test_a_sheet_into_which_nothing_was_typed_is_replaced(
    path: Path, change: Callable[[Workbook], object]
) -> None:
    first = load_workbook(path)["Findings"]["A2"].value
    _saved(path, change)
    _saved(path, lambda book: book["Locomotives"].cell(4, 2, "C2"))

    fill(path)

    assert load_workbook(path)["Findings"]["A2"].value == first


def _on_plain_current(tmp_path: Path) -> Path:
    path = tmp_path / "alike.xlsx"
    rows: list[dict[str, str | int | float | None]] = [
        {"loco": f"E{n}", "address": 500 + n, "dc_operation": "on"} for n in range(4)
    ]
    path.write_bytes(new_workbook({"Locomotives": rows}))
    fill(path)
    return path


def test_a_row_of_equal_findings_links_to_the_first_cell_and_is_replaced_as_they_change(
    tmp_path: Path,
) -> None:
    path = _on_plain_current(tmp_path)
    sheet = load_workbook(path)["Findings"]
    first = [sheet["C2"].value, str(sheet["E2"].value)[-7:], sheet["B2"].hyperlink.location]
    _saved(path, lambda book: book["Locomotives"].cell(3, 13, "off"))

    fill(path)

    sheet = load_workbook(path)["Findings"]
    assert first == ["4 engines", "(M2-M5)", "'Locomotives'!M2"]
    assert [sheet["C2"].value, str(sheet["E2"].value)[-11:]] == ["3 engines", "(M2, M4-M5)"]


def test_what_was_typed_beside_equal_findings_is_named(tmp_path: Path) -> None:
    path = _on_plain_current(tmp_path)
    _saved(path, lambda book: book["Findings"].__setitem__("J2", "asked M02"))

    with pytest.raises(CannotRunError, match=r"its sheet 'Findings' .*: J2$"):
        fill(path)


def _without_codes(book: Workbook) -> None:
    for title, column in (("Findings", 8), ("Cards", 11)):
        book[title].delete_cols(column)


def test_a_sheet_of_ours_without_codes_is_replaced(path: Path) -> None:
    _saved(path, _without_codes)

    assert fill(path).written


@pytest.mark.parametrize(
    ("change", "named"),
    [
        pytest.param(_read_back_of_another, r"A[0-9]+ and J[0-9]+ .*", id="what was read back"),
        pytest.param(_beside, "J3", id="a note beside the findings"),
    ],
)
def test_what_was_typed_where_we_never_write_is_named_also_without_codes(
    path: Path, change: Callable[[Workbook], object], named: str
) -> None:
    _saved(path, _without_codes)
    _saved(path, change)

    with pytest.raises(CannotRunError, match=f": {named}$"):
        fill(path)


def test_the_codes_are_hidden_and_do_not_keep_fill_from_having_nothing_to_do(path: Path) -> None:
    book = load_workbook(path)

    columns = {"Findings": "H", "Cards": "BCDK"}
    hidden = {
        title: [letter for letter, one in book[title].column_dimensions.items() if one.hidden]
        for title in columns
    }
    assert hidden == {title: [*letters] for title, letters in columns.items()}
    assert not fill(path).written


def test_what_was_typed_beside_the_charts_of_speed_is_named(tmp_path: Path) -> None:
    path = tmp_path / "demo.xlsx"
    make_workbook(path, sample=True)
    first = run("speed", str(path))
    again = run("speed", str(path))
    _saved(path, lambda book: book["Speed"].__setitem__("N5", "run again when warm"))
    stood = path.read_bytes()

    ran = run("speed", str(path))

    assert (first.status, again.status) == (0, 0)
    assert (ran.status, path.read_bytes()) == (2, stood)
    assert "its sheet 'Speed' would be replaced" in ran.err
    assert run("speed", str(path), "--replace").status == 0


@pytest.mark.external
def test_libreoffice_keeps_the_codes(path: Path, tmp_path: Path) -> None:
    folder = tmp_path / "converted"
    profile = f"-env:UserInstallation=file://{tmp_path / 'profile'}"
    words = ["soffice", profile, "--headless", "--convert-to", "xlsx", "--outdir", str(folder), str(path)]
    subprocess.run(words, check=True, capture_output=True, timeout=120)
    saved = folder / "club.xlsx"

    fill(saved)
    _saved(saved, _read_back_of_another)

    with pytest.raises(CannotRunError, match="its sheet 'Cards' would be replaced"):
        fill(saved)


@pytest.mark.external
def test_charts_of_ours_that_libreoffice_and_gnumeric_saved_are_not_taken_for_others(tmp_path: Path) -> None:
    path = tmp_path / "demo.xlsx"
    make_workbook(path, sample=True)
    run("speed", str(path))
    profile = f"-env:UserInstallation=file://{tmp_path / 'profile'}"
    words = ["soffice", profile, "--headless", "--convert-to", "xlsx", "--outdir", str(tmp_path / "saved")]
    subprocess.run([*words, str(path)], check=True, capture_output=True, timeout=120)
    words = ["ssconvert", "-T", "Gnumeric_Excel:xlsx2", str(path), str(tmp_path / "gnumeric.xlsx")]
    subprocess.run(words, check=True, capture_output=True, timeout=60)

    ran = [run("speed", str(tmp_path / name)) for name in ("saved/demo.xlsx", "gnumeric.xlsx")]

    assert [(one.status, "filled" in one.err) for one in ran] == [(0, True), (0, True)]
