"""The proof of an edit holds formulas that cells share: each cell of a group, and which cells are in it."""

import re
from pathlib import Path

import pytest

from rosterkit.errors import CannotRunError
from rosterkit.xlsx.changes import CellChange, SheetChange, WorkbookChange
from rosterkit.xlsx.package.opening import Package, opened
from tests.xlsx.clubs import TITLE, club, locomotives
from tests.xlsx.packages import Patch, patch, replaced
from tests.xlsx.verify.tampering import SHEET, verify_tampered

FIRST = '<f t="shared" ref="G2:G6" si="1">IF($C2&lt;128,$C2,"")</f>'
OTHER = '<f t="shared" si="1"/>'
STOOD = '<f t="shared" ref="I2:I5" si="0">C2+7</f>'
RESULTS: dict[int, str | int] = {2: 3, 3: "", 5: 9, 6: ""}
CHANGE = WorkbookChange(
    sheets=(
        SheetChange(
            title=TITLE,
            cells=(
                *(
                    CellChange(row=row, column=7, value=value, formula=f'IF($C{row}<128,$C{row},"")')
                    for row, value in RESULTS.items()
                ),
                CellChange(row=4, column=7, value=128),
                CellChange(row=3, column=9, value=1, formula="C3+7"),
                CellChange(row=4, column=9, value=135, formula="C4+7"),
            ),
        ),
    )
)


@pytest.fixture(scope="module")
def package(tmp_path_factory: pytest.TempPathFactory) -> Package:
    """Make a club in which a formula of a member's stands for a group of cells."""
    path = tmp_path_factory.mktemp("shared") / "club.xlsx"
    book = club(path)
    sheet = locomotives(book)
    for row in range(2, 6):
        sheet.write_formula(f"I{row}", f"=C{row}+7", None, 7)
    sheet.write_formula("H6", "=C6*2", None, 2002)
    book.close()
    patch(path, {SHEET: _grouped})
    patch(
        path,
        {
            SHEET: replaced(
                '<c r="I4"><f t="shared" si="0"/><v>7</v>', '<c r="I4"><f t="shared" si="0"/><v>135</v>'
            )
        },
    )
    return opened(path)


def _grouped(data: bytes) -> bytes:
    data = re.sub(rb"<f>C[345]\+7</f>", b'<f t="shared" si="0"/>', data)
    return data.replace(b"<f>C2+7</f>", STOOD.encode())


def test_what_was_meant_is_proven(package: Package, tmp_path: Path) -> None:
    def as_meant(data: bytes) -> bytes:
        assert f'<c r="G2">{FIRST}<v>3</v></c>'.encode() in data
        assert f'<c r="G5">{OTHER}<v>9</v></c>'.encode() in data
        assert f'<c r="G6" t="str">{OTHER}<v></v></c>'.encode() in data
        assert b'<c r="G4"><v>128</v></c>' in data
        assert b'<c r="I3"><f t="shared" si="0"/><v>1</v></c>' in data
        return data

    verify_tampered(package, tmp_path, CHANGE, SHEET, as_meant)


def _first(old: str, new: str) -> Patch:
    assert old in FIRST
    return replaced(FIRST, FIRST.replace(old, new))


def _fifth(new: str) -> Patch:
    return replaced(f'<c r="G5">{OTHER}<v>9</v></c>', new)


