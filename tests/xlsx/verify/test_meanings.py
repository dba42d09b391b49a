"""The proof of an edit sees a number that means something else than was asked for, and another list."""

import re
from collections.abc import Callable
from pathlib import Path

import pytest

from rosterkit.errors import CannotRunError
from rosterkit.xlsx.changes import (
    CellChange,
    CellStyle,
    Choices,
    OwnCell,
    OwnSheet,
    SheetChange,
    WorkbookChange,
)
from rosterkit.xlsx.own_sheets.sheet_xml import own_sheet_markup
from rosterkit.xlsx.package.opening import Package
from rosterkit.xlsx.verify.own_sheet import verify_own_sheet
from rosterkit.xlsx.verify.remainder import VerificationError
from tests.xlsx.packages import Patch, replaced
from tests.xlsx.verify.tampering import SHEET, STYLES, verify_tampered

DATE = CellChange(row=3, column=10, value=46173.0, look=CellStyle.DATE)
NUMBER = CellChange(row=4, column=10, value=5.0, look=CellStyle.NUMBER)
CHANGE = WorkbookChange(sheets=(SheetChange(title="Locomotives", cells=(DATE, NUMBER)),))
MAIN = "http://schemas.openxmlformats.org/spreadsheetml/2006/main"


def _without_format(data: bytes) -> bytes:
    return re.sub(rb'(<c r="J3") s="[0-9]+"', rb"\1", data)


@pytest.mark.parametrize(
    ("part", "change", "sentence"),
    [
        pytest.param(SHEET, _without_format, "J3 means something else", id="a date without its format"),
        pytest.param(
            STYLES,
            replaced("yyyy-mm-dd", "0.00"),
            "J3 means something else",
            id="a format that shows no date",
        ),
        pytest.param(SHEET, replaced("46173", "46174"), "does not hold", id="another day"),
    ],
)
def test_a_date_is_read_back_as_one(
    package: Package, tmp_path: Path, part: str, change: Patch, sentence: str
) -> None:
    with pytest.raises(CannotRunError, match=sentence):
        verify_tampered(package, tmp_path, CHANGE, part, change)


def test_dates_and_numbers_that_were_meant_are_proven(package: Package, tmp_path: Path) -> None:
    verify_tampered(package, tmp_path, CHANGE, SHEET, lambda data: data)


LIST = OwnSheet(
    title="Merge",
    rows=[[OwnCell("Keep")], [OwnCell("b", typed=True), OwnCell("a"), OwnCell("b")]],
    choices=Choices(1, (2, 2), (2, 3)),
)


def _markup(sheet: OwnSheet) -> bytes:
    return own_sheet_markup(sheet, lambda _: 0, namespace=MAIN, titles={}, selected=False)


@pytest.mark.parametrize(
    "change",
    [
        pytest.param(replaced("$B2:$C2", "$B2:$D2"), id="more is offered"),
        pytest.param(replaced('sqref="A2:A2"', 'sqref="A2:A9"'), id="more cells have it"),
        pytest.param(replaced('type="list"', 'type="custom"'), id="another kind"),
        pytest.param(replaced(' showErrorMessage="1"', ""), id="anything may be typed"),
        pytest.param(lambda data: re.sub(rb"<dataValidations.*</dataValidations>", b"", data), id="none"),
        pytest.param(replaced("<formula1>", "<formula2>1</formula2><formula1>"), id="a second limit"),
        pytest.param(
            replaced("</dataValidations>", '<dataValidation type="list" sqref="B2"/></dataValidations>'),
            id="a second list",
        ),
    ],
)
def test_a_drop_down_list_offers_what_it_was_to_offer(change: Callable[[bytes], bytes]) -> None:
    with pytest.raises(VerificationError, match="drop-down"):
        verify_own_sheet(change(_markup(LIST)), LIST, {})


def test_a_drop_down_list_that_was_meant_is_proven() -> None:
    assert verify_own_sheet(_markup(LIST), LIST, {}) == set()


def test_a_drop_down_list_that_was_not_meant_is_seen() -> None:
    with pytest.raises(VerificationError, match="drop-down"):
        verify_own_sheet(_markup(LIST), OwnSheet(title="Merge", rows=LIST.rows), {})
