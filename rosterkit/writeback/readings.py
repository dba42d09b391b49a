"""What was read at the bench, typed as pairs, made into new rows of the sheet Readings."""

import re
from collections.abc import Iterable, Iterator, Mapping, Sequence
from dataclasses import dataclass

from rosterkit.cv.accessory import Device
from rosterkit.cv.accessory_readings import device_verdict, device_wanted, devices_by_label
from rosterkit.cv.configured import CONFIGURATION_CV
from rosterkit.cv.engine import cvs_of
from rosterkit.cv.extra_values import Index
from rosterkit.cv.readings import Verdict, key_of, verdict
from rosterkit.errors import CannotRunError
from rosterkit.roster.model import Locomotive, Roster
from rosterkit.roster.schema import folded
from rosterkit.roster.tables import Table
from rosterkit.standards.accessories import ALIAS_OFFSET
from rosterkit.standards.bounds import BYTE, CV_NUMBERS
from rosterkit.standards.service_mode import INDEXED_CVS
from rosterkit.writeback.computed_columns import Computed
from rosterkit.writeback.new_sheet import new_sheet
from rosterkit.writeback.places import first_free_row, heading_cell
from rosterkit.xlsx.changes import CellChange, CellStyle, SheetChange, WorkbookChange

TITLE = "Readings"
NO_ANSWER = "-"
"""Typed in place of a value where the decoder gave no acknowledgment."""
NEEDED_HEADINGS = "Date, Loco, CV and Value"
_NEEDED = ("loco", "cv", "value")


@dataclass(frozen=True, slots=True, kw_only=True)
class ReadBack:
    """One CV as it was read back."""

    cv: int
    value: int | None
    """None where the decoder gave no acknowledgment."""
    index: Index | None = None


def parse_read_back(texts: Iterable[str]) -> list[ReadBack]:
    """Read ``CV=VALUE`` pairs such as ``29=34``, in one text or several; ``19=-`` where nothing answered.

    CV31 and CV32 among them are the index of the CVs 257 to 512 that follow.

    Raises:
        CannotRunError: if one is no such pair, or none is given.
    """
    found: list[ReadBack] = []
    pointer: dict[int, int] = {}
    for pair in " ".join(texts).replace(",", " ").split():
        cv, value = _pair(pair)
        if cv in (31, 32) and value is not None:
            pointer[cv] = value
        index = (pointer[31], pointer[32]) if cv in INDEXED_CVS and len(pointer) == 2 else None
        found.append(ReadBack(cv=cv, value=value, index=index))
    if not found:
        raise CannotRunError(
            "there is nothing to record", "Give what was read, such as --record '29=34 19=0'."
        )
    return found


def read_back_words(readings: Iterable[ReadBack]) -> str:
    """Say what was read, CV by CV."""
    return ", ".join(
        f"CV{one.cv} gave no acknowledgment" if one.value is None else f"CV{one.cv} read {one.value}"
        for one in readings
    )


def _pair(pair: str) -> tuple[int, int | None]:
    match = re.fullmatch(r"(?:CV)?([0-9]{1,5})=([0-9]{1,5}|-)", pair, re.IGNORECASE)
    if match is None:
        raise CannotRunError(
            f"'{pair}' is not a CV and its value",
            f"Write CV=VALUE, such as 29=34, or 29={NO_ANSWER} where there was no acknowledgment.",
        )
    number, byte = int(match[1]), None if match[2] == NO_ANSWER else int(match[2])
    if number not in CV_NUMBERS or (byte is not None and byte not in BYTE):
        raise CannotRunError(
            f"'{pair}': CVs are 1 to {CV_NUMBERS[-1]} and their values 0 to {BYTE[-1]}",
            "Correct the CV or its value.",
        )
    return number, byte


