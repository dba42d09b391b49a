"""The proof of a sheet that is locked sees what changed beside its protection and the open cells."""

import re
from pathlib import Path

import pytest

from rosterkit.errors import CannotRunError
from rosterkit.xlsx.changes import SheetLock, WorkbookChange
from rosterkit.xlsx.package.opening import Package
from tests.xlsx.clubs import TITLE
from tests.xlsx.packages import Patch, replaced
from tests.xlsx.verify.tampering import BOOK, SHEET, STYLES, verify_tampered

LOCK = WorkbookChange(locks=(SheetLock(title=TITLE, open=((3, 1, 4, 7), (40, 2, 41, 3))),))
CELL_40 = r'<c r="B40" s="[0-9]+"/>'


def without(pattern: str) -> Patch:
    return lambda data: re.sub(pattern.encode(), b"", data, count=1)


def test_what_was_meant_is_proven(package: Package, tmp_path: Path) -> None:
    verify_tampered(package, tmp_path, LOCK, SHEET, lambda data: data)


@pytest.mark.parametrize(
    ("part", "change", "sentence"),
    [
        pytest.param(SHEET, replaced("<v>4711</v>", "<v>4712</v>"), "C3 changed", id="an open cell"),
        pytest.param(SHEET, replaced("<v>5852</v>", "<v>5853</v>"), "A9 changed", id="a value"),
        pytest.param(SHEET, replaced("SUM(C2:C6)", "SUM(C2:C7)"), "A9 changed", id="a formula"),
        pytest.param(SHEET, replaced('<c r="E6">', '<c r="E6" s="1">'), "E6 changed", id="a format"),
        pytest.param(SHEET, replaced('<c r="E6"><v>155.125</v></c>', ""), "row 6 are", id="a lost cell"),
        pytest.param(SHEET, without(CELL_40), "row 40 that was to be", id="an open cell that is lost"),
        pytest.param(SHEET, without('<row r="40".*?</row>'), "a row that was to be open", id="an open row"),
        pytest.param(SHEET, without('<row r="6".*?</row>'), "row 6 is missing", id="a lost row"),
        pytest.param(
            SHEET, replaced('<row r="41"', '<row r="41" hidden="1"'), "row 41 changed", id="a hidden row"
        ),
        pytest.param(
            SHEET,
            lambda data: re.sub(rb'(<c r="B40" s="[0-9]+")/>', rb"\1><v>1</v></c>", data),
            "B40 changed, or is new",
            id="a value in a new cell",
        ),
        pytest.param(
            SHEET,
            lambda data: re.sub(rb'(<c r="B40")', rb'<c r="A40"/>\1', data),
            "A40 changed, or is new",
            id="a new cell that is not open",
        ),
        pytest.param(
            SHEET, replaced('sort="0"', 'sort="1"'), "protection of a sheet", id="less that is allowed"
        ),
        pytest.param(SHEET, without("<sheetProtection[^>]*>"), "protection of a sheet", id="no protection"),
        pytest.param(
            SHEET, replaced("</worksheet>", "<!-- x --></worksheet>"), "beside the rows", id="a comment"
        ),
        pytest.param(SHEET, replaced('min="1" max="3"', 'min="1" max="4"'), "beside the rows", id="columns"),
        pytest.param(
            STYLES, replaced('<protection locked="0"/>', ""), "format of an open cell", id="a locked format"
        ),
        pytest.param(
            STYLES,
            lambda data: re.sub(rb'numFmtId="0"([^<>]*applyProtection="1")', rb'numFmtId="1"\1', data),
            "format of an open cell",
            id="a format with another look",
        ),
        pytest.param(
            BOOK, replaced("_rosterkit_locked", "_rosterkit_lock"), "workbook part changed", id="another name"
        ),
    ],
)
def test_any_other_change_is_seen(
    package: Package, tmp_path: Path, part: str, change: Patch, sentence: str
) -> None:
    with pytest.raises(CannotRunError, match=sentence):
        verify_tampered(package, tmp_path, LOCK, part, change)
