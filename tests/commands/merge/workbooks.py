"""Workbooks for merging: a club's, and copies of it that other programs saved."""

from collections.abc import Callable, Mapping
from pathlib import Path
from typing import Any

import openpyxl
from openpyxl.workbook.workbook import Workbook
from openpyxl.worksheet.worksheet import Worksheet

ENGINES = (
    ("Loco", "Owner", "Railway", "Number", "Address", "Checked on", "Notes"),
    ("A", "M01", "Elm", "7", 12, None, None),
    ("B", "M01", "Elm", "8", 13, None, None),
    ("C", "M02", "Oak", "9", 14, None, "blue"),
    ("D", "M02", "Oak", "10", 1500, None, None),
)
CONSISTS = (("Consist", "Loco", "Position"), ("Hill", "A", 1), ("Hill", "B", 2))

Edit = Callable[[Workbook], object]


def club(path: Path, more: Edit = lambda _: None) -> Path:
    """Write the club's workbook: four engines, a consist of two, and a sheet of their own."""
    book = openpyxl.Workbook()
    for title, rows in (("Locomotives", ENGINES), ("Consists", CONSISTS)):
        sheet = book.create_sheet(title)
        for row in rows:
            sheet.append(row)
    book.remove(book.worksheets[0])
    book.create_sheet("Keys")["A1"] = "shed"
    more(book)
    book.save(path)
    return path


def copied(source: Path, name: str, *edits: Edit) -> Path:
    """Write a copy beside a workbook, edited and saved by another program."""
    book = openpyxl.load_workbook(source)
    for edit in edits:
        edit(book)
    path = source.with_name(name)
    book.save(path)
    return path


def cells(**values: Any) -> Edit:
    """Return an edit of cells of Locomotives, such as E2=99."""

    def edit(book: Workbook) -> None:
        for place, value in values.items():
            book["Locomotives"][place] = value

    return edit


def added(*row: Any, sheet: str = "Locomotives") -> Edit:
    """Return an edit that adds a row at the end of a sheet."""
    return lambda book: book[sheet].append(row)


def deleted(row: int, sheet: str = "Locomotives") -> Edit:
    """Return an edit that deletes a row."""
    return lambda book: book[sheet].delete_rows(row)


def sorted_by(column: int, sheet: str = "Locomotives") -> Edit:
    """Return an edit that sorts the rows of a sheet by a column, the last first."""

    def edit(book: Workbook) -> None:
        rows = [list(row) for row in book[sheet].iter_rows(min_row=2, values_only=True)]
        rows.sort(key=lambda row: str(row[column - 1]), reverse=True)
        for number, row in enumerate(rows, 2):
            for place, value in enumerate(row, 1):
                book[sheet].cell(number, place).value = value

    return edit


def table(path: Path, sheet: str = "Locomotives") -> dict[object, dict[object, object]]:
    """Return what another reader finds in a sheet: the rows by what stands in column A, by heading."""
    heading, *rows = openpyxl.load_workbook(path)[sheet].iter_rows(values_only=True)
    return {row[0]: dict(zip(heading, row, strict=True)) for row in rows if row[0] is not None}


def merge_lines(path: Path) -> list[dict[object, object]]:
    """Return the lines of the sheet Merge by heading, blank cells left out."""
    heading, *rows = openpyxl.load_workbook(path)["Merge"].iter_rows(values_only=True)
    lines = [dict(zip(heading, row, strict=True)) for row in rows]
    return [{name: cell for name, cell in line.items() if name and cell is not None} for line in lines]


def chosen(path: Path, choices: Mapping[int, Any], *edits: Edit) -> None:
    """Write choices under Keep, by row of the sheet Merge, and save with another program."""
    book = openpyxl.load_workbook(path)
    sheet: Worksheet = book["Merge"]
    keep = next(cell.column for cell in sheet[1] if cell.value == "Keep")
    for row, choice in choices.items():
        sheet.cell(row, keep).value = choice
    for edit in edits:
        edit(book)
    book.save(path)
