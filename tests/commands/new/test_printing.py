"""A new workbook on paper: LibreOffice prints its sheets, as a member would."""

import re
import subprocess
from pathlib import Path

import pytest
from openpyxl import load_workbook

from rosterkit.commands.cards import record as record_readings
from rosterkit.commands.check import check as check_workbooks
from rosterkit.commands.new.command import make_workbook


def _pages(path: Path) -> list[str]:
    """The text of each printed page."""
    folder = path.parent
    command = ["soffice", f"-env:UserInstallation=file://{folder}/profile", "--headless"]
    command += ["--convert-to", "pdf", "--outdir", str(folder), str(path)]
    subprocess.run(command, check=True, capture_output=True, timeout=120)
    command = ["pdftotext", "-layout", str(path.with_suffix(".pdf")), "-"]
    printed = subprocess.run(command, check=True, capture_output=True, text=True, timeout=60).stdout
    return printed.split("\f")[:-1]


def _sheet_of(page: str) -> str:
    """The title of the sheet, which stands in the footer."""
    last = page.rstrip().splitlines()[-1]
    return re.sub(r" *[0-9]+ / [0-9]+$", "", last).strip()


@pytest.mark.external
def test_each_sheet_of_a_starter_workbook_prints_on_one_page_and_the_engines_on_two(tmp_path: Path) -> None:
    path = tmp_path / "new.xlsx"
    make_workbook(path)

    pages = _pages(path)

    assert [_sheet_of(page) for page in pages[1:-1]] == [
        "Layout",
        "Address ranges",
        "Decoder types",
        "Locomotives",
        "Locomotives",
        "Consists",
        "Accessories",
        "Extra values",
        "Speed tables",
        "Speed runs",
        "Speed goals",
        "Readings",
    ]
    assert "Locomotive roster" in pages[0]
    # Rows that wait with formulas end on the page of lines to write on.
    assert "Live: look things up" in pages[-1]


@pytest.mark.external
def test_every_page_of_the_demo_club_has_the_headings_and_rows_of_its_sheet(tmp_path: Path) -> None:
    path = tmp_path / "demo.xlsx"
    make_workbook(path, sample=True)

    pages = _pages(path)
    engines = [page for page in pages if _sheet_of(page) == "Locomotives"]
    runs = [page for page in pages if _sheet_of(page) == "Speed runs"]

    assert len(engines) == 2
    assert [("Loco " in page, "JV 2101" in page, "SM 61" in page) for page in engines] == [(True,) * 3] * 2
    assert [re.search("Loco +Way +Drive level", page) is not None for page in runs] == [True] * len(runs)
    assert [page for page in pages if len(re.findall(r"^.*\S.*$", page, re.MULTILINE)) < 3] == []


def test_the_footer_has_room_below_the_rows(tmp_path: Path) -> None:
    path = tmp_path / "new.xlsx"
    make_workbook(path)

    margins = {page.title: page.page_margins for page in load_workbook(path).worksheets[1:]}
    room = {title: margin.bottom - margin.footer for title, margin in margins.items()}

    # Inches: a line of 10 points with its leading takes about a sixth of one.
    assert [title for title, inches in room.items() if inches < 0.25] == []


def test_the_lines_to_write_on_are_no_rows(tmp_path: Path) -> None:
    path = tmp_path / "new.xlsx"
    make_workbook(path)
    book = load_workbook(path)
    book["Locomotives"]["A2"], book["Locomotives"]["I2"] = "A", 12
    book.save(path)

    record_readings(path, ["A"], ["1=12"], "2026-04-19")

    sheet = load_workbook(path)["Readings"]
    assert [sheet["C2"].value, sheet["D2"].value] == ["A", 1]
    assert sheet.max_row > 20
    assert sheet.print_options.gridLines
    # openpyxl leaves the results of formulas out, so that the computed cells of the typed row are stale.
    assert {one.rule for one in check_workbooks([path]).findings} == {"computed-stale"}
