"""What was read at the bench, typed as pairs, made into new rows of the sheet Readings."""

from collections.abc import Iterator, Mapping, Sequence

from rosterkit.cv.accessory import Device
from rosterkit.cv.accessory_readings import device_verdict, device_wanted, devices_by_label
from rosterkit.cv.configured import CONFIGURATION_CV
from rosterkit.cv.engine import cvs_of
from rosterkit.cv.readings import Verdict, key_of, verdict
from rosterkit.errors import CannotRunError
from rosterkit.roster.model import Locomotive, Roster
from rosterkit.roster.schema import folded
from rosterkit.roster.tables import Table
from rosterkit.standards.accessories import ALIAS_OFFSET
from rosterkit.standards.service_mode import INDEXED_CVS
from rosterkit.writeback.computed_columns import Computed
from rosterkit.writeback.new_sheet import new_sheet
from rosterkit.writeback.places import first_free_row, heading_cell
from rosterkit.writeback.typed_pairs import ReadBack
from rosterkit.xlsx.changes import CellChange, CellStyle, SheetChange, WorkbookChange

TITLE = "Readings"
NEEDED_HEADINGS = "Date, Loco, CV and Value"
_NEEDED = ("loco", "cv", "value")


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


def without_index(roster: Roster, loco: str, readings: Sequence[ReadBack]) -> list[int]:
    """Return the CVs, 257 to 512, of which neither the readings nor the extra values tell the index.

    They are in rising order; NMRA S-9.2.2 (Jul 2012), CV31/32: without it nobody knows what was read.
    """
    extras = roster.extras_of.get(folded(loco), ())
    keys = (key_of(one.cv, one.index, extras) for one in readings)
    return sorted({cv for cv, index in keys if cv in INDEXED_CVS and index is None})


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
