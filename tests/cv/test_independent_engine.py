"""Every address there is, filled from a workbook and calculated by LibreOffice, compared cell by cell.

The formulas are written from NMRA S-9.2.2 (Jul 2012), CV1, CV17 and CV18 (CV17 from 192 on is the high byte)
and CV29 (bit 0 direction, 1 speed steps, 2 power conversion, 3 bi-directional communication, 4 speed table,
5 long address); rosterkit has no part in them. What rosterkit wrote is read by calamine, what LibreOffice
calculated by openpyxl.
"""

from collections.abc import Iterable
from itertools import cycle, product
from pathlib import Path

import openpyxl
import pytest
import python_calamine

from tests.command_line import run, written
from tests.cv.test_spreadsheet_engine import calculated
from tests.rosters import Rows, workbook

pytestmark = [pytest.mark.external, pytest.mark.xdist_group("CVs of every address")]

SHORT, LONG = 127, 10_239
_FORMULAS = (
    '=IF(B{n}="short",A{n},"")',
    '=IF(B{n}="long",192+INT(A{n}/256),"")',
    '=IF(B{n}="long",MOD(A{n},256),"")',
    '=IF(C{n}="reversed",1,0)+IF(D{n}="28/128",2,0)+IF(E{n}="on",4,0)+IF(F{n}="on",8,0)'
    '+IF(G{n}="table",16,0)+IF(B{n}="long",32,0)',
)
_SETTINGS = ("Direction", "Speed steps", "DC operation", "BiDi", "Speed curve")
_TABLE: Rows = [{"Table": "T", **{f"CV{cv}": cv for cv in range(67, 95)}}]
_REGISTERS = ("CV1", "CV17", "CV18", "CV29")

Line = tuple[object, ...]


def _engines() -> list[Line]:
    """Every short and every long address, with each combination of settings over and over."""
    settings = cycle(
        product(("normal", "reversed"), ("14", "28/128"), ("off", "on"), ("off", "on"), ("3-point", "table"))
    )
    places = [
        *((number, "short") for number in range(1, SHORT + 1)),
        *((number, "long") for number in range(1, LONG + 1)),
    ]
    return [(*place, *chosen) for place, chosen in zip(places, settings, strict=False)]


@pytest.fixture(scope="module")
def theirs(tmp_path_factory: pytest.TempPathFactory) -> list[Line]:
    """CV1, CV17, CV18 and CV29 of each engine as LibreOffice calculates them, None where there is none."""
    rows = [
        [*engine, *(formula.format(n=n) for formula in _FORMULAS)] for n, engine in enumerate(_engines(), 1)
    ]
    found = calculated(tmp_path_factory.mktemp("engine"), rows)
    return [tuple(None if cell == "" else cell for cell in row[7:]) for row in found]


@pytest.fixture(scope="module")
def filled(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """A workbook with a row for every address, filled in place."""
    engines = [
        {
            "Loco": f"E{n}",
            "Address": number,
            "Address kind": kind,
            **dict(zip(_SETTINGS, settings, strict=True)),
            "Speed table": "T" if settings[-1] == "table" else "",
        }
        for n, (number, kind, *settings) in enumerate(_engines(), 1)
    ]
    path = tmp_path_factory.mktemp("filled") / "club.xlsx"
    written(path, workbook(engines, tables=_TABLE))
    assert run("fill", path).status == 0
    return path


def _ours(path: Path) -> list[Line]:
    head, *rows = (
        python_calamine.CalamineWorkbook.from_path(str(path)).get_sheet_by_name("Locomotives").to_python()
    )
    columns = [head.index(name) for name in _REGISTERS]
    return _without_waiting(tuple(None if row[at] == "" else row[at] for at in columns) for row in rows)


def _without_waiting(rows: Iterable[Line]) -> list[Line]:
    """Return the rows of the engines; those behind wait for more."""
    return list(rows)[: SHORT + LONG]


def test_cvs_of_every_address_are_what_libreoffice_calculates(filled: Path, theirs: list[Line]) -> None:
    ours = _ours(filled)

    assert len(theirs) == SHORT + LONG
    assert ours == theirs


def test_another_reader_reads_the_same_cvs(filled: Path, theirs: list[Line]) -> None:
    sheet = openpyxl.load_workbook(filled, read_only=True, data_only=True)["Locomotives"]
    head, *rows = sheet.iter_rows(values_only=True)
    columns = [head.index(name) for name in _REGISTERS]

    found = _without_waiting(tuple(None if row[at] == "" else row[at] for at in columns) for row in rows)
    assert found == theirs


def test_every_pair_of_the_calculated_bytes_is_another_and_within_the_standard(theirs: list[Line]) -> None:
    pairs = [(cv17, cv18) for _, cv17, cv18, _ in theirs[SHORT:]]

    # NMRA S-9.2.2, CV17: 192 to 231; the ends are 192 and 1, and 231 and 255.
    assert (pairs[0], pairs[-1]) == ((192, 1), (231, 255))
    assert len(set(pairs)) == LONG
    assert {cv29 for *_, cv29 in theirs} == set(range(64))
