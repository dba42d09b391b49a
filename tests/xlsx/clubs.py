"""The small club roster that every feature workbook holds, and the change that is made in each."""

from collections.abc import Mapping
from pathlib import Path
from typing import Any

import xlsxwriter

from rosterkit.xlsx.changes import (
    CellChange,
    CellStyle,
    Highlight,
    OwnCell,
    OwnSheet,
    SheetChange,
    WorkbookChange,
)
from rosterkit.xlsx.own_sheets.typed import coded

TITLE = "Locomotives"
HEADINGS = ("Owner", "Loco", "Address", "Bought", "Length")
ENGINES = (
    ("M01", "Harbour shunter", 3, 44562, 128.5),
    ("M01", "Night mail", 4711, 44927, 0.30000000000000004),
    ("M02", "Slate tank", 128, 45293, 96.25),
    ("M03", "Café railcar", 9, 45000.75, 180),
    ("M03", "Weed killer", 1001, 36526, 155.125),
)
FIRST_OWN = 7
OWN_HEADINGS = ("CV17", "CV18", "Remark")
REMARK = '=1+1 <&> "Ä"'


def own_values(row: int) -> tuple[str | int | float, ...]:
    """Return what the computed columns hold in a row."""
    return 192 + row, row / 4, REMARK


def own_cells(first: int = FIRST_OWN) -> tuple[CellChange, ...]:
    """Make three computed columns beside the engines."""
    headings = [
        CellChange(row=1, column=first + place, value=heading, look=CellStyle.HEADING)
        for place, heading in enumerate(OWN_HEADINGS)
    ]
    values = [
        CellChange(row=row, column=first + place, value=value, look=CellStyle.COMPUTED)
        for row in range(2, len(ENGINES) + 2)
        for place, value in enumerate(own_values(row))
    ]
    return (*headings, *values)


FINDINGS = coded(
    OwnSheet(
        title="Findings",
        rows=[
            [OwnCell("Findings", CellStyle.TITLE)],
            [
                OwnCell("Cell", CellStyle.HEADING),
                OwnCell("What is wrong", CellStyle.HEADING),
                OwnCell("Number", CellStyle.HEADING),
            ],
            [
                OwnCell("C3", CellStyle.LINK, (TITLE, "C3")),
                OwnCell("=2+2 is no address & <never>", CellStyle.ERROR),
                OwnCell(2),
            ],
            [
                OwnCell("C4", CellStyle.LINK, (TITLE, "C4")),
                OwnCell("two lines\nof text", CellStyle.WRAPPED),
                OwnCell(0.5),
            ],
        ],
        widths=(10, 60, 12),
        frozen_rows=2,
        filtered=True,
    )
)


def usual_change(first: int = FIRST_OWN) -> WorkbookChange:
    """Make the change that is made in every feature workbook: columns, highlights, widths and a page."""
    sheet = SheetChange(
        title=TITLE,
        cells=own_cells(first),
        highlights=(
            Highlight(ranges=("C3", "E2:E4"), formula='AND(N("rosterkit")=0,C3<>"")', look=CellStyle.ERROR),
            Highlight(ranges=("C5",), formula='AND(N("rosterkit")=0,C5>2)', look=CellStyle.WARNING),
        ),
        widths={first: 9, first + 2: 30},
        heading=(1, 2),
    )
    return WorkbookChange(sheets=(sheet,), own_sheets=(FINDINGS,))


def club(path: Path, options: Mapping[str, object] | None = None) -> Any:
    """Begin a workbook with the engines; its sheets are added to, then it is closed."""
    book = xlsxwriter.Workbook(str(path), dict(options or {}))
    sheet = book.add_worksheet(TITLE)
    date = book.add_format({"num_format": "dd.mm.yyyy"})
    sheet.write_row(0, 0, HEADINGS)
    for row, engine in enumerate(ENGINES, start=1):
        sheet.write_row(row, 0, engine)
        sheet.write_number(row, 3, engine[3], date)
    return book


def locomotives(book: Any) -> Any:
    """Return the sheet with the engines."""
    return book.get_worksheet_by_name(TITLE)
