"""What LibreOffice and Gnumeric make of the formulas of a sheet."""

import subprocess
from collections.abc import Callable, Mapping, Sequence
from pathlib import Path
from typing import Protocol

import pytest
from openpyxl import Workbook
from python_calamine import CalamineWorkbook

from tests.live.row_sheets import Cells, Cvs


class Sheets(Protocol):
    """A sheet with formulas, and those beside it."""

    @property
    def title(self) -> str: ...
    def typed(self) -> Mapping[str, Cells]: ...
    def formulas(self) -> Mapping[str, Mapping[tuple[int, int], str]]: ...
    def picked(self, value: Callable[[int, int], object]) -> list[Cvs]: ...


Program = Callable[[Sequence[Sheets], Path], list[list[Cvs]]]


def by_libreoffice(sheets: Sequence[Sheets], folder: Path) -> list[list[Cvs]]:
    """Have LibreOffice calculate workbooks, and return the CVs of each."""
    paths = _saved(sheets, folder)
    command = ["soffice", f"-env:UserInstallation={(folder / 'profile').as_uri()}", "--headless"]
    command += ["--convert-to", "xlsx", "--outdir", str(folder / "libreoffice"), *map(str, paths)]
    subprocess.run(command, check=True, capture_output=True, timeout=1800)
    return [_picked(one, folder / "libreoffice" / path.name) for one, path in zip(sheets, paths, strict=True)]


def by_gnumeric(sheets: Sequence[Sheets], folder: Path) -> list[list[Cvs]]:
    """Have Gnumeric calculate workbooks, and return the CVs of each."""
    found = []
    for one, path in zip(sheets, _saved(sheets, folder), strict=True):
        target = folder / f"gnumeric-{path.name}"
        command = ["ssconvert", "--recalc", str(path), str(target)]
        subprocess.run(command, check=True, capture_output=True, timeout=600)
        found.append(_picked(one, target))
    return found


PROGRAMS = pytest.mark.parametrize(
    "program", [pytest.param(by_libreoffice, id="LibreOffice"), pytest.param(by_gnumeric, id="Gnumeric")]
)
"""Runs a test with each program."""


def _saved(sheets: Sequence[Sheets], folder: Path) -> list[Path]:
    """Write workbooks whose formulas have no results yet."""
    paths = []
    for n, one in enumerate(sheets):
        workbook, typed = Workbook(), one.typed()
        workbook.remove(workbook.worksheets[0])
        formulas = one.formulas()
        for title, cells in typed.items():
            made = workbook.create_sheet(title)
            contents: Mapping[tuple[int, int], object] = {
                **cells,
                **{at: f"={text}" for at, text in formulas.get(title, {}).items()},
            }
            for (row, column), content in contents.items():
                made.cell(row, column, content)
        paths.append(folder / f"rows{n}.xlsx")
        workbook.save(paths[-1])
    return paths


def _picked(sheets: Sheets, path: Path) -> list[Cvs]:
    """Read the CVs; a number that is whole as such, a cell that is blank or has an empty text as ""."""
    cells = CalamineWorkbook.from_path(path).get_sheet_by_name(sheets.title).to_python(skip_empty_area=False)

    def value(row: int, column: int) -> object:
        there = row <= len(cells) and column <= len(cells[row - 1])
        return cells[row - 1][column - 1] if there else ""

    return sheets.picked(value)
