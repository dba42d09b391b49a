"""The proof of an edit sees a table, a filter or a sorted range that grew otherwise than it should."""

import re
from dataclasses import replace
from pathlib import Path

import pytest

from rosterkit.errors import CannotRunError
from rosterkit.xlsx.changes import CellChange, SheetChange, WorkbookChange
from rosterkit.xlsx.package.opening import Package, opened
from rosterkit.xlsx.patch.draft import Draft
from rosterkit.xlsx.save.edit import edited
from rosterkit.xlsx.save.zip_writer import zipped
from rosterkit.xlsx.verify.claims import Claims
from rosterkit.xlsx.verify.verify import verify_edit
from tests.xlsx.clubs import HEADINGS, TITLE, club, locomotives
from tests.xlsx.packages import Patch, before, parts, patch, replaced, stored

SHEET, TABLE = "xl/worksheets/sheet1.xml", "xl/tables/table1.xml"
SORT = '<sortState ref="{0}2:{1}6"><sortCondition ref="{0}2:{0}6"/></sortState>'
CHANGE = SheetChange(
    title=TITLE,
    cells=(CellChange(row=1, column=6, value="CV17"), CellChange(row=7, column=2, value="Brake van")),
    heading=(1, 2),
    last_row=7,
)


@pytest.fixture(params=["a table", "a filter"])
def package(request: pytest.FixtureRequest, tmp_path: Path) -> Package:
    path = tmp_path / "club.xlsx"
    book = club(path)
    tabled = request.param == "a table"
    if tabled:
        columns = [{"header": heading} for heading in HEADINGS]
        locomotives(book).add_table("A1:E6", {"columns": columns, "name": "Engines"})
    else:
        locomotives(book).autofilter("A1:E6")
    book.close()
    if tabled:
        patch(path, {TABLE: before("<tableColumns", SORT.format("A", "E"))})
    else:
        patch(path, {SHEET: replaced('"A1:E6"/><page', f'"A1:E6"/>{SORT.format("A", "E")}<page')})
    return opened(path)


def _verify(package: Package, tmp_path: Path, change: Patch, last_row: int) -> None:
    after = tmp_path / "after.xlsx"
    after.write_bytes(edited(package, WorkbookChange(sheets=(CHANGE,))).data)
    part = TABLE if TABLE in package.infos else SHEET
    spoilt, edit = Draft(opened(after)), Draft(package)
    spoilt.written[part] = change(parts(after)[part])
    then, now = stored(package.path), stored(after)
    edit.written = {name: data for name, data in parts(after).items() if now[name] != then.get(name)}
    claimed = WorkbookChange(sheets=(replace(CHANGE, last_row=last_row),))
    verify_edit(package, zipped(spoilt), Claims.of(edit, claimed, []))


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
