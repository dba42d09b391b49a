"""Rows of Speed runs, made into runs engine by engine; a row that says too little is named."""

from collections.abc import Mapping

from rosterkit.findings import Hit
from rosterkit.planning.speed.step_drive import drive_of_step
from rosterkit.planning.speed.timed_run import TimedRun, Way, timed_run
from rosterkit.roster.model import Roster, SpeedRun
from rosterkit.roster.rows import hit_at
from rosterkit.roster.schema import folded
from rosterkit.standards.scales import KM_PER_MILE, MM_PER_FOOT, MM_PER_INCH, SCALES
from rosterkit.standards.speed_steps import TOP_STEPS

MILLIMETRES: Mapping[str, float] = {"mm": 1.0, "cm": 10.0, "m": 1000.0, "in": MM_PER_INCH, "ft": MM_PER_FOOT}
"""Millimetres to each unit of length."""


def timed_runs(roster: Roster) -> tuple[dict[str, list[TimedRun]], list[Hit]]:
    """Return a roster's runs by the folded label of the engine, and a hit for each that has no speed."""
    runs: dict[str, list[TimedRun]] = {}
    unusable: list[Hit] = []
    for run in roster.speed_runs:
        made = timed_run_of(run, roster)
        if isinstance(made, Hit):
            unusable.append(made)
        elif made is not None and run.loco is not None:
            runs.setdefault(folded(run.loco), []).append(made)
    return runs, unusable


def timed_run_of(run: SpeedRun, roster: Roster) -> TimedRun | Hit | None:
    """Make the run of a row, known by its index; None where a cell that the schema refuses says why not."""
    if run.distance is None or run.way is None or run.unusable & {"drive", "step", "steps", "time", "laps"}:
        return None
    drive, layout = _drive(run, roster), roster.layout
    if isinstance(drive, Hit):
        return drive
    if run.distance > 0 and run.time is None:
        return _lacks(run, "time", "a distance but no time", "Enter the time, or 0 as the distance.")
    metres = run.distance * MILLIMETRES[run.distance_unit or layout.length_unit] / 1000
    ratio = SCALES[layout.scale].ratio
    return timed_run(
        Way(run.way), drive, metres=metres * (run.laps or 1), seconds=run.time, ratio=ratio, row=run.index
    )


def _drive(run: SpeedRun, roster: Roster) -> int | Hit:
    if run.drive is not None:
        return run.drive
    if run.step is None:
        fix = "Enter Drive level, 0 to 255, or Step."
        return _lacks(run, "drive", "neither Drive level nor Step", fix)
    steps = int(run.steps or 28)
    top = TOP_STEPS[steps]
    if run.step > top:
        what, fix = f"Step {run.step}, and {steps} steps end at {top}", f"Enter a step up to {top}."
        return _lacks(run, "step", what, fix)
    drive = drive_of_step(run.step, steps, run.loco, roster)
    return drive if isinstance(drive, int) else _lacks(run, "step", *drive)


def _lacks(run: SpeedRun, column: str, what: str, fix: str) -> Hit:
    return hit_at(run, column, f"this run has {what}", fix)


def kmh_per(unit: str) -> float:
    """Return the km/h to a unit of speed: km/h or mph."""
    return KM_PER_MILE if unit == "mph" else 1.0
