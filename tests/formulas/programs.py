"""Spreadsheet programs that calculate a workbook and write the results down."""

import subprocess
import warnings
from pathlib import Path

from openpyxl import load_workbook

from rosterkit.formulas.values import Content, FormulaError


def by_libreoffice(path: Path, folder: Path) -> list[Content]:
    """Have LibreOffice calculate a workbook; return column A of its first sheet."""
    out = folder / "libreoffice"
    command = ["soffice", f"-env:UserInstallation={(folder / 'profile').as_uri()}", "--headless"]
    command += ["--convert-to", "xlsx", "--outdir", str(out), str(path)]
    subprocess.run(command, check=True, capture_output=True, timeout=300)
    return _results(out / path.name)


def by_gnumeric(path: Path, folder: Path) -> list[Content]:
    """Have Gnumeric calculate a workbook; return column A of its first sheet."""
    out = folder / f"{path.stem}_gnumeric.xlsx"
    subprocess.run(
        ["ssconvert", "--recalc", str(path), str(out)], check=True, capture_output=True, timeout=300
    )
    return _results(out)


def _results(path: Path) -> list[Content]:
    with warnings.catch_warnings():
        # Gnumeric writes no default style.
        warnings.simplefilter("ignore", UserWarning)
        book = load_workbook(path, data_only=True)
    return [_content(row[0]) for row in book.worksheets[0].iter_rows(max_col=1, values_only=True)]


def _content(value: object) -> Content:
    """Return a stored result; a formula's empty text is stored as nothing."""
    if value is None:
        return ""
    if isinstance(value, str) and value.startswith("#"):
        return FormulaError(value)
    assert isinstance(value, str | int | float), value
    return value
