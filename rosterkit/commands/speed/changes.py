"""What speed writes into a workbook: tables, values that engines refer to, and what came of each goal."""

from collections.abc import Iterable, Iterator, Mapping, Sequence
from itertools import count

from rosterkit.findings import Finding
from rosterkit.planning.speed.from_roster import SpeedGroup, Speeds, TimedEngine
from rosterkit.planning.speed.plans import Part
from rosterkit.planning.speed.runs import kmh_per
from rosterkit.planning.speed.settings import (
    Settings,
    SpeedSetting,
    deceleration_of,
    settings_of,
    stopping_distance_of,
)
from rosterkit.roster.model import Roster
from rosterkit.roster.schema import folded, sheet
from rosterkit.roster.tables import Table
from rosterkit.writeback.new_sheet import new_sheet
from rosterkit.writeback.places import first_free_row, heading_cell, places_of
from rosterkit.writeback.sheets import ComputedValues, sheet_change
from rosterkit.xlsx.changes import CellChange, CellStyle, OwnSheet, SheetChange

TABLES, EXTRAS, GOALS = "Speed tables", "Extra values", "Speed goals"
_COMPUTED = ("table", "table_sum", "cv2", "cv6", "cv5", "cv66", "cv95", "cv3", "cv4")


def speed_changes(
    roster: Roster, speeds: Speeds, findings: Sequence[Finding]
) -> tuple[tuple[SheetChange, ...], tuple[OwnSheet, ...]]:
    """Return what changes in a workbook's sheets, and sheets that have to be made.

    Nothing is written over what a member typed: only where nothing stands, or what an earlier run wrote.

    Raises:
        CannotRunError: a sheet cannot take the rows.
    """
    parts = [pair for group in speeds.groups for pair in group.parts]
    planned = [(timed, settings_of(timed, part, roster)) for timed, part in parts]
    changes: list[SheetChange] = [_engine_cells(roster, planned)]
    made: list[OwnSheet] = []
    _put(roster, TABLES, [row for _, settings in planned for row in _table_rows(settings)], changes, made)
    extras = [row for timed, settings in planned for row in _extra_rows(timed, settings, roster)]
    _put(roster, EXTRAS, extras, changes, made)
    goals = roster.book.tables.get(GOALS)
    if goals is not None:
        own = [finding for finding in findings if finding.place.sheet == goals.title]
        settings = {timed.label: each for timed, each in planned}
        changes.append(sheet_change(goals, roster, own, dict(_goal_values(roster, speeds, settings))))
    return tuple(change for change in changes if change.cells or change.highlights), tuple(made)


RowValues = tuple[int | None, Mapping[str, str | int]]
"""The index of the row, None for a new one, and values by the names of their columns."""


def _engine_cells(roster: Roster, planned: Iterable[tuple[TimedEngine, Settings]]) -> SheetChange:
    table = roster.book.tables["Locomotives"]
    rows: list[RowValues] = [
        (timed.engine.index, {each.column: each.value})
        for timed, settings in planned
        for each in settings.values
        if each.column is not None and each.free and not each.done
    ]
    return _change(table, rows)


def _table_rows(settings: Settings) -> Iterator[RowValues]:
    table = settings.table
    if table is not None and table.free and not table.done:
        values = {f"step{step}": value for step, value in enumerate(table.values, 1)}
        yield (table.standing.index if table.standing else None), {"label": table.label, **values}


def _extra_rows(timed: TimedEngine, settings: Settings, roster: Roster) -> Iterator[RowValues]:
    standing = {row.cv: row.index for row in reversed(roster.extras_of.get(folded(timed.label), ()))}
    for each in settings.values:
        if each.column is None and each.cv is not None and each.free and not each.done:
            row: dict[str, str | int] = {"loco": timed.label, "cv": each.cv, "value": each.value}
            yield standing.get(each.cv), row if each.cv in standing else row | {"notes": _note(each)}


def _note(setting: SpeedSetting) -> str:
    return f"{'forward' if setting.cv == 66 else 'reverse'} trim from timed runs"


def _put(
    roster: Roster,
    title: str,
    rows: Sequence[RowValues],
    changes: list[SheetChange],
    made: list[OwnSheet],
) -> None:
    """Put rows into a sheet of the member's; where there is none, make one."""
    if not rows:
        return
    table = roster.book.tables.get(title)
    if table is not None:
        changes.append(_change(table, rows))
    else:
        headings = ", ".join(column.heading for column in sheet(title).columns[:3])
        values = [values for _, values in rows]
        made.append(new_sheet(roster.book, title, values, f"{headings} and so on"))


def _change(table: Table, rows: Sequence[RowValues]) -> SheetChange:
    columns, added = places_of(table, list(dict.fromkeys(name for _, values in rows for name in values)))
    new = sum(index is None for index, _ in rows)
    first = first_free_row(table, new)
    return SheetChange(
        title=table.title,
        cells=tuple(_cells(table, rows, columns, added, first)),
        keeps_highlights=True,
        widths={columns[name]: table.sheet[name].width for name in added},
        heading=heading_cell(table),
        last_row=first + new - 1 if new else 0,
    )


def _cells(
    table: Table, rows: Sequence[RowValues], columns: Mapping[str, int], added: Sequence[str], first: int
) -> Iterator[CellChange]:
    for name in added:
        heading = table.sheet[name].heading
        yield CellChange(row=table.headings.row, column=columns[name], value=heading, look=CellStyle.HEADING)
    below = count(first)
    for index, values in rows:
        row = next(below) if index is None else table.rows[index]
        yield from (CellChange(row=row, column=columns[name], value=value) for name, value in values.items())


def _goal_values(
    roster: Roster, speeds: Speeds, settings: Mapping[str, Settings]
) -> Iterator[tuple[int, ComputedValues]]:
    """Return the computed columns of Speed goals by row; all blank where nothing came of a goal."""
    blank: ComputedValues = dict.fromkeys(
        (*_COMPUTED, "reached", "sure", "worst", "mismatch", "stopping_distance")
    )
    for goal in roster.speed_goals:
        yield goal.index, blank
    for group in speeds.groups:
        for timed, part in group.parts:
            if timed.goal is not None:
                own = settings[timed.label]
                yield timed.goal.index, {**blank, **_goal_row(timed, group, part, own, roster)}


def _goal_row(
    timed: TimedEngine, group: SpeedGroup, part: Part, settings: Settings, roster: Roster
) -> dict[str, str | int | float | None]:
    top = group.plan.top if group.plan else 0.0
    ahead = part.predictions
    deceleration = deceleration_of(timed, part, roster)
    alike = group.plan is not None and len(group.plan.parts) > 1
    written = settings.table if settings.table and settings.table.free else None
    return {
        "table": written.label if written else None,
        "table_sum": sum(written.values) if written else None,
        **{f"cv{each.cv}": _recorded(each) for each in settings.values if each.cv is not None},
        "reached": round(min(each.top for each in ahead) / kmh_per(roster.layout.speed_unit), 1),
        "sure": round(100 * max(float(each.within.max()) for each in ahead) / top, 1),
        "worst": round(100 * part.worst, 1),
        "mismatch": round(100 * float(group.plan.mismatch[1:].max()), 1) if alike and group.plan else None,
        "stopping_distance": None
        if deceleration is None
        else round(stopping_distance_of(part, deceleration, roster)),
    }


def _recorded(setting: SpeedSetting) -> str | int | None:
    """Return a value that rosterkit writes or wrote; None for one that the member typed, be it the same."""
    ours = setting.standing is None or setting.standing == setting.recorded
    return setting.value if ours else None
