"""Formulas written into workbooks of every kind: other programs open them, keep them and calculate the same.

The programs: LibreOffice and Gnumeric; the schemas of the format by openxml-audit.
"""

import csv
import re
import subprocess
from collections import Counter
from pathlib import Path

import pytest
from openxml_audit import OpenXmlValidator

from rosterkit.xlsx.changes import CellChange, CellStyle, OwnCell, OwnSheet, SheetChange, WorkbookChange
from rosterkit.xlsx.grid import Grid, Raw
from rosterkit.xlsx.package.opening import opened
from rosterkit.xlsx.read.workbook import read_workbook
from rosterkit.xlsx.save.edit import edited
from tests.xlsx.clubs import ENGINES, TITLE, club, locomotives
from tests.xlsx.features import FEATURES, made
from tests.xlsx.packages import cells, parts, patch

SAVED_BY_PROGRAMS = {"saved by LibreOffice", "saved by Gnumeric"}
GNUMERIC_CANNOT = {"the Strict namespaces"}
LIBREOFFICE_LOSES_BLANKS = {"formulas with stored values"}
"""Calculated by hand only: there it takes a stored text without signs for no result, and shows 0."""
LONG, SHORT, TEXT = 7, 8, 9
"""Columns of ours."""
ROWS = range(2, len(ENGINES) + 2)
LIVE = OwnSheet(
    title="Live",
    rows=[
        [OwnCell("engines"), OwnCell(len(ENGINES), formula="COUNT(Locomotives!$C$2:$C$6)")],
        [OwnCell("address"), OwnCell(4711, CellStyle.INPUT, typed=True)],
        [OwnCell("CV17"), OwnCell(210, CellStyle.COMPUTED_WHOLE, formula='IF(B2>127,192+INT(B2/256),"")')],
        [OwnCell("CV1"), OwnCell("", CellStyle.COMPUTED_WHOLE, formula='IF(B2>127,"",B2)')],
    ],
    hidden_columns=(3,),
)


def _cells(row: int) -> dict[int, tuple[str, str | float]]:
    """Return formulas and results of a row: a number with a sign, a number or none, a text or none."""
    owner, _, address, *_ = ENGINES[row - 2]
    return {
        LONG: (f"IF($C{row}>127,-$C{row},$C{row})", -address if address > 127 else address),
        SHORT: (f'IF(AND($C{row}>=1,$C{row}<=127),$C{row},"")', address if address < 128 else ""),
        TEXT: (f'IF($C{row}<128,"short <&> "&$A{row},"")', f"short <&> {owner}" if address < 128 else ""),
    }


LOOKS = {LONG: CellStyle.COMPUTED_ADDRESS, SHORT: CellStyle.COMPUTED_WHOLE, TEXT: CellStyle.COMPUTED}
CHANGE = WorkbookChange(
    sheets=(
        SheetChange(
            title=TITLE,
            cells=(
                *(
                    CellChange(row=1, column=column, value=f"Of ours {column}", look=CellStyle.HEADING)
                    for column in LOOKS
                ),
                *(
                    CellChange(row=row, column=column, value=value, formula=formula, look=LOOKS[column])
                    for row in ROWS
                    for column, (formula, value) in _cells(row).items()
                ),
            ),
            heading=(1, 2),
        ),
    ),
    own_sheets=(LIVE,),
)


FORMULAS_ALONE = WorkbookChange(
    sheets=(SheetChange(title=TITLE, cells=tuple(one for one in CHANGE.sheets[0].cells if one.formula)),)
)


def _formulas(grid: Grid) -> dict[tuple[int, int], str]:
    return {(row, column): grid.formulas.get((row, column), "") for row in ROWS for column in LOOKS}


def _results(grid: Grid) -> dict[tuple[int, int], Raw]:
    return {
        (row, column): [*grid.rows[row - 1], *[""] * TEXT][column - 1] for row in ROWS for column in LOOKS
    }


