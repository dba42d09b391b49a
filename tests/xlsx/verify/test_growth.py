"""The proof of an edit sees a table, a filter or a sorted range that grew otherwise than it should."""

import re
from dataclasses import replace
from pathlib import Path

import pytest

from rosterkit.errors import CannotRunError
from rosterkit.xlsx.changes import CellChange, SheetChange, WorkbookChange
from rosterkit.xlsx.package.opening import Package, opened
from tests.xlsx.clubs import HEADINGS, TITLE, club, locomotives
from tests.xlsx.packages import Patch, before, patch, replaced
from tests.xlsx.verify.tampering import BOOK, SHEET, TABLE, verify_tampered

SORT = '<sortState ref="{0}2:{1}6"><sortCondition ref="{0}2:{0}6"/></sortState>'
CHANGE = SheetChange(
    title=TITLE,
    cells=(CellChange(row=1, column=6, value="CV17"), CellChange(row=7, column=2, value="Brake van")),
    heading=(1, 2),
    last_row=7,
)
MADE = WorkbookChange(sheets=(CHANGE,))


def _tabled(path: Path, bottom: int, **options: object) -> Package:
    book = club(path)
    columns = [{"header": heading} for heading in HEADINGS]
    locomotives(book).add_table(f"A1:E{bottom}", {"columns": columns, "name": "Engines", **options})
    book.close()
    return opened(path)


@pytest.fixture(params=["a table", "a filter"])
def package(request: pytest.FixtureRequest, tmp_path: Path) -> Package:
    path = tmp_path / "club.xlsx"
    if request.param == "a table":
        _tabled(path, 6)
        patch(path, {TABLE: before("<tableColumns", SORT.format("A", "E"))})
    else:
        book = club(path)
        locomotives(book).autofilter("A1:E6")
        book.close()
        patch(path, {SHEET: replaced('"A1:E6"/><page', f'"A1:E6"/>{SORT.format("A", "E")}<page')})
    return opened(path)


def _verify(package: Package, tmp_path: Path, change: Patch, last_row: int) -> None:
    part = TABLE if TABLE in package.infos else SHEET
    claimed = replace(MADE, sheets=(replace(CHANGE, last_row=last_row),))
    verify_tampered(package, tmp_path, MADE, part, change, claimed)


def test_what_grew_as_it_should_is_proven(package: Package, tmp_path: Path) -> None:
    _verify(package, tmp_path, lambda data: data, last_row=7)


def _lost(pattern: bytes) -> Patch:
    return lambda data: re.sub(pattern, b"", data)


@pytest.mark.parametrize(
    ("change", "last_row"),
    [
        pytest.param(lambda data: data, 0, id="downward, and no row was added"),
        pytest.param(lambda data: data, 9, id="less far down than rows were added"),
        pytest.param(replaced('r ref="A1:F7"', 'r ref="A1:F8"'), 7, id="the filter a row too far"),
        pytest.param(replaced('r ref="A1:F7"', 'r ref="A1:G7"'), 7, id="the filter a column too far"),
        pytest.param(replaced('r ref="A1:F7"', 'r ref="A1:F6"'), 7, id="the filter not downward"),
        pytest.param(replaced('r ref="A1:F7"', 'r ref="A1:D7"'), 7, id="the filter less far than it reached"),
        pytest.param(replaced('r ref="A1:F7"', 'r ref="A2:F7"'), 7, id="the filter from another row"),
        pytest.param(lambda data: data.replace(b"A1:F7", b"A1:F9"), 7, id="too far down"),
        pytest.param(lambda data: data.replace(b"A1:F7", b"B1:F7"), 7, id="from another column"),
        pytest.param(replaced('"A2:F7"', '"A2:E6"'), 7, id="what was sorted did not follow"),
        pytest.param(replaced('"A2:F7"', '"A2:F6"'), 7, id="what was sorted did not follow downward"),
        pytest.param(replaced('"A2:F7"', '"A2:E7"'), 7, id="what was sorted did not follow to the right"),
        pytest.param(replaced('"A2:F7"', '"A2:F8"'), 7, id="more than was sorted"),
        pytest.param(replaced('"A2:F7"', '"A2:D7"'), 7, id="less than was sorted"),
        pytest.param(replaced('"A2:F7"', '"A3:F7"'), 7, id="without the first row"),
        pytest.param(replaced('"A2:A7"', '"A2:A6"'), 7, id="a condition did not follow"),
        pytest.param(replaced('"A2:A7"', '"A2:B7"'), 7, id="a condition of more columns"),
        pytest.param(replaced('"A2:A7"', '"B2:B7"'), 7, id="a condition of another column"),
        pytest.param(_lost(rb"<sortCondition[^>]*>"), 7, id="without its condition"),
        pytest.param(_lost(rb"<sortState.*?</sortState>"), 7, id="without what was sorted"),
        pytest.param(replaced("<sortState", '<sortState columnSort="1"'), 7, id="sorted from left to right"),
    ],
)
def test_what_grew_otherwise_is_seen(package: Package, tmp_path: Path, change: Patch, last_row: int) -> None:
    with pytest.raises(CannotRunError, match="a second look at the new file found more changed"):
        _verify(package, tmp_path, change, last_row)


