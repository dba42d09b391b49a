"""What the computed columns of each sheet should hold, row by row; the column Check apart."""

import re
from collections.abc import Callable, Mapping, Sequence

from rosterkit.cv.accessory import Device, accessory_cvs, devices_in
from rosterkit.cv.accessory_readings import device_verdict, device_wanted, devices_by_label
from rosterkit.cv.addresses import answer
from rosterkit.cv.consist import consist_cvs
from rosterkit.cv.engine import COMPUTED, EngineCvs, cvs_of
from rosterkit.cv.readings import Verdict, configuration_read, verdict, wanted_for
from rosterkit.findings import Severity
from rosterkit.planning.speed.runs import kmh_per, timed_run_of
from rosterkit.planning.speed.timed_run import TimedRun
from rosterkit.roster.model import Reading, Roster
from rosterkit.roster.schema import Column, Kind, folded
from rosterkit.xlsx.grid import Calculated, CellError, NoStoredValue, Raw

Computed = str | int | float | None
Rows = Sequence[Mapping[str, Computed]]
"""One mapping of column name to value a row, in the order of the table's rows."""


OUR_FINDINGS = tuple(f"{severity.value} [" for severity in Severity)
"""How a text of ours in the columns Alert and Check begins."""
_WHOLE = re.compile(r"-?\d+")
_LONGEST = 15
"""Characters of a number kept as text: programs hold no more digits, and int() refuses thousands."""


def computed_rows(roster: Roster, title: str) -> Rows:
    """Return the computed values of one of our sheets; empty for a sheet that has none but Check.

    They are worked out once.
    """
    key = "computed_rows", title
    if key not in roster.kept:
        roster.kept[key] = _ROWS[title](roster) if title in _ROWS else ()
    found: Rows = roster.kept[key]
    return found


def may_be_ours(column: Column, stored: Raw) -> bool:
    """Tell whether rosterkit may have written what stands in a computed cell, so that it may replace it.

    It writes values that the column can hold, and never a formula, an error or a truth value. A number that
    the member's format shows as a date is still a number. A text under Alert is known by its form.
    """
    if stored == "":
        return True
    if isinstance(stored, bool | Calculated | CellError | NoStoredValue):
        return False
    if column.kind is Kind.CHOICE:
        return stored in column.choices
    if column.name == "alert":
        return isinstance(stored, str) and stored.startswith(OUR_FINDINGS)
    if column.kind is Kind.TEXT:
        return True
    if isinstance(stored, str) and len(stored) <= _LONGEST and _WHOLE.fullmatch(stored.strip()):
        stored = int(stored)  # a spreadsheet program may keep a number of ours as text
    if isinstance(stored, int | float):
        low, high = column.schema.get("minimum", stored), column.schema.get("maximum", stored)
        return low <= stored <= high and (column.kind is Kind.NUMBER or float(stored).is_integer())
    return not isinstance(stored, str)


def _engines(roster: Roster) -> Rows:
    return [
        {"answers": answer(engine, roster.layout)}
        | {f"cv{cv}": cvs_of(engine, roster).value(cv) for cv in COMPUTED}
        | {"cv29_read": configuration_read(roster, engine.loco)}
        for engine in roster.engines
    ]


def _consists(roster: Roster) -> Rows:
    rows = [consist_cvs(member) for member in roster.consist_members]
    return [{f"cv{cv}": values.get(cv) for cv in (19, 20, 21, 22)} for values in rows]


def _accessories(roster: Roster) -> Rows:
    computed = {device.row.index: accessory_cvs(device) for device in devices_in(roster)}
    rows = [computed.get(accessory.index, {}) for accessory in roster.accessories]
    return [{f"cv{cv}": values.get(cv) for cv in (1, 9, 29)} for values in rows]


def _readings(roster: Roster) -> Rows:
    engines = {folded(engine.loco): engine for engine in reversed(roster.engines) if engine.loco}
    cvs = {label: cvs_of(engines[label], roster) for label in roster.readings_of if label in engines}
    devices = devices_by_label(roster) if roster.readings else {}
    rows: list[Mapping[str, Computed]] = []
    for reading in roster.readings:
        label = folded(reading.loco or "")
        if label in devices:
            rows.append(_of_device(reading, devices[label]))
            continue
        engine = cvs.get(label)
        wanted = wanted_for(reading, roster, engine.wanted()) if engine else None
        found = _verdict(reading, wanted, engine) if engine and engine.values else None
        rows.append({"wanted": wanted, "verdict": found.value if found else None})
    return rows


def _verdict(reading: Reading, wanted: int | None, engine: EngineCvs) -> Verdict | None:
    return verdict(reading.cv, reading.value, wanted, engine.stated((reading.cv or 0, None)))


def _of_device(reading: Reading, device: Device) -> Mapping[str, Computed]:
    cv = reading.cv or 0
    found = device_verdict(device, cv, reading.value)
    return {"wanted": device_wanted(device, cv), "verdict": found.value if found else None}


def _runs(roster: Roster) -> Rows:
    unit = kmh_per(roster.layout.speed_unit)
    timed_runs = (timed_run_of(run, roster) for run in roster.speed_runs)
    return [
        {"scale_speed": round(one.kmh / unit, 1), "timing": round(100 * one.timing, 1)}
        if isinstance(one, TimedRun)
        else {"scale_speed": None, "timing": None}
        for one in timed_runs
    ]


_ROWS: Mapping[str, Callable[[Roster], Rows]] = {
    "Locomotives": _engines,
    "Consists": _consists,
    "Accessories": _accessories,
    "Speed runs": _runs,
    "Readings": _readings,
}