def readings_change(
    roster: Roster, loco: str, readings: Sequence[ReadBack], day: str, time: str | None = None
) -> WorkbookChange:
    """Return what puts one engine's or device's readings into its workbook, as new rows below the others.

    Where the workbook has no sheet Readings, one is made.

    Args:
        roster: the workbook's roster.
        loco: the engine's label, or that of an accessory where no engine has it.
        readings: what was read.
        day: the day of the readings, as 2026-05-31.
        time: their time of day, as 20:15:30, for a sheet that has a column Time.

    Raises:
        CannotRunError: if there is no such engine or device, or the sheet Readings cannot take the rows.
    """
    named = [one for one in roster.engines if folded(one.loco or "") == folded(loco)]
    if len(named) > 1:
        raise CannotRunError(
            f"{roster.book.name}: '{loco}' appears {len(named)} times in the column Loco",
            "Give each engine a label of its own, and record again.",
        )
    device = None if named else devices_by_label(roster).get(folded(loco))
    if not named and device is None:
        raise CannotRunError(
            f"{roster.book.name}: there is no engine '{loco}'", "Give --loco as it stands in the column Loco."
        )
    rows = list(_device_rows(device, readings, day) if device else _rows(roster, named[0], readings, day))
    rows = [{"time": time, **row} for row in rows]
    table = roster.book.tables.get(TITLE)
    if table is not None:
        return WorkbookChange(sheets=(below(table, rows),))
    return WorkbookChange(own_sheets=(new_sheet(roster.book, TITLE, rows, NEEDED_HEADINGS),))


def _rows(
    roster: Roster, engine: Locomotive, readings: Sequence[ReadBack], day: str
) -> Iterator[Mapping[str, str | int | None]]:
    read = next((one.value for one in readings if one.cv == CONFIGURATION_CV), None)
    cvs = cvs_of(engine, roster).keeping(read)
    wanted, extras = cvs.wanted(), roster.extras_of.get(folded(engine.loco or ""), ())
    for one in readings:
        want = wanted.get(key_of(one.cv, one.index, extras))
        said = verdict(one.cv, one.value, want, cvs.stated((one.cv, one.index))) if cvs.values else None
        yield _row(day, engine.loco, one, want, said)


def _device_rows(
    device: Device, readings: Sequence[ReadBack], day: str
) -> Iterator[Mapping[str, str | int | None]]:
    aliases = (CONFIGURATION_CV, CONFIGURATION_CV + ALIAS_OFFSET)
    device = device.keeping(next((one.value for one in readings if one.cv in aliases), None))
    for one in readings:
        said = device_verdict(device, one.cv, one.value)
        yield _row(day, device.row.accessory, one, device_wanted(device, one.cv), said)


def _row(
    day: str, label: str | None, one: ReadBack, want: int | None, said: Verdict | None
) -> Mapping[str, str | int | None]:
    return {
        "date": day,
        "loco": label,
        "cv": one.cv,
        "value": one.value,
        "index_high": one.index[0] if one.index else None,
        "index_low": one.index[1] if one.index else None,
        "wanted": want,
        "verdict": said.value if said else None,
    }


def below(table: Table, rows: Sequence[Mapping[str, Computed]]) -> SheetChange:
    """Return what writes rows of Readings below those that stand there.

    Raises:
        CannotRunError: if the sheet lacks a heading that they need.
    """
    absent = [table.sheet[name].heading for name in _needed(rows) if name not in table.headings.columns]
    if absent:
        raise CannotRunError(
            f"{table.workbook}: the sheet '{table.title}' has no column {' and '.join(absent)}",
            "Add the heading, and try again.",
        )
    first = first_free_row(table, len(rows))
    cells = [
        CellChange(
            row=row,
            column=table.headings.columns[name],
            value=value,
            look=CellStyle.COMPUTED if table.sheet[name].computed else None,
        )
        for row, values in enumerate(rows, first)
        for name, value in values.items()
        if value is not None and name in table.headings.columns
    ]
    return SheetChange(
        title=table.title,
        cells=tuple(cells),
        keeps_highlights=True,
        heading=heading_cell(table),
        last_row=first + len(rows) - 1,
    )


def _needed(rows: Sequence[Mapping[str, Computed]]) -> list[str]:
    indexed = any(values["index_high"] is not None for values in rows)
    noted = any(values.get("notes") is not None for values in rows)
    return [
        *_NEEDED,
        "date",
        *(("index_high", "index_low") if indexed else ()),
        *(("notes",) if noted else ()),
    ]