def test_growth_over_another_list_than_ours_is_seen(package: Package, tmp_path: Path) -> None:
    part = TABLE if TABLE in package.infos else SHEET
    for heading in (None, (2, 2), (1, 6)):
        claimed = WorkbookChange(sheets=(replace(CHANGE, heading=heading),))
        with pytest.raises(CannotRunError, match="a second look at the new file found more changed"):
            verify_tampered(package, tmp_path, MADE, part, lambda data: data, claimed)


def test_a_table_that_takes_new_columns_in_and_new_rows_not_is_seen(tmp_path: Path) -> None:
    package = _tabled(tmp_path / "club.xlsx", 6)

    with pytest.raises(CannotRunError, match="a table does not cover its columns"):
        verify_tampered(package, tmp_path, MADE, TABLE, lambda data: data.replace(b"A1:F7", b"A1:F6"))


def test_what_was_sorted_from_left_to_right_and_grew_is_seen(tmp_path: Path) -> None:
    path = tmp_path / "club.xlsx"
    _tabled(path, 6)
    across = SORT.format("A", "E").replace("<sortState", '<sortState columnSort="1"')
    patch(path, {TABLE: before("<tableColumns", across)})

    verify_tampered(opened(path), tmp_path, MADE, TABLE, replaced(across, across))
    with pytest.raises(CannotRunError, match="what was sorted changed"):
        verify_tampered(opened(path), tmp_path, MADE, TABLE, replaced('"A2:E6"', '"A2:F7"'))


@pytest.mark.parametrize(
    "new", [pytest.param("$A$1:$F$9", id="too far down"), pytest.param("$A$1:$G$7", id="too far right")]
)
def test_the_name_of_a_filter_that_grew_otherwise_is_seen(tmp_path: Path, new: str) -> None:
    path = tmp_path / "club.xlsx"
    book = club(path)
    locomotives(book).autofilter("A1:E6")
    book.close()

    verify_tampered(opened(path), tmp_path, MADE, BOOK, lambda data: data)
    with pytest.raises(CannotRunError, match=r"the name _xlnm\._FilterDatabase of a sheet is not what"):
        verify_tampered(opened(path), tmp_path, MADE, BOOK, replaced("$A$1:$F$7", new))


def test_a_filter_that_grew_into_a_table_is_seen(tmp_path: Path) -> None:
    path = tmp_path / "club.xlsx"
    book = club(path)
    sheet = locomotives(book)
    sheet.autofilter("A1:E6")
    sheet.add_table("G1:G6", {"columns": [{"header": "Shelf"}], "name": "Shelves"})
    book.close()
    shelf = CellChange(row=1, column=7, value="Shelf")
    made = WorkbookChange(sheets=(replace(CHANGE, cells=(*CHANGE.cells, shelf)),))
    grown = 'autoFilter ref="A1:F7"'

    verify_tampered(opened(path), tmp_path, made, SHEET, replaced(grown, grown))
    with pytest.raises(CannotRunError, match="the filter changed"):
        verify_tampered(opened(path), tmp_path, made, SHEET, replaced(grown, 'autoFilter ref="A1:G7"'))


def test_a_table_that_grew_below_its_totals_is_seen(tmp_path: Path) -> None:
    package = _tabled(tmp_path / "club.xlsx", 7, total_row=True)
    below = replace(CHANGE, cells=(CHANGE.cells[0], CellChange(row=8, column=2, value="Brake van")))
    made = WorkbookChange(sheets=(replace(below, last_row=0),))
    claimed = WorkbookChange(sheets=(replace(below, last_row=8),))

    def lowered(data: bytes) -> bytes:
        return replaced("A1:F6", "A1:F7")(replaced("A1:F7", "A1:F8")(data))

    verify_tampered(package, tmp_path, made, TABLE, lambda data: data)
    with pytest.raises(CannotRunError, match="a table does not cover its columns"):
        verify_tampered(package, tmp_path, made, TABLE, lowered, claimed)


@pytest.mark.parametrize(
    "new",
    [
        pytest.param("A2:F8", id="further down than rows were added"),
        pytest.param("A2:G7", id="further right than headings were added"),
        pytest.param("B2:F7", id="from another column"),
    ],
)
def test_what_was_sorted_without_a_filter_and_grew_otherwise_is_seen(tmp_path: Path, new: str) -> None:
    path = tmp_path / "club.xlsx"
    club(path).close()
    patch(path, {SHEET: replaced("</sheetData>", "</sheetData>" + SORT.format("A", "E"))})
    sorted_as_far = 'sortState ref="A2:F7"'

    verify_tampered(opened(path), tmp_path, MADE, SHEET, replaced(sorted_as_far, sorted_as_far))
    with pytest.raises(CannotRunError, match="what was sorted changed"):
        verify_tampered(
            opened(path), tmp_path, MADE, SHEET, replaced(sorted_as_far, f'sortState ref="{new}"')
        )