FORMULAS = {(row, column): formula for row in ROWS for column, (formula, _) in _cells(row).items()}
OURS = [f"{'GHI'[column - LONG]}{row}" for row, column in FORMULAS]
RESULTS = {(row, column): result for row in ROWS for column, (_, result) in _cells(row).items()}


@pytest.mark.parametrize(
    "feature",
    [
        pytest.param(name, marks=[pytest.mark.external] if name in SAVED_BY_PROGRAMS else [])
        for name in FEATURES
    ],
)
def test_formulas_are_written_into_every_workbook_and_then_left(tmp_path: Path, feature: str) -> None:
    path = made(tmp_path, feature)

    path.write_bytes(edited(opened(path), CHANGE).data)

    grids = read_workbook(path, lambda _: True).grids
    assert _formulas(grids[TITLE]) == FORMULAS
    assert _results(grids[TITLE]) == RESULTS
    assert dict(grids["Live"].formulas) == {
        (row, 2): cells[1].formula for row, cells in enumerate(LIVE.rows, 1) if cells[1].formula
    }
    assert not edited(opened(path), CHANGE).changed


@pytest.fixture(scope="module")
def written(tmp_path_factory: pytest.TempPathFactory) -> dict[str, Path]:
    """Write the formulas into a workbook of each feature."""
    folder = tmp_path_factory.mktemp("formulas")
    found = {}
    for feature in FEATURES:
        path = made(folder, feature)
        found[feature] = path.with_name(f"edited+{path.name}")
        found[feature].write_bytes(edited(opened(path), CHANGE).data)
    return found


@pytest.fixture(scope="module")
def in_libreoffice(written: dict[str, Path], tmp_path_factory: pytest.TempPathFactory) -> dict[str, Path]:
    """Have LibreOffice open and save them, all at once."""
    folder = tmp_path_factory.mktemp("libreoffice")
    profile = f"-env:UserInstallation={(folder / 'profile').as_uri()}"
    command = ["soffice", profile, "--headless", "--convert-to", "xlsx:Calc MS Excel 2007 XML"]
    command += ["--outdir", str(folder), *map(str, written.values())]
    subprocess.run(command, check=True, timeout=300, capture_output=True)
    return {feature: folder / path.with_suffix(".xlsx").name for feature, path in written.items()}


def _keeps(path: Path, *, blanks: bool = True) -> None:
    """Demand the formulas and results of a file."""
    grids = read_workbook(path, lambda _: True).grids
    assert _formulas(grids[TITLE]) == FORMULAS
    wanted = {place: result for place, result in RESULTS.items() if blanks or result != ""}
    found = _results(grids[TITLE])
    assert {place: found[place] for place in wanted} == wanted
    assert [row[1] for row in grids["Live"].rows[:3]] == [5, 4711, 210]


@pytest.mark.external
@pytest.mark.xdist_group("programs keep formulas")
@pytest.mark.parametrize("feature", FEATURES)
def test_libreoffice_keeps_formulas_and_results(in_libreoffice: dict[str, Path], feature: str) -> None:
    _keeps(in_libreoffice[feature], blanks=feature not in LIBREOFFICE_LOSES_BLANKS)


@pytest.mark.external
@pytest.mark.xdist_group("programs keep formulas")
@pytest.mark.parametrize("feature", [name for name in FEATURES if name not in GNUMERIC_CANNOT])
def test_gnumeric_calculates_the_same(written: dict[str, Path], tmp_path: Path, feature: str) -> None:
    target = tmp_path / "gnumeric.xlsx"
    command = ["ssconvert", "--recalc", "-T", "Gnumeric_Excel:xlsx2", str(written[feature]), str(target)]
    subprocess.run(command, check=True, capture_output=True, timeout=120)

    _keeps(target)


@pytest.mark.external
@pytest.mark.xdist_group("programs keep formulas")
@pytest.mark.parametrize("feature", FEATURES)
def test_the_schemas_of_the_format_allow_what_was_written(
    written: dict[str, Path], tmp_path: Path, feature: str
) -> None:
    assert not _faults(written[feature]) - _faults(made(tmp_path, feature))


