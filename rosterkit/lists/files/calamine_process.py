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

from rosterkit.lists.files.limits import MAX_FILLED

DONE, PASSWORD, DAMAGED, TOO_MANY = 0, 3, 4, 5
"""Exit statuses."""
_MEMORY = 3 << 30
"""Bytes: a damaged file may ask for a rectangle of a billion cells."""


def main() -> int:
    """Read, print, and return the exit status."""
    _limit_memory()
    raw = sys.stdin.buffer.read()
    try:
        found = list(_sheets(CalamineWorkbook.from_filelike(io.BytesIO(raw))))
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


def _sheets(workbook: CalamineWorkbook) -> Iterator[dict[str, Any]]:
    filled = 0
    for described in workbook.sheets_metadata:
        if described.typ is not SheetTypeEnum.WorkSheet:
            continue
        sheet = workbook.get_sheet_by_name(described.name)
        cells = list(_cells(sheet))
        filled += len(cells)
        if filled > MAX_FILLED:
            raise OverflowError
        yield {
            "title": described.name,
            "hidden": described.visible is not SheetVisibleEnum.Visible,
            "cells": cells,
            "merged": [
                (top + 1, left + 1, bottom + 1, right + 1)
                for (top, left), (bottom, right) in sheet.merged_cell_ranges or []
            ],
        }


def _cells(sheet: CalamineSheet) -> Iterator[tuple[int, int, str, object]]:
    if sheet.start is None:
        return
    top, left = sheet.start
    for row, values in enumerate(sheet.to_python(skip_empty_area=True), top + 1):
        for column, value in enumerate(values, left + 1):
            if value != "":
                yield row, column, type(value).__name__, _stored(value)


def _stored(value: object) -> object:
    if isinstance(value, timedelta):
        return value.total_seconds()
    return value.isoformat() if isinstance(value, datetime | date | time) else value


if __name__ == "__main__":
    sys.exit(main())
