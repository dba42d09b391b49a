"""The workbooks of a convention: hundreds of members, each with an engine list, thousands of clashes."""

import random
from pathlib import Path

import xlsxwriter

from rosterkit.roster.schema import sheet

_RAILWAYS = ("Juniper Valley", "Northmarsh & Eastern", "Kettle Creek Lumber", "Harbour Belt")
_SCALES = ("Z", "N", "TT", "HO", "S", "O", "1")
_HALLS = ("North hall", "South hall")


def write_convention(folder: Path, workbooks: int, engines: int) -> list[Path]:
    """Write the workbooks; about one engine in six wants an address that another one on its layout has."""
    chance = random.Random(2026)  # noqa: S311 - the same workbooks at every run
    paths = []
    for number in range(workbooks):
        path = folder / f"member_{number:03}.xlsx"
        _write(path, number, engines, chance)
        paths.append(path)
    return paths


def _write(path: Path, member: int, engines: int, chance: random.Random) -> None:
    workbook = xlsxwriter.Workbook(str(path))
    settings = workbook.add_worksheet("Layout")
    settings.write_row(0, 0, ("Setting", "Value"))
    settings.write_row(1, 0, ("Scale", _SCALES[member % len(_SCALES)]))
    settings.write_row(2, 0, ("Meet layout", _HALLS[member // len(_SCALES) % len(_HALLS)]))
    page = workbook.add_worksheet("Locomotives")
    columns = sheet("Locomotives").filled_by_members
    page.write_row(0, 0, [column.heading for column in columns])
    for row in range(engines):
        values = _engine(member, row, chance)
        page.write_row(row + 1, 0, [values.get(column.name) for column in columns])
    workbook.close()


def _engine(member: int, row: int, chance: random.Random) -> dict[str, str | int | float]:
    number = chance.choice((chance.randrange(1000, 9999), chance.randrange(1000, 4000)))
    return {
        "loco": f"E {row + 1}",
        "owner": f"M{member:03}",
        "railway": _RAILWAYS[row % 4],
        "number": str(number),
        "model": f"Class {row % 60}",
        "length": 100 + row % 250,
        "stall": 0.4 + row % 15 / 10,
        "decoder": f"Type {row % 12}",
        "address": number,
        "address_kind": "long",
        "direction": "normal",
        "dc_operation": "off",
        "vstart": row % 20,
        "acceleration": row % 12,
        "deceleration": row % 9,
        "at_meet": "yes",
        "drivers": "anyone",
        "checked_by": f"M{member + 1:03}",
        "checked_on": "2026-10-03" if row % 20 else "",
        "notes": f"note {row}",
    }
