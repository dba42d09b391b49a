"""The proof of an edit holds each formula that it wrote, its text and its result, and every other formula."""

import re
from pathlib import Path

import pytest

from rosterkit.errors import CannotRunError
from rosterkit.xlsx.changes import CellChange, CellStyle, SheetChange, WorkbookChange
from rosterkit.xlsx.package.opening import Package, opened
from rosterkit.xlsx.patch.draft import Draft
from rosterkit.xlsx.save.edit import edited
from rosterkit.xlsx.save.zip_writer import zipped
from rosterkit.xlsx.verify.claims import Claims
from rosterkit.xlsx.verify.verify import verify_edit
from tests.xlsx.clubs import TITLE, club, locomotives
from tests.xlsx.packages import Patch, declared, parts, patch, related, replaced
from tests.xlsx.verify.tampering import BOOK, LINKS, SHEET, STYLES, TYPES, verify_tampered

SPREADSHEET = "application/vnd.openxmlformats-officedocument.spreadsheetml"
NUMBER = '<c r="G2"><f>IF(C2&lt;128,C2,"")</f><v>3</v></c>'
TEXT = '<c r="G3" t="str"><f>IF(C3&lt;=127,C3,"")</f><v></v></c>'
OTHER = '<c r="H4"><f>C4*2</f><v>256</v></c>'
FIRST, SECOND = '<f t="shared" ref="I2:I3" si="0">C2+7</f>', '<f t="shared" si="0"/>'

CHANGE = WorkbookChange(
    sheets=(
        SheetChange(
            title=TITLE,
            cells=(
                CellChange(row=2, column=7, value=3, formula='IF(C2<128,C2,"")'),
                CellChange(row=3, column=7, value="", formula='IF(C3<=127,C3,"")'),
                CellChange(row=4, column=7, value=128, formula="C4+0", look=CellStyle.COMPUTED_WHOLE),
                CellChange(row=5, column=7, value=True, formula="C5>2"),
                CellChange(row=6, column=7, value=12),
                CellChange(row=2, column=10, value=11, formula="C2+8"),
            ),
        ),
    )
)


@pytest.fixture(scope="module")
def package(tmp_path_factory: pytest.TempPathFactory) -> Package:
    """Make a club with formulas of a member's, two of them in one group, and a formatted cell."""
    path = tmp_path_factory.mktemp("formulas") / "club.xlsx"
    book = club(path)
    sheet = locomotives(book)
    sheet.write_formula("H4", "=C4*2", None, 256)
    sheet.write_formula("I2", "=C2+7", None, 10)
    sheet.write_formula("I3", "=C3+7", None, 4718)
    sheet.write_formula("J2", "=C2+8", None, 11)
    sheet.write_number("G4", 1, book.add_format({"bold": True}))
    sheet.write_formula("G6", "=C6", None, 1001)
    book.close()
    patch(path, {SHEET: replaced("<f>C2+7</f>", FIRST)})
    patch(path, {SHEET: replaced("<f>C3+7</f>", SECOND)})
    return opened(path)


def test_what_was_meant_is_proven(package: Package, tmp_path: Path) -> None:
    verify_tampered(package, tmp_path, CHANGE, SHEET, lambda data: data)


