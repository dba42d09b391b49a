"""A member's own workbook on paper: rows that wait with formulas take no pages of their own.

LibreOffice and Gnumeric print a cell with a formula though it shows nothing, and neither heeds a print area
that is worked out (tried with OFFSET and with INDEX in LibreOffice 7.4 and Gnumeric 1.12).
"""

import subprocess
from pathlib import Path

import pytest

from rosterkit.commands.fill import fill
from tests.command_line import written
from tests.rosters import workbook

ENGINES: list[dict[str, object]] = [
    {"Loco": f"E{number}", "Address": number, "Owner": "M01"} for number in range(3, 23)
]


def _pages(path: Path, program: str) -> list[str]:
    """Return the text of each page that a program prints."""
    printed = path.with_suffix(".pdf")
    if program == "LibreOffice":
        command = ["soffice", f"-env:UserInstallation={(path.parent / 'profile').as_uri()}", "--headless"]
        command += ["--convert-to", "pdf", "--outdir", str(path.parent), str(path)]
    else:
        command = ["ssconvert", "-T", "Gnumeric_pdf:pdf_assistant", str(path), str(printed)]
    subprocess.run(command, check=True, capture_output=True, timeout=120)
    command = ["pdftotext", "-layout", str(printed), "-"]
    text = subprocess.run(command, check=True, capture_output=True, text=True, timeout=60).stdout
    return text.split("\f")[:-1]


@pytest.mark.external
@pytest.mark.parametrize("program", ["LibreOffice", "Gnumeric"])
def test_a_list_of_twenty_engines_takes_no_page_more_downwards(tmp_path: Path, program: str) -> None:
    path = tmp_path / "club.xlsx"
    written(path, workbook(ENGINES))
    fill(path)

    pages = _pages(path, program)
    first_of_findings = next(n for n, page in enumerate(pages) if "What is wrong" in page)

    assert first_of_findings > 0
    assert ["E3" in page.split() for page in pages[:first_of_findings]].count(True) == 1
    assert [n for n, page in enumerate(pages[:first_of_findings]) if not page.strip()] == []
