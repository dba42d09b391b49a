"""A process of its own that reads a workbook of an old kind from its input, and prints its cells as JSON.

``python -m rosterkit.lists.files.calamine_process < LIST.xls``; its exit status says how it went.
"""

import contextlib
import io
import json
import sys
from collections.abc import Iterator
from datetime import date, datetime, time, timedelta
from typing import Any

from python_calamine import (
    CalamineError,
    CalamineSheet,
    CalamineWorkbook,
    PasswordError,
    SheetTypeEnum,
    SheetVisibleEnum,
)

from rosterkit.lists.files.limits import MAX_COLUMNS, MAX_FILLED, MAX_PLACES, OLD_COLUMNS

DONE, PASSWORD, DAMAGED, TOO_MANY = 0, 3, 4, 5
"""Exit statuses."""
_CONTAINER = b"\xd0\xcf\x11\xe0"
"""How .xls begins."""
_MEMORY = 3 << 29
"""Bytes: a damaged file may ask for a rectangle of a billion cells."""


def main() -> int:
    """Read, print, and return the exit status."""
    _limit_memory()
    raw = sys.stdin.buffer.read()
    try:
        widest = OLD_COLUMNS if raw.startswith(_CONTAINER) else MAX_COLUMNS
        found = list(_sheets(CalamineWorkbook.from_filelike(io.BytesIO(raw)), widest))
    except PasswordError:
        return PASSWORD
    except OverflowError:
        return TOO_MANY
    except (CalamineError, ArithmeticError, ValueError, OSError, MemoryError):
        return DAMAGED
    json.dump(found, sys.stdout)
    return DONE


def _limit_memory() -> None:
    # Only some systems can.
    with contextlib.suppress(ImportError, ValueError, OSError):
        import resource  # noqa: PLC0415

        resource.setrlimit(resource.RLIMIT_AS, (_MEMORY, _MEMORY))


def _sheets(workbook: CalamineWorkbook, widest: int) -> Iterator[dict[str, Any]]:
    filled = 0
    for number, described in enumerate(workbook.sheets_metadata):
        if described.typ is not SheetTypeEnum.WorkSheet:
            continue
        sheet = workbook.get_sheet_by_name(described.name)
        rows = list(_rows(sheet, widest))
        filled += sum(len(values) - values.count("") for _, _, values in rows)
        if filled > MAX_FILLED:
            raise OverflowError
        yield {
            "number": number,
            "title": described.name,
            "hidden": described.visible is not SheetVisibleEnum.Visible,
            "rows": rows,
            "merged": [
                (top + 1, left + 1, bottom + 1, right + 1)
                for (top, left), (bottom, right) in sheet.merged_cell_ranges or []
            ],
        }


def _rows(sheet: CalamineSheet, widest: int) -> Iterator[tuple[int, int, list[object]]]:
    """Return the number of each row that holds anything, that of its first column, and what it holds."""
    if sheet.start is None or sheet.end is None:
        return
    top, left = sheet.start
    if sheet.end[1] >= widest:
        raise ValueError("a cell lies outside the sheet")
    if sheet.height * sheet.width > MAX_PLACES:
        raise OverflowError
    for row, values in enumerate(sheet.to_python(skip_empty_area=True), top + 1):
        if any(value != "" for value in values):
            yield row, left + 1, [_stored(value) for value in values]


def _stored(value: object) -> object:
    """Return a value as JSON can hold it: of moments their kind, and what says them."""
    if isinstance(value, timedelta):
        return ["timedelta", value.total_seconds()]
    if isinstance(value, datetime | date | time):
        return [type(value).__name__, value.isoformat()]
    return value


if __name__ == "__main__":
    sys.exit(main())
