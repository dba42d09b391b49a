"""Reads .xls and .xlsb by python-calamine, for no other library that is kept up reads both.

It gives values, merged areas of .xls and hidden sheets, but no number formats (007 comes as 7), colours,
notes or error values. Of .xls the records of the file say these, of .xlsb they stay behind. It runs in a
process of its own: a damaged file may make it end its process, or take all memory there is.
"""

import json
import os
import struct
import subprocess
import sys
from collections.abc import Mapping
from datetime import date, datetime, time, timedelta
from pathlib import Path
from typing import Any

import rosterkit
from rosterkit.lists.files import calamine_process, limits
from rosterkit.lists.files.containers import ContainerError, EndlessError, stream
from rosterkit.lists.files.old_records import OldBook, old_book
from rosterkit.lists.files.old_sheets import cells_with_records
from rosterkit.lists.files.values import plain_cell
from rosterkit.lists.plain import PlainArea, PlainCell, PlainList, PlainSheet
from rosterkit.xlsx.grid import Raw
from rosterkit.xlsx.package.errors import REPAIR, unreadable

_SECONDS = 120
_UNLOCK = "Open it in a spreadsheet program, remove the password for opening, and save it again."
_REMARK = (
    "Only the values of this workbook are read: what number formats (007), colours, notes and error values"
    " say stays behind; save the list as .xlsx if they matter."
)
_OLE = b"\xd0\xcf\x11\xe0"


def old_workbook(raw: bytes, name: str, title: str) -> PlainList:
    """Return a workbook of an old kind as a list.

    Args:
        raw: Its bytes.
        name: The file, as messages call it.
        title: The file's name.

    Raises:
        CannotRunError: it is damaged, protected by a password, or larger than ``limits`` allow.
    """
    book = _records(raw, name) if raw.startswith(_OLE) else None
    asked = _asked(raw, name)
    sheets = tuple(_sheet(one, book) for one in asked)
    return PlainList(title, sheets, (_REMARK,) if book is None else ())


def _records(raw: bytes, name: str) -> OldBook | None:
    """Return what the records of an .xls workbook say, None where they cannot be followed.

    CannotRunError if the file goes round in a circle, which calamine would follow until memory ends.
    """
    try:
        return old_book(stream(raw, "Workbook", "Book"))
    except EndlessError:
        raise unreadable(name, "it is damaged: a part of it leads back to itself", REPAIR) from None
    except (ContainerError, struct.error, IndexError):
        return None


def _asked(raw: bytes, name: str) -> list[Mapping[str, Any]]:
    """Return what the other process reads of a file."""
    package = str(Path(rosterkit.__file__).parent.parent)
    paths = os.pathsep.join(filter(None, (package, os.environ.get("PYTHONPATH", ""))))
    try:
        done = subprocess.run(  # noqa: S603 - our own module, by this interpreter
            [sys.executable, "-m", calamine_process.__name__],
            input=raw,
            capture_output=True,
            timeout=_SECONDS,
            check=False,
            env={**os.environ, "PYTHONPATH": paths, "RUST_BACKTRACE": "0"},
        )
    except subprocess.TimeoutExpired:
        raise unreadable(name, f"it could not be read within {_SECONDS} seconds") from None
    match done.returncode:
        case calamine_process.DONE:
            found: list[Mapping[str, Any]] = json.loads(done.stdout)
            return found
        case calamine_process.PASSWORD:
            raise unreadable(name, "it is protected by a password", _UNLOCK)
        case calamine_process.TOO_MANY:
            raise limits.too_many_cells(name)
        case _:
            raise unreadable(name, "it is damaged, or of a kind that cannot be read", REPAIR)


def _sheet(found: Mapping[str, Any], book: OldBook | None) -> PlainSheet:
    values: dict[tuple[int, int], Raw] = {}
    for row, left, stored in found["rows"]:
        for column, value in enumerate(stored, left):
            if value != "":
                values[row, column] = _moment(*value) if isinstance(value, list) else value
    number = found["number"]
    if book is not None and number < len(book.sheets):
        cells = cells_with_records(values, book, book.sheets[number])
    else:
        cells = {at: plain_cell(value) for at, value in values.items()}
    shown: dict[tuple[int, int], PlainCell] = {
        at: cell for at, cell in cells.items() if cell.text or cell.note or cell.fill
    }
    merged = tuple(PlainArea(*corners) for corners in found["merged"])
    return PlainSheet(found["title"], shown, merged, hidden=found["hidden"])


def _moment(kind: str, stored: Any) -> Raw:
    match kind:
        case "datetime":
            return datetime.fromisoformat(stored)
        case "date":
            return date.fromisoformat(stored)
        case "time":
            return time.fromisoformat(stored)
    return timedelta(seconds=stored)
