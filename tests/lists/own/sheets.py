"""How lists become files of spreadsheet programs: rows of values, and what else is in a sheet."""

import subprocess
import tempfile
from collections.abc import Callable, Iterable
from pathlib import Path
from typing import Any

from openpyxl import Workbook
from openpyxl.worksheet.worksheet import Worksheet


def put(sheet: Worksheet, rows: Iterable[Iterable[Any]], *, top: int = 1, left: int = 1) -> None:
    """Write rows of values from a cell on; None leaves a cell blank."""
    for row, values in enumerate(rows, top):
        for column, value in enumerate(values, left):
            if value is not None:
                sheet.cell(row, column, value)


def sheets_of(workbook: Workbook, *titles: str) -> list[Worksheet]:
    """Make the sheets of a new workbook, and no other."""
    workbook.remove(workbook.worksheets[0])
    return [workbook.create_sheet(title) for title in titles]


def by_libreoffice(write: Callable[[Path], None], ending: str) -> Callable[[Path], None]:
    """Return what writes a workbook and has LibreOffice open it and save it as another format."""

    def converted(path: Path) -> None:
        with tempfile.TemporaryDirectory() as folder:
            source = Path(folder) / "in" / f"{path.stem}.xlsx"
            source.parent.mkdir()
            write(source)
            command = ["soffice", f"-env:UserInstallation=file://{folder}/profile", "--headless"]
            command += ["--convert-to", ending, "--outdir", folder, str(source)]
            subprocess.run(command, check=True, capture_output=True, timeout=180)
            path.write_bytes((Path(folder) / f"{path.stem}.{ending}").read_bytes())

    return converted


def by_gnumeric(write: Callable[[Path], None], ending: str) -> Callable[[Path], None]:
    """Return what writes a workbook and has Gnumeric open it and save it as another format."""

    def converted(path: Path) -> None:
        with tempfile.TemporaryDirectory() as folder:
            source = Path(folder) / f"{path.stem}.xlsx"
            write(source)
            target = Path(folder) / f"{path.stem}.{ending}"
            subprocess.run(
                ["ssconvert", str(source), str(target)], check=True, capture_output=True, timeout=180
            )
            path.write_bytes(target.read_bytes())

    return converted
