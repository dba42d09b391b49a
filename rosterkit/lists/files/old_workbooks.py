"""Reads .xls and .xlsb by python-calamine, for no other library that is kept up reads both.

It gives values, merged areas of .xls and hidden sheets, but no number formats (007 comes as 7), colours,
notes or error values. It runs in a process of its own: a damaged file may make it end its process, or take
all memory there is.
"""

import json
import os
import subprocess
import sys
from collections.abc import Mapping
from datetime import date, datetime, time, timedelta
from pathlib import Path
from typing import Any

import rosterkit
from rosterkit.lists.files import calamine_process, limits
from rosterkit.lists.files.values import plain_cell
from rosterkit.lists.plain import PlainArea, PlainCell, PlainList, PlainSheet
from rosterkit.xlsx.grid import Raw
from rosterkit.xlsx.package.errors import REPAIR, unreadable

_SECONDS = 120
_UNLOCK = "Open it in a spreadsheet program, remove the password for opening, and save it again."
_AS_XLSX = "save the list as .xlsx if they matter"
_REMARK = (
    "Of workbooks of the kinds .xls and .xlsb only the values are read: what number formats (007), colours,"
    f" notes and error values say stays behind; {_AS_XLSX}."
)


def old_workbook(raw: bytes, name: str, title: str) -> PlainList:
    """Return a workbook of an old kind as a list.

    Args:
        raw: Its bytes.
        name: The file, as messages call it.
        title: The file's name.

    Raises:
        CannotRunError: it is damaged, protected by a password, or larger than ``limits`` allow.
    """
    sheets = tuple(_sheet(one) for one in _asked(raw, name))
    return PlainList(title, sheets, (_REMARK,))


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
            env={**os.environ, "PYTHONPATH": paths},
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


def _sheet(found: Mapping[str, Any]) -> PlainSheet:
    cells: dict[tuple[int, int], PlainCell] = {}
    for row, column, kind, stored in found["cells"]:
        cell = plain_cell(_raw(kind, stored))
        if cell.text:
            cells[row, column] = cell
    merged = tuple(PlainArea(*corners) for corners in found["merged"])
    return PlainSheet(found["title"], cells, merged, hidden=found["hidden"])


def _raw(kind: str, stored: Any) -> Raw:
    match kind:
        case "datetime":
            return datetime.fromisoformat(stored)
        case "date":
            return date.fromisoformat(stored)
        case "time":
            return time.fromisoformat(stored)
        case "timedelta":
            return timedelta(seconds=stored)
    value: Raw = stored
    return value