OTHERS = "other cells are in a group"
WHICH = "does not say which cells"
DIFFERENT = [
    pytest.param(_first("128", "129"), "G2 does not hold", id="the formula of the group changed"),
    pytest.param(_first("$C2,", "$C3,"), "G2 does not hold", id="a row in it changed"),
    pytest.param(_first("$C2,", "C2,"), "G2 does not hold", id="a sign less in it"),
    pytest.param(_first(' ref="G2:G6"', ""), "G2 does not hold", id="no area"),
    pytest.param(_first("G2:G6", "G2:G5"), WHICH, id="an area too short"),
    pytest.param(_first("G2:G6", "G2:G7"), WHICH, id="an area too long"),
    pytest.param(_first("G2:G6", "G1:G6"), WHICH, id="an area that begins above"),
    pytest.param(_first("G2:G6", "F2:G6"), WHICH, id="an area too wide"),
    pytest.param(_first("G2:G6", "G2"), WHICH, id="an area of one cell"),
    pytest.param(_first("G2:G6", "G6:G2"), WHICH, id="an area upside down"),
    pytest.param(_first('si="1"', 'si="2"'), "G3 does not hold", id="the number of no group"),
    pytest.param(_first('si="1"', 'si="0"'), "G3 does not hold", id="the number of another group"),
    pytest.param(_first(' t="shared"', ""), "G2 does not hold", id="the formula not for a group"),
    pytest.param(_first(' t="shared"', ' t="array"'), "G2 does not hold", id="the formula of an array"),
    pytest.param(_first(' si="1"', ' si="1" ca="1"'), "G2 does not hold", id="an attribute more"),
    pytest.param(_fifth('<c r="G5"><v>9</v></c>'), "G5 does not hold", id="a formula dropped"),
    pytest.param(
        _fifth('<c r="G5"><f t="shared" si="0"/><v>9</v></c>'),
        "G5 does not hold",
        id="a cell in another group",
    ),
    pytest.param(
        _fifth('<c r="G5"><f t="shared" si="9"/><v>9</v></c>'), "G5 does not hold", id="a cell in no group"
    ),
    pytest.param(
        _fifth('<c r="G5"><f t="shared" ref="G5:G6" si="1">IF($C5&lt;128,$C5,"")</f><v>9</v></c>'),
        "does not hold",
        id="two formulas for one group",
    ),
    pytest.param(
        _fifth('<c r="G5"><f t="shared" si="1">$C5</f><v>9</v></c>'), "G5 does not hold", id="one of its own"
    ),
    pytest.param(
        _fifth('<c r="G5"><f si="1"/><v>9</v></c>'), "G5 does not hold", id="a cell that says not how"
    ),
    pytest.param(_fifth(f'<c r="G5">{OTHER}<v>8</v></c>'), "G5 does not hold", id="a result changed"),
    pytest.param(_fifth(f'<c r="G5">{OTHER}</c>'), "G5 does not hold", id="a result dropped"),
    pytest.param(
        _fifth(f'<c r="G5" t="str">{OTHER}<v>9</v></c>'), "G5 does not hold", id="a result as a text"
    ),
    pytest.param(
        replaced('<c r="G4"><v>128</v></c>', f'<c r="G4">{OTHER}<v>128</v></c>'),
        "G4 does not hold",
        id="a formula where a value alone was meant",
    ),
    pytest.param(
        replaced('<c r="H6"><f>C6*2</f>', f'<c r="H6">{OTHER}'),
        "other cells of row 6",
        id="one more cell in it",
    ),
    pytest.param(replaced(STOOD, "<f>C2+7</f>"), "other cells of row 2", id="the group of another alone"),
    pytest.param(
        replaced(STOOD, STOOD.replace("C2+7", "C2+8")), "other cells of row 2", id="that of another changed"
    ),
]


@pytest.mark.parametrize(("change", "why"), DIFFERENT)
def test_whatever_is_different_is_noticed(package: Package, tmp_path: Path, change: Patch, why: str) -> None:
    with pytest.raises(CannotRunError, match="found more changed than was meant") as refused:
        verify_tampered(package, tmp_path, CHANGE, SHEET, change)

    assert why in refused.value.message


def test_a_cell_whose_formula_went_before_is_not_taken_into_a_group(tmp_path: Path) -> None:
    """Its number names no group; a group of that number would give it a formula again."""
    path = tmp_path / "club.xlsx"
    book = club(path)
    locomotives(book).write_formula("H6", "=C6*2", None, 2002)
    book.close()
    patch(path, {SHEET: replaced("<f>C6*2</f>", '<f t="shared" si="1"/>')})
    change = WorkbookChange(sheets=(SheetChange(title=TITLE, cells=CHANGE.sheets[0].cells[:4]),))

    def meant(data: bytes) -> bytes:
        assert b'ref="G2:G6" si="0"' in data
        return data

    verify_tampered(opened(path), tmp_path, change, SHEET, meant)
    with pytest.raises(CannotRunError, match=OTHERS):
        verify_tampered(
            opened(path), tmp_path, change, SHEET, lambda data: data.replace(b' si="0"', b' si="1"')
        )
