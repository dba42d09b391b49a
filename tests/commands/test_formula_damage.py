"""What happens to formulas that fill wrote is found by check, named cell by cell, and mended by fill."""

import re
import zipfile
from collections.abc import Callable
from pathlib import Path

import openpyxl
import pytest

from rosterkit.commands.check import check
from rosterkit.commands.fill import fill
from rosterkit.xlsx.package.opening import opened
from tests.samples.__main__ import saved_by_gnumeric, saved_by_libreoffice
from tests.xlsx.packages import patch
from tests.xlsx.spelt_alone import spelt_alone

ENGINES = (
    ("Loco", "Address", "Direction"),
    ("A", 12, "normal"),
    ("B", 1200, "reversed"),
    ("C", "\uff12\uff15", "normal"),
    ("D", 44, None),
)
"""The address of C has full-width digits: rosterkit reads them, not every spreadsheet program does. Answers
to CV29 stand in D to I, CV29 read in J, Alert in K."""
CVS = "DEFGHI"


@pytest.fixture
def club(tmp_path: Path) -> Path:
    path = tmp_path / "club.xlsx"
    book = openpyxl.Workbook()
    sheet = book.active
    assert sheet is not None
    sheet.title = "Locomotives"
    for row in ENGINES:
        sheet.append(row)
    book.save(path)
    fill(path)
    # Whatever program the damage is done with spells the formulas of all cells out.
    patch(path, {"xl/worksheets/sheet1.xml": spelt_alone})
    return path


def _in_cells(path: Path, pattern: str, change: Callable[[str], str]) -> None:
    """Change the XML of the cells of Locomotives whose names match."""
    part = next(sheet.part for sheet in opened(path).sheets if sheet.title == "Locomotives")
    with zipfile.ZipFile(path) as package:
        parts = {name: package.read(name) for name in package.namelist()}
    found = re.compile(f'<c r="(?:{pattern})"[^>]*?(?:/>|>.*?</c>)')
    xml, count = found.subn(lambda cell: change(cell[0]), parts[part].decode())
    assert count > 0
    parts[part] = xml.encode()
    with zipfile.ZipFile(path, "w", zipfile.ZIP_DEFLATED) as package:
        for name, data in parts.items():
            package.writestr(name, data)


def _pasted(cell: str) -> str:
    return re.sub("<f>.*?</f>", "", cell)


def _emptied(cell: str) -> str:
    return re.sub(r'( s="\d+")?( t="\w+")?>.*</c>', r"\1/>", cell)


def _formulas(path: Path) -> dict[str, str]:
    sheet = openpyxl.load_workbook(path)["Locomotives"]
    return {
        cell.coordinate: str(cell.value) for row in sheet for cell in row if str(cell.value).startswith("=")
    }


def _found(path: Path) -> list[tuple[str, str | None]]:
    return [
        (one.rule, one.place.cell)
        for one in check([path]).findings
        if one.rule.startswith(("formula-", "computed-"))
    ]


def test_a_row_that_no_formula_computes_alike_holds_values_and_is_not_found(club: Path) -> None:
    formulas = _formulas(club)

    assert {f"{column}4" for column in CVS} & formulas.keys() == set()
    assert {f"{column}3" for column in CVS} <= formulas.keys()
    assert openpyxl.load_workbook(club)["Locomotives"]["E4"].value == 25
    assert _found(club) == []


DAMAGES = (
    pytest.param("E2", _pasted, [("formula-missing", "E2")], id="a value pasted over a formula"),
    pytest.param("[D-K]3", _pasted, [("formula-missing", "D3")], id="a row of values pasted over"),
    pytest.param("F3", _emptied, [("formula-missing", "F3")], id="a formula blanked"),
    pytest.param(
        "E[2-5]", _pasted, [("formula-missing", "E2"), ("formula-missing", "E5")], id="a column pasted over"
    ),
    pytest.param(
        "[D-K][235]",
        _pasted,
        [("formula-missing", "D2"), ("formula-missing", "D5")],
        id="all engines pasted over",
    ),
    pytest.param(
        "F3", lambda cell: cell.replace("$D3", "#REF!"), [("formula-damaged", "F3")], id="a lost reference"
    ),
    pytest.param(
        "D3",
        lambda cell: cell.replace("Live!", "[1]Live!"),
        [("formula-damaged", "D3")],
        id="another workbook",
    ),
    pytest.param(
        "K5",
        lambda cell: re.sub(r"\$D\$1:\$D\$\d+", "$D$1:$D$4", cell),
        [("formula-damaged", "K5")],
        id="ranges that end too early",
    ),
    pytest.param(
        "E2", lambda cell: cell.replace("<v>12<", "<v>13<"), [("computed-stale", "E2")], id="a stale result"
    ),
    pytest.param(
        "E2", lambda cell: re.sub("<v>.*</v>", "", cell), [("computed-stale", "E2")], id="no result"
    ),
)


@pytest.mark.parametrize(("cells", "damage", "found"), DAMAGES)
def test_damage_is_found_and_mended(
    club: Path, cells: str, damage: Callable[[str], str], found: list[tuple[str, str]]
) -> None:
    before = _formulas(club)
    _in_cells(club, cells, damage)

    assert _found(club) == found
    assert fill(club).written
    assert _found(club) == []
    assert _formulas(club) == before


def test_a_spare_row_that_lost_its_formulas_is_mended_without_a_finding(club: Path) -> None:
    before = _formulas(club)
    _in_cells(club, "[D-K]7", _emptied)

    assert _found(club) == []
    fill(club)
    assert _formulas(club) == before


def test_formula_of_ones_own_among_ours_is_named_and_stays(club: Path) -> None:
    _in_cells(club, "I5", lambda cell: re.sub("<f>.*</f>", "<f>2+4</f>", cell))

    assert _found(club) == [("computed-not-ours", "I5")]
    fill(club)
    assert openpyxl.load_workbook(club)["Locomotives"]["I5"].value == "=2+4"
    assert _found(club) == [("computed-not-ours", "I5")]


def test_filled_with_values_alone_none_is_missing(club: Path) -> None:
    fill(club, values=True)

    assert _formulas(club) == {}
    assert _found(club) == []


@pytest.mark.external
@pytest.mark.slow
@pytest.mark.filterwarnings("ignore:Workbook contains no default style:UserWarning")
@pytest.mark.parametrize("save", [saved_by_libreoffice, saved_by_gnumeric])
def test_formulas_that_another_program_wrote_are_still_ours(
    club: Path, tmp_path: Path, save: Callable[[Path, Path], Path]
) -> None:
    folder = tmp_path / "saved"
    folder.mkdir()

    saved = save(club, folder)

    assert _formulas(saved).keys() == _formulas(club).keys()
    assert _found(saved) == []


@pytest.mark.external
@pytest.mark.slow
@pytest.mark.parametrize("save", [saved_by_libreoffice, saved_by_gnumeric])
def test_damage_is_found_in_what_another_program_wrote(
    club: Path, tmp_path: Path, save: Callable[[Path, Path], Path]
) -> None:
    folder = tmp_path / "saved"
    folder.mkdir()
    book = openpyxl.load_workbook(club)
    sheet = book["Locomotives"]
    sheet["E2"], sheet["F3"] = 12, None
    book.save(club)

    assert {one for one in _found(save(club, folder)) if one[0] == "formula-missing"} == {
        ("formula-missing", "E2"),
        ("formula-missing", "F3"),
    }
