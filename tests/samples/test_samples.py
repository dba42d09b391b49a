"""The sample workbooks are what they say: clean, faulty in the one way that their name gives, up to date."""

import io
from collections.abc import Sequence
from pathlib import Path

import pytest
from openpyxl import load_workbook

from rosterkit.checks import CHECKS
from rosterkit.commands.check import check as check_workbooks
from rosterkit.findings import Finding
from tests.samples.__main__ import FOLDER, made_by_us, parts_of

FAULTY = sorted((FOLDER / "faulty").glob("*.xlsx"))
ONLY_AMONG_SEVERAL = {"workbook-unread", "address-not-found"}
"""Checks that no single workbook can show: one unread alone is exit status 2, and check plans no meet."""


def cells(content: bytes) -> dict[tuple[str, str], object]:
    workbook = load_workbook(io.BytesIO(content))
    return {
        (sheet.title, cell.coordinate): cell.value
        for sheet in workbook.worksheets
        for row in sheet.iter_rows()
        for cell in row
        if cell.value is not None
    }


@pytest.mark.parametrize("path", FAULTY, ids=lambda path: f"{path.stem} is found in its sample")
def test_a_faulty_sample_has_just_the_fault_that_its_name_says(path: Path) -> None:
    report = check_workbooks([path])

    assert {finding.rule for finding in report.findings} == {path.stem}


def test_every_check_has_a_faulty_sample() -> None:
    assert {path.stem for path in FAULTY} == {check.slug for check in CHECKS} - ONLY_AMONG_SEVERAL


def test_the_clean_sample_has_no_finding() -> None:
    assert check_workbooks([FOLDER / "clean.xlsx"]).findings == []


@pytest.mark.parametrize("name", ["demo_club_libreoffice.xlsx", "demo_club_gnumeric.xlsx"])
def test_the_demo_club_saved_by_a_spreadsheet_program_has_the_same_findings(name: str) -> None:
    ours = check_workbooks([FOLDER / "demo_club.xlsx"]).findings
    theirs = check_workbooks([FOLDER / name]).findings

    def said(findings: Sequence[Finding]) -> list[tuple[str, str | None, str | None, str]]:
        return [(f.rule, f.place.sheet, f.place.cell, f.message) for f in findings]

    assert len(ours) == 30
    assert said(theirs) == said(ours)


@pytest.mark.slow
def test_samples_are_as_their_makers_make_them_now() -> None:
    """Cells are compared where the parts are not the same bytes already."""
    made = made_by_us()
    other = {name for name in made if parts_of((FOLDER / name).read_bytes()) != parts_of(made[name])}

    assert {name for name in other if cells((FOLDER / name).read_bytes()) != cells(made[name])} == set()
