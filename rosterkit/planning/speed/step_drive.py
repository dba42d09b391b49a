"""The drive at a speed step, by the curve that an engine's row gives its decoder."""

from collections.abc import Sequence
from typing import Any

from rosterkit.cv.configured import uses_table
from rosterkit.roster.model import Locomotive, Roster, SpeedGoal
from rosterkit.roster.schema import folded
from rosterkit.standards.speed_curve import FULL_DRIVE, TABLE_STEPS, drive_at_step

_POINTS = {"vstart": "cv2", "vmid": "cv6", "vhigh": "cv5"}
_FIX = "Enter Drive level, or Vstart, Vmid and Vhigh as they are in the decoder (0 where Vmid is not used)."

StepDrive = int | tuple[str, str]
"""A drive, 0 to 255, or why there is none and what to do."""


def drive_of_step(step: int, steps: int, label: str | None, roster: Roster) -> StepDrive:
    """Return the drive, 0 to 255, at a step, 0 to the top, of 14, 28 or 128 steps of the engine of a label.

    By the engine's own Vstart, Vmid and Vhigh (NMRA S-9.2.2 (Jul 2012), CV2, CV6, CV5; straight between them:
    common practice), or by its speed table where it has one. What 'rosterkit speed' wrote does not count: the
    runs were made before. ValueError for steps outside.
    """
    engine: Locomotive | None = _first_by_label(roster.engines, "engines", roster).get(folded(label or ""))
    if engine is None:
        return f"Step {step}, and there is no engine '{label or ''}' whose curve says its drive", _FIX
    if uses_table(engine, roster) and not _is_ours(engine, "speed_table", "table", roster):
        return _by_table(step, steps, engine, roster)
    values = {}
    for column, cv in _POINTS.items():
        values[cv] = getattr(engine, column)
        if values[cv] is None or _is_ours(engine, column, cv, roster):
            state = "not known" if values[cv] is None else "set by 'rosterkit speed', after this run"
            return f"Step {step} only, and {engine.heading(column)} of '{engine.loco}' is {state}", _FIX
    return round(FULL_DRIVE * drive_at_step(step, steps, **values))


def _by_table(step: int, steps: int, engine: Locomotive, roster: Roster) -> StepDrive:
    table = roster.tables.get(folded(engine.speed_table or ""))
    if table is None or None in table.steps:
        return f"Step {step} only, and '{engine.loco}' has no whole speed table", "Enter Drive level."
    if steps != len(TABLE_STEPS):
        return f"Step {step} of {steps}, and a speed table says the drives of 28", "Enter Drive level."
    return (0, *(value or 0 for value in table.steps))[step]


def _is_ours(engine: Locomotive, column: str, recorded: str, roster: Roster) -> bool:
    """Tell whether an earlier run of 'rosterkit speed' wrote what stands in a column of an engine."""
    goals = _first_by_label(roster.speed_goals, "speed_goals", roster)
    goal: SpeedGoal | None = goals.get(folded(engine.loco or ""))
    written = None if goal is None else goal.table.values[recorded][goal.index]
    return written is not None and written == getattr(engine, column)


def _first_by_label(rows: Sequence[Any], what: str, roster: Roster) -> dict[str, Any]:
    """Return the first row of each label; found once for a roster, which may have very many runs."""
    key = "first_by_label", what
    if key not in roster.kept:
        roster.kept[key] = {folded(row.loco): row for row in reversed(rows) if row.loco}
    found: dict[str, Any] = roster.kept[key]
    return found
