"""The sheet Cards as LibreOffice prints it: no engine over two pages, headings on each."""

import re
import subprocess
from pathlib import Path

import pytest
from openpyxl import load_workbook

from rosterkit.commands.cards import cards as cards_for
from rosterkit.commands.fill import fill as fill_workbook
from rosterkit.commands.new.command import make_workbook

pytestmark = pytest.mark.external


def _pages(folder: Path) -> list[str]:
    """Fill the demo club, print its cards to PDF, and give the text of each page."""
    path = folder / "demo.xlsx"
    make_workbook(path, sample=True)
    fill_workbook(path)
    workbook = load_workbook(path)
    for sheet in workbook.worksheets:
        sheet.sheet_state = "visible" if sheet.title == "Cards" else "hidden"
    workbook.active = workbook.sheetnames.index("Cards")
    workbook.save(path)
    command = ["soffice", f"-env:UserInstallation=file://{folder}/profile", "--headless"]
    command += ["--convert-to", "pdf", "--outdir", str(folder), str(path)]
    subprocess.run(command, check=True, capture_output=True, timeout=180)
    command = ["pdftotext", "-layout", str(folder / "demo.pdf"), "-"]
    printed = subprocess.run(command, check=True, capture_output=True, timeout=60, text=True).stdout
    return printed.split("\f")[:-1]


def test_an_engine_is_printed_whole_and_each_page_has_the_headings(tmp_path: Path) -> None:
    pages = _pages(tmp_path)

    cards = cards_for(tmp_path / "demo.xlsx")
    begun = [(card, page) for card in cards for page in pages if _begins(card.loco, page)]
    assert [card.loco for card, _ in begun] == [card.loco for card in cards]
    assert [page for page in pages if not re.match(r"\s*Done\s+CV\s+Value\s+Bits", page)] == []
    for page in pages:
        on_it = [card for card, where in begun if where is page]
        lines = re.findall(r"^ *(?:already so +|not in this +|held back +)?CV\d+(?=\s)", page, re.MULTILINE)
        assert len(lines) == sum(len(card.steps) for card in on_it)


def _begins(loco: str, page: str) -> bool:
    return (
        re.search(rf"^\s*{re.escape(loco)}\s+(short|long|no|decoder|outputs?)\b", page, re.MULTILINE)
        is not None
    )