def _faults(path: Path) -> Counter[tuple[str, str]]:
    found = OpenXmlValidator().validate(str(path)).errors
    return Counter((str(fault.part_uri), str(fault.description)) for fault in found)


def _shown(path: Path, folder: Path, program: str) -> dict[tuple[int, int], str]:
    """Return the cells of the sheet with the engines as a program shows them, by its own export as text."""
    if program == "LibreOffice":
        as_shown = "csv:Text - txt - csv (StarCalc):44,34,76,1,,0,false,true,true,false,false,-1"
        profile = f"-env:UserInstallation={(folder / 'profile').as_uri()}"
        command = ["soffice", profile, "--headless", "--convert-to", as_shown]
        command += ["--outdir", str(folder), str(path)]
    else:
        command = ["ssconvert", "-S", "-O", "format=preserve", "-T", "Gnumeric_stf:stf_assistant"]
        command += [str(path), str(folder / f"{path.stem}-%s.csv")]
    subprocess.run(command, check=True, capture_output=True, timeout=120)
    with (folder / f"{path.stem}-{TITLE}.csv").open(encoding="utf-8", newline="") as file:
        rows = list(csv.reader(file))
    return {(row, column): text for row, cells in enumerate(rows, 1) for column, text in enumerate(cells, 1)}


@pytest.fixture
def plain(tmp_path: Path) -> Path:
    path = tmp_path / "club.xlsx"
    book = club(path)
    locomotives(book).write_row(0, 6, ["G", "H", "I"])
    book.close()
    path.write_bytes(edited(opened(path), CHANGE).data)
    return path


@pytest.mark.external
@pytest.mark.parametrize("program", ["LibreOffice", "Gnumeric"])
def test_results_that_are_missing_are_calculated_and_shown_in_their_formats(
    plain: Path, tmp_path: Path, program: str
) -> None:
    """The stored results are taken out, so that only the program can have found these."""
    part = next(sheet.part for sheet in opened(plain).sheets if sheet.title == TITLE)
    patch(plain, {part: lambda data: re.sub(rb"(</f>|<f [^>]*/>)<v>[^<]*</v>", rb"\1", data)})
    assert len(re.findall(rb"(?:</f>|<f [^>]*/>)</c>", parts(plain)[part])) == len(FORMULAS)

    shown = _shown(plain, tmp_path, program)

    addresses = ["short 3", "long 4711", "long 128", "short 9", "long 1001"]
    assert [shown[row, LONG] for row in ROWS] == addresses
    assert [shown.get((row, SHORT), "") for row in ROWS] == ["3", "", "", "9", ""]
    assert [shown.get((row, TEXT), "") for row in ROWS] == ["short <&> M01", "", "", "short <&> M03", ""]


@pytest.mark.external
@pytest.mark.parametrize("program", ["LibreOffice", "Gnumeric"])
def test_what_another_program_saved_is_as_wanted(plain: Path, tmp_path: Path, program: str) -> None:
    """No formula is written again: spelt in another way, each cell holds what it should."""
    target = tmp_path / "saved" / "club.xlsx"
    target.parent.mkdir()
    if program == "LibreOffice":
        profile = f"-env:UserInstallation={(tmp_path / 'profile').as_uri()}"
        command = ["soffice", profile, "--headless", "--convert-to", "xlsx:Calc MS Excel 2007 XML"]
        command += ["--outdir", str(target.parent), str(plain)]
    else:
        command = ["ssconvert", "-T", "Gnumeric_Excel:xlsx2", str(plain), str(target)]
    subprocess.run(command, check=True, capture_output=True, timeout=120)
    part = next(sheet.part for sheet in opened(target).sheets if sheet.title == TITLE)
    before = cells(parts(target)[part])

    again = tmp_path / "again.xlsx"
    again.write_bytes(edited(opened(target), CHANGE).data)

    after = cells(parts(again)[part])
    assert {name: after[name] for name in OURS} == {name: before[name] for name in OURS}
    assert edited(opened(target), FORMULAS_ALONE).changed is False