DIFFERENT = [
    pytest.param(replaced("C2&lt;128", "C2&lt;129"), "G2 does not hold", id="a formula changed"),
    pytest.param(replaced("C2&lt;128", "C2&lt;=128"), "G2 does not hold", id="a sign more in a formula"),
    pytest.param(replaced("IF(C2", "if(C2"), "G2 does not hold", id="a letter of a formula in lower case"),
    pytest.param(replaced("IF(C2", "IF( C2"), "G2 does not hold", id="a blank in a formula"),
    pytest.param(replaced("C2&lt;128", "$C2&lt;128"), "G2 does not hold", id="a fixed column"),
    pytest.param(replaced(NUMBER, NUMBER.replace("<v>3", "<v>4")), "G2 does not hold", id="a value changed"),
    pytest.param(replaced(NUMBER, '<c r="G2"><v>3</v></c>'), "G2 does not hold", id="a formula dropped"),
    pytest.param(replaced(NUMBER, NUMBER.replace("<v>3</v>", "")), "G2 does not hold", id="a result dropped"),
    pytest.param(
        replaced(NUMBER, NUMBER.replace('"G2"', '"G2" t="str"')), "G2 does not hold", id="a result as a text"
    ),
    pytest.param(
        replaced(NUMBER, NUMBER.replace("<f>", '<f t="array" ref="G2">')),
        "G2 does not hold",
        id="a formula made one of an array",
    ),
    pytest.param(
        replaced(NUMBER, NUMBER.replace("<f>", '<f t="shared" ref="G2:G3" si="0">')),
        "other cells are in a group",
        id="a formula made the first of a group",
    ),
    pytest.param(
        replaced(NUMBER, NUMBER.replace("<f>", '<f ca="1">')), "G2 does not hold", id="an attribute more"
    ),
    pytest.param(
        replaced(NUMBER, NUMBER.replace("</c>", "<f>1</f></c>")), "G2 does not hold", id="a second formula"
    ),
    pytest.param(
        replaced(TEXT, TEXT.replace("<v></v>", "<v> </v>")),
        "G3 does not hold",
        id="a blank in a blank text",
    ),
    pytest.param(
        replaced(TEXT, TEXT.replace(' t="str"', "")), "G3 does not hold", id="a blank text as a number"
    ),
    pytest.param(
        replaced('<c r="G5" t="b"><f>C5&gt;2</f><v>1</v>', '<c r="G5"><f>C5&gt;2</f><v>1</v>'),
        "G5 does not hold",
        id="a truth value as a number",
    ),
    pytest.param(
        replaced('<c r="G6"><v>12</v>', '<c r="G6"><f>6+6</f><v>12</v>'),
        "G6 does not hold",
        id="a formula in place of a value",
    ),
    pytest.param(
        replaced('<c r="G6"><v>12</v>', '<c r="G6"><f>C6</f><v>12</v>'),
        "G6 does not hold",
        id="the formula of old with the value of new",
    ),
    pytest.param(
        replaced('<c r="C2"><v>3</v>', '<c r="C2"><f>1+2</f><v>3</v>'),
        "other cells of row 2",
        id="a formula added to another cell",
    ),
    pytest.param(
        replaced('</row><row r="3"', '<c r="Z2"><f>1</f><v>1</v></c></row><row r="3"'),
        "other cells of row 2",
        id="a cell with a formula more",
    ),
    pytest.param(
        replaced(OTHER, OTHER.replace("C4*2", "C4*3")), "other cells of row 4", id="another changed"
    ),
    pytest.param(replaced(OTHER, '<c r="H4"><v>256</v></c>'), "other cells of row 4", id="another dropped"),
    pytest.param(
        replaced('<c r="J2"><f>C2+8</f>', '<c r="J2"><f>C2+9</f>'),
        "J2 does not hold",
        id="a formula that stood already",
    ),
    pytest.param(
        replaced('<c r="J2"><f>C2+8</f><v>11</v>', '<c r="J2"><v>11</v>'),
        "J2 does not hold",
        id="a formula that stood already dropped",
    ),
    pytest.param(replaced(FIRST, "<f>C2+7</f>"), "other cells of row 2", id="the first of a group alone"),
    pytest.param(replaced(SECOND, ""), "other cells of row 3", id="the second of a group without"),
    pytest.param(replaced('ref="I2:I3"', 'ref="I2:I4"'), "other cells of row 2", id="a group longer"),
    pytest.param(replaced('<c r="G4" s="3">', '<c r="G4" s="1">'), "format of the cell G4", id="a format"),
]


@pytest.mark.parametrize(("change", "why"), DIFFERENT)
def test_whatever_is_different_is_noticed(package: Package, tmp_path: Path, change: Patch, why: str) -> None:
    with pytest.raises(CannotRunError, match="found more changed than was meant") as refused:
        verify_tampered(package, tmp_path, CHANGE, SHEET, change)

    assert why in refused.value.message


@pytest.mark.parametrize(
    ("cells", "why"),
    [
        pytest.param({(2, 9): "<v>10</v>"}, "derived from", id="the first of a group replaced by a value"),
        pytest.param({(3, 9): "<v>4718</v>"}, "", id="the second, which none needs"),
    ],
)
def test_a_group_that_is_broken_is_noticed(
    package: Package, tmp_path: Path, cells: dict[tuple[int, int], str], why: str
) -> None:
    """The edit refuses to break one; here the proof alone is asked."""
    place, content = next(iter(cells.items()))
    change = CellChange(row=place[0], column=place[1], value=float(content[3:-4]))
    claimed = WorkbookChange(sheets=(SheetChange(title=TITLE, cells=(*CHANGE.sheets[0].cells, change)),))

    def broken(data: bytes) -> bytes:
        return re.sub(rb'(<c r="I%d">)<f.*?</c>' % place[0], rb"\1%b</c>" % content.encode(), data)

    if not why:
        verify_tampered(package, tmp_path, CHANGE, SHEET, broken, claimed)
        return
    with pytest.raises(CannotRunError, match=why):
        verify_tampered(package, tmp_path, CHANGE, SHEET, broken, claimed)


