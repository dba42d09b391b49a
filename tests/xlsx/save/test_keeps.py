"""What is not rosterkit's own in a workbook is the same before and after an edit, feature by feature."""

from pathlib import Path

import pytest
from lxml import etree

from rosterkit.xlsx.package.opening import opened
from rosterkit.xlsx.save.edit import edited
from tests.xlsx.clubs import TITLE, usual_change
from tests.xlsx.features import FEATURES, made
from tests.xlsx.packages import cells, parts, stored

OWN_COLUMNS = ("G", "H", "I")
GROWN = {"[Content_Types].xml", "workbook.xml", "workbook.xml.rels", "styles.xml"}
FRAME = {"sheetData", "dimension", "cols", "conditionalFormatting"}
SAVED_BY_PROGRAMS = {"saved by LibreOffice", "saved by Gnumeric"}
pytestmark = pytest.mark.parametrize(
    "feature",
    [
        pytest.param(name, marks=[pytest.mark.external] if name in SAVED_BY_PROGRAMS else [])
        for name in FEATURES
    ],
)


@pytest.fixture
def pair(tmp_path: Path, feature: str) -> tuple[Path, Path]:
    before = made(tmp_path, feature)
    after = tmp_path / f"after{before.suffix}"
    after.write_bytes(edited(opened(before), usual_change()).data)
    return before, after


def _sheet_part(path: Path) -> str:
    return next(sheet.part for sheet in opened(path).sheets if sheet.title == TITLE)


def test_parts_that_are_not_ours_are_the_same_packed_bytes_in_the_same_order(pair: tuple[Path, Path]) -> None:
    before, after = (stored(path) for path in pair)
    part = _sheet_part(pair[0])

    changed = {name for name in before if before[name] != after.get(name)}

    assert {name.rpartition("/")[2] for name in changed - {part}} <= GROWN
    assert list(after)[: len(before)] == list(before)
    assert len(after) - len(before) == (2 if opened(pair[0]).styles_part is None else 1)


def test_cells_that_are_not_ours_are_the_same_markup(pair: tuple[Path, Path]) -> None:
    part = _sheet_part(pair[0])

    before, after = (cells(parts(path)[part]) for path in pair)

    ours = {reference for reference in after if reference.rstrip("0123456789") in OWN_COLUMNS}
    assert len(ours - {"G9"}) == 18
    assert {name: cell for name, cell in after.items() if name not in ours or name == "G9"} == {
        name: cell for name, cell in before.items() if name not in ours or name == "G9"
    }


def test_all_else_in_the_sheet_is_the_same_markup(pair: tuple[Path, Path]) -> None:
    part = _sheet_part(pair[0])

    before, after = (etree.fromstring(parts(path)[part]) for path in pair)

    assert _frame(after) == _frame(before)
    assert _rules(before) == [rule for rule in _rules(after) if b"rosterkit" not in rule or b"$A1=" in rule]
    assert len(_rules(after)) == len(_rules(before)) + 2


def _frame(root: etree._Element) -> list[bytes]:
    own = "{" + str(etree.QName(root).namespace) + "}"
    kept = [child for child in root if str(child.tag).removeprefix(own) not in FRAME]
    return [etree.tostring(child, with_tail=False) for child in kept]


def _rules(root: etree._Element) -> list[bytes]:
    return [etree.tostring(rule) for rule in root.iterfind("{*}conditionalFormatting/{*}cfRule")]


def test_doing_it_again_changes_nothing(pair: tuple[Path, Path]) -> None:
    again = edited(opened(pair[1]), usual_change())

    assert not again.changed
    assert again.data == pair[1].read_bytes()
