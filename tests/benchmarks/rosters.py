"""Workbooks of any size for the benchmarks, 40 columns a row, as a member's would be."""

from collections.abc import Iterable, Iterator, Mapping
from pathlib import Path
from types import MappingProxyType

import xlsxwriter

from rosterkit.roster.schema import sheet

_OWN_COLUMNS = 40
_DRIVES = (15, 20, 30, 60, 100, 150, 200, 255)
_RAILWAYS = ("Juniper Valley", "Northmarsh & Eastern", "Kettle Creek Lumber", "Harbour Belt")


def write_roster(path: Path, rows: int) -> None:
    """Write a roster: every column that members fill, and columns of their own up to 40, with one formula."""
    workbook = xlsxwriter.Workbook(str(path), {"constant_memory": rows > 20_000})
    _engines(workbook, rows)
    workbook.close()


def write_timed(path: Path, rows: int, *, runs: bool = True) -> None:
    """Write such a roster with a goal for each engine, and three runs at each of eight drives each way."""
    workbook = xlsxwriter.Workbook(str(path))
    _engines(workbook, rows, {"speed_curve": ""})
    if runs:
        names = [str(_engine(row)["loco"]) for row in range(rows)]
        _records(workbook, "Speed runs", (run for n, name in enumerate(names) for run in _runs(name, n)))
        _records(workbook, "Speed goals", ({"loco": name, "top": 90} for name in names))
    workbook.close()


def write_club(path: Path, rows: int) -> None:
    """Write such a roster with ranges, decoder types and consists, all of which formulas look into."""
    workbook = xlsxwriter.Workbook(str(path))
    _engines(workbook, rows)
    _records(workbook, "Address ranges", _ranges())
    _records(workbook, "Decoder types", ({"decoder": f"Type {n}", "long_address": "yes"} for n in range(12)))
    _records(workbook, "Consists", (_member(n) for n in range(min(rows, 20))))
    workbook.close()


def _ranges() -> Iterator[dict[str, object]]:
    yield {"kind": "long", "first": 1, "last": 9999, "use": "engines"}
    yield {"kind": "consist", "first": 100, "last": 127, "use": "consists"}
    for n in range(20):
        first = 4000 + 50 * n
        member = f"M{n + 1:02}"
        yield {"kind": "long", "first": first, "last": first + 49, "use": "engines", "member": member}


def _member(place: int) -> dict[str, object]:
    consist, position = divmod(place, 2)
    row = {"consist": f"Train {consist}", "address": 100 + consist, "position": position + 1}
    return {**row, "loco": f"E {place + 1}", "facing": "reverse" if position else "forward"}


def _engines(
    workbook: xlsxwriter.Workbook, rows: int, others: Mapping[str, str] = MappingProxyType({})
) -> None:
    page = workbook.add_worksheet("Locomotives")
    columns = sheet("Locomotives").filled_by_members
    own = _OWN_COLUMNS - len(columns)
    page.write_row(0, 0, [column.heading for column in columns] + [f"My column {n}" for n in range(own)])
    for row in range(rows):
        values = {**_engine(row), **others}
        cells = [values.get(column.name) for column in columns]
        page.write_row(row + 1, 0, [*cells, *(f"text {row % 997} {n}" for n in range(own - 1))])
        page.write_formula(row + 1, _OWN_COLUMNS - 1, f"=I{row + 2}+1", None, row % 10_239 + 2)


def _records(workbook: xlsxwriter.Workbook, title: str, records: Iterable[dict[str, object]]) -> None:
    page = workbook.add_worksheet(title)
    columns = sheet(title).filled_by_members
    page.write_row(0, 0, [column.heading for column in columns])
    for row, record in enumerate(records, 1):
        page.write_row(row, 0, [record.get(column.name) for column in columns])


def _runs(loco: str, number: int) -> Iterator[dict[str, object]]:
    for way, slower in (("forward", 1.0), ("reverse", 0.9 + number % 7 / 50)):
        for drive in _DRIVES:
            share = (drive - 12) / 243
            metres = slower * (100 + number % 60) * (1 - (1 - share) ** (1 + number % 3 / 2)) * 12 / 3.6 / 87
            for wobble in (0.995, 1.001, 1.004):
                length = round(metres * 1000 * wobble, 1)
                yield {"loco": loco, "way": way, "drive": drive, "distance": length, "time": 12}


def _engine(row: int) -> dict[str, str | int | float]:
    number = row % 10_239 + 1
    return {
        "loco": f"E {row + 1}",
        "owner": f"M{row % 40 + 1:02}",
        "railway": _RAILWAYS[row % 4],
        "number": f"{row + 1:05}",
        "model": f"Class {row % 60}",
        "length": 100 + row % 250,
        "stall": 0.4 + row % 15 / 10,
        "decoder": f"Type {row % 12}",
        "address": number,
        "address_kind": "long",
        "direction": "reversed" if row % 7 == 0 else "normal",
        "speed_steps": "28/128",
        "dc_operation": "off",
        "bidi": "on" if row % 5 == 0 else "off",
        "speed_curve": "3-point",
        "vstart": row % 20,
        "acceleration": row % 12,
        "deceleration": row % 9,
        "vhigh": 150 + row % 100,
        "vmid": 60 + row % 50,
        "at_meet": "no",
        "drivers": "anyone",
        "checked_by": f"M{row % 40 + 2:02}",
        "checked_on": "2026-04-11",
        "fault": "",
        "notes": f"note {row % 300}",
    }