def _in_last(old: str, new: str) -> Patch:
    """Change the cell format that was added last."""

    def patched(data: bytes) -> bytes:
        before, tag, last = data.rpartition(b'<xf numFmtId="1"')
        assert old.encode() in tag + last
        return before + (tag + last).replace(old.encode(), new.encode(), 1)

    return patched


@pytest.mark.parametrize(
    "change",
    [
        pytest.param(_in_last('numFmtId="1"', 'numFmtId="0"'), id="no number format"),
        pytest.param(_in_last('numFmtId="1"', 'numFmtId="2"'), id="another one"),
        pytest.param(_in_last('fontId="1"', 'fontId="0"'), id="another font"),
        pytest.param(_in_last("/>", ' quotePrefix="1"/>'), id="an attribute more"),
    ],
)
def test_a_format_that_did_not_become_the_wanted_one_is_noticed(
    package: Package, tmp_path: Path, change: Patch
) -> None:
    with pytest.raises(CannotRunError, match="format of the cell G4 changed"):
        verify_tampered(package, tmp_path, CHANGE, STYLES, change)


def test_a_list_of_formula_cells_that_stayed_is_noticed(package: Package, tmp_path: Path) -> None:
    path = tmp_path / "chained.xlsx"
    path.write_bytes(package.raw)
    kind = "http://schemas.openxmlformats.org/officeDocument/2006/relationships/calcChain"
    link = related(("rId77", kind, "calcChain.xml"))
    types = declared(("xl/calcChain.xml", f"{SPREADSHEET}.calcChain+xml"))
    chain = '<calcChain xmlns="http://schemas.openxmlformats.org/spreadsheetml/2006/main"></calcChain>'
    patch(path, {LINKS: link, TYPES: types}, {"xl/calcChain.xml": chain})
    chained = opened(path)
    draft = Draft(chained)
    made = tmp_path / "made.xlsx"
    made.write_bytes(edited(package, CHANGE).data)
    for part in (SHEET, STYLES, BOOK):
        draft.write(part, parts(made)[part])

    with pytest.raises(CannotRunError, match="list of formula cells is that of the old file"):
        verify_edit(chained, zipped(draft), Claims.of(draft, CHANGE, []))


LEFT = CellChange(row=3, column=9, value=4718, formula="C3+7")
"""The second of a group as it stands."""


@pytest.mark.parametrize(
    "claim",
    [
        pytest.param(CellChange(row=3, column=9, value=4718, formula="C3+8"), id="another formula"),
        pytest.param(CellChange(row=3, column=9, value=4718, formula="C2+7"), id="the formula of the first"),
        pytest.param(CellChange(row=3, column=9, value=4719, formula="C3+7"), id="another result"),
        pytest.param(CellChange(row=3, column=9, value="", formula="C3+7"), id="a text as its result"),
        pytest.param(CellChange(row=3, column=9, value=4718), id="a value"),
        pytest.param(CellChange(row=3, column=9, value=None), id="nothing"),
    ],
)
def test_one_of_a_group_that_was_left_holds_what_was_wanted(
    package: Package, tmp_path: Path, claim: CellChange
) -> None:
    made, claimed = (
        WorkbookChange(sheets=(SheetChange(title=TITLE, cells=(*CHANGE.sheets[0].cells, one)),))
        for one in (LEFT, claim)
    )
    verify_tampered(package, tmp_path, made, SHEET, lambda data: data)

    with pytest.raises(CannotRunError, match="the cell I3 does not hold what it should"):
        verify_tampered(package, tmp_path, made, SHEET, lambda data: data, claimed)


def test_a_group_whose_number_came_twice_is_noticed(package: Package, tmp_path: Path) -> None:
    """Nobody knows then which formula the others have."""
    made = WorkbookChange(sheets=(SheetChange(title=TITLE, cells=(*CHANGE.sheets[0].cells, LEFT)),))
    second = replaced('<c r="H4"><f>', '<c r="H4"><f t="shared" ref="H4:H5" si="0">')

    with pytest.raises(CannotRunError, match="found more changed than was meant"):
        verify_tampered(package, tmp_path, made, SHEET, second)
