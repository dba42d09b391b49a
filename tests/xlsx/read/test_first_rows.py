"""The first rows of sheets that are not read, as several programs spell them."""

from pathlib import Path

import pytest
from openpyxl import Workbook

from rosterkit.xlsx.package.opening import Package, opened
from rosterkit.xlsx.read.first_rows import _rows, first_texts
from tests.samples.__main__ import saved_by_libreoffice

_ROWS: list[list[str | float | None]] = [
    ["Loco", None, "Adresse & Länge"],
    [None, None, "007"],
    [],
    ["=1+1", 12, 3.5],
    ["_x0041_ <b>", "two\nlines"],
]
_SEEN = [
    ["Loco", "", "Adresse & Länge"],
    ["", "", "007"],
    [],
    ["=1+1", "12", "3.5"],
    ["_x0041_ <b>", "two\nlines"],
]


def _package(path: Path) -> Package:
    workbook = Workbook()
    page = workbook.worksheets[0]
    page.title = "Diesels"
    for row, cells in enumerate(_ROWS, 1):
        for column, value in enumerate(cells, 1):
            cell = page.cell(row, column)
            cell.value = value.replace("_x0041_", "_x005F_x0041_") if isinstance(value, str) else value
            if isinstance(value, str):
                cell.data_type = "s"
    workbook.save(path)
    return opened(path)


def _first(package: Package, rows: int = 20) -> list[list[str]]:
    return first_texts(package, package.sheets, rows)["Diesels"]


def test_texts_and_numbers_stand_at_their_places(tmp_path: Path) -> None:
    seen = _first(_package(tmp_path / "own.xlsx"))

    assert seen == _SEEN


def test_no_more_rows_are_looked_at_than_wanted(tmp_path: Path) -> None:
    assert _first(_package(tmp_path / "own.xlsx"), rows=2) == _SEEN[:2]


@pytest.mark.external
def test_what_libreoffice_saved_is_seen_as_well(tmp_path: Path) -> None:
    (tmp_path / "saved").mkdir()
    _package(tmp_path / "own.xlsx")

    seen = _first(opened(saved_by_libreoffice(tmp_path / "own.xlsx", tmp_path / "saved")))

    assert seen == _SEEN


def test_the_beginning_of_a_part_that_was_let_go_is_unpacked_again(tmp_path: Path) -> None:
    package = _package(tmp_path / "own.xlsx")
    part = package.sheets[0].part
    whole = package.read(part)
    package.archive.forget(part)

    assert package.archive.beginning(part, 100) == whole[:100]


@pytest.mark.parametrize(
    "data",
    [
        pytest.param(b"", id="nothing"),
        pytest.param(b"<row", id="a tag that is cut off"),
        pytest.param(b'<row r="1"><c r="A1" t="s"><v>99</v></c></row>', id="a text that is not there"),
        pytest.param(b'<row r="1"><c r="A1" t="s"><v></v></c></row>', id="a text without a number"),
        pytest.param(b"<row<row" * 9000 + b"</row>", id="tags within tags"),
        pytest.param(b"<row>" + b"<c" * 30_000 + b"</c></row>", id="cells within cells"),
    ],
)
def test_what_is_not_understood_is_not_seen(data: bytes) -> None:
    assert not any(map(any, _rows(data, 20, [b"<t>text</t></si>"])))
