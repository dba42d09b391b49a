"""Reads sheets in canonical form with the fast reader, and compares its values with our own count."""

import io
from collections.abc import Iterator
from dataclasses import dataclass
from typing import cast

from python_calamine import CalamineError, CalamineWorkbook

from rosterkit.xlsx.grid import CellError, MergedRange, NoStoredValue, Raw, filled, trimmed
from rosterkit.xlsx.package.contents import SheetPart
from rosterkit.xlsx.package.opening import Package
from rosterkit.xlsx.package.packing import Entry, plain_entry, same_entry, small_workbook
from rosterkit.xlsx.read.formats import Formats
from rosterkit.xlsx.read.scan import Scan
from rosterkit.xlsx.read.shared_strings import SharedStrings


@dataclass(frozen=True, slots=True, kw_only=True)
class Scanned:
    """A sheet whose cells are in canonical form."""

    sheet: SheetPart
    scan: Scan
    merged: tuple[MergedRange, ...]
    drawing_areas: tuple[MergedRange, ...]
    data: bytes | None
    """The sheet's part in UTF-8 where it is not so in the workbook."""


def rows_of(
    package: Package, sheets: list[Scanned], formats: Formats, strings: SharedStrings
) -> Iterator[list[list[Raw]] | None]:
    """Read sheets one after the other; None for each one that the fast reader does not take.

    A sheet is not taken either if the fast reader gives more or fewer values than stand in it.
    """
    parts = [
        _entry(f"xl/{index}.xml", package, sheet.sheet.part, sheet.data) for index, sheet in enumerate(sheets)
    ]
    parts.append(plain_entry("xl/styles.xml", formats.styles_part()))
    if package.shared_strings_part is not None:
        parts.append(_entry("xl/sharedStrings.xml", package, package.shared_strings_part, strings.data))
    small = io.BytesIO(small_workbook(len(sheets), parts, date1904=package.date1904))
    del parts
    try:
        workbook = CalamineWorkbook.from_filelike(small)
    except CalamineError:
        yield from (None for _ in sheets)
        return
    del small
    for index, sheet in enumerate(sheets):
        yield _rows(workbook, str(index), sheet.scan)


def _entry(name: str, package: Package, part: str, data: bytes | None) -> Entry:
    return same_entry(name, package, part) if data is None else plain_entry(name, data)


def _rows(workbook: CalamineWorkbook, title: str, scan: Scan) -> list[list[Raw]] | None:
    try:
        rows = cast("list[list[Raw]]", workbook.get_sheet_by_name(title).to_python(skip_empty_area=False))
    except (CalamineError, ArithmeticError, ValueError):
        return None
    except BaseException as error:
        if type(error).__name__ != "PanicException":
            raise
        return None
    if filled(rows) != scan.values or len({(row, column) for row, column, _ in scan.odd}) != len(scan.odd):
        return None
    for row, column, value in scan.odd:
        rows.extend([] for _ in range(row - len(rows)))
        cells = rows[row - 1]
        cells.extend("" for _ in range(column - len(cells)))
        if cells[column - 1] != "" and isinstance(value, CellError | NoStoredValue):
            return None
        cells[column - 1] = value
    return trimmed(rows)
