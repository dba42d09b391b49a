"""Versions of a workbook made of a few rows written down in a test."""

from collections.abc import Mapping
from functools import cache

from rosterkit.template.new_workbook import new_workbook
from rosterkit.versions.version import Version, version_from
from rosterkit.xlsx.grid import Grid
from rosterkit.xlsx.package.opening import Package, opened_in_memory
from tests.rosters import Rows, sheet_of, workbook_of

A = {"Loco": "A", "Owner": "M01", "Railway": "Elm", "Number": "7", "Address": 12}
B = {"Loco": "B", "Owner": "M01", "Railway": "Elm", "Number": "8", "Address": 13}
C = {"Loco": "C", "Owner": "M02", "Railway": "Oak", "Number": "9", "Address": 14}


@cache
def _any_package() -> Package:
    return opened_in_memory(new_workbook({"Locomotives": [{"loco": "A", "address": 3}]}), "any.xlsx")


def version(name: str, sheets: Mapping[str, Rows | Grid]) -> Version:
    """Make a version of sheets by title: rows by heading, or cells as they stand."""
    grids = [rows if isinstance(rows, Grid) else sheet_of(title, rows) for title, rows in sheets.items()]
    return version_from(workbook_of(*grids, name=f"{name}.xlsx"), _any_package(), name)


def engines(name: str, *rows: Mapping[str, object], **others: Rows | Grid) -> Version:
    """Make a version of engines, and of further sheets, whose titles have an underline for a blank."""
    headings: dict[str, object] = {"Loco": "", "Owner": ""}
    sheets = {"Locomotives": [headings | dict(row) for row in rows] or [headings]}
    return version(name, sheets | {title.replace("_", " "): some for title, some in others.items()})
