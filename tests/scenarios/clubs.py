"""Two other clubs that come to the meet, with engines that clash with those of the demo club."""

from pathlib import Path
from typing import Any

import openpyxl

from tests.scenarios.commands import rosterkit

_HEADINGS = ("Loco", "Owner", "Railway", "Number", "Model", "Address", "At meet", "Checked by", "Checked on")
_OTHERS = {
    "hills.xlsx": (
        ("HL 2101", "H01", "Hill Lines", "2101", "Freight diesel", 2101),
        ("HL 2120", "H01", "Hill Lines", "2120", "Freight diesel", 2120),
        ("HL 31", "H02", "Hill Lines", "31", "Yard switcher", 31),
        ("HL 640", "H02", "Hill Lines", "640", "Tank engine", 640),
    ),
    "coast.xlsx": (
        ("CT 7001", "C01", "Coast Tramway", "7001", "Motor tram", 7001),
        ("CT 31", "C01", "Coast Tramway", "31", "Works tram", 31),
        ("CT 4444", "C02", "Coast Tramway", "4444", "Motor tram", 4444),
        ("CT 85", "C02", "Coast Tramway", "85", "Railcar", 85),
    ),
}


def write_other_clubs(folder: Path) -> list[Path]:
    """Make their workbooks with ``new``, put their engines in, and return where they are."""
    return [_written(folder / name, engines) for name, engines in _OTHERS.items()]


def _written(path: Path, engines: tuple[tuple[str | int, ...], ...]) -> Path:
    rosterkit("new", path)
    book = openpyxl.load_workbook(path)
    sheet: Any = book["Locomotives"]
    columns = {cell.value: cell.column for cell in sheet[1]}
    for number, engine in enumerate(engines, 2):
        for heading, value in zip(_HEADINGS, (*engine, "yes", "H02", "2026-05-30"), strict=True):
            sheet.cell(number, columns[heading], value)
    book.save(path)
    return path
