"""Rows of Speed runs, made into runs engine by engine; a row that says too little is named."""

from collections.abc import Mapping, Sequence
from dataclasses import dataclass

from rosterkit.findings import Hit
from rosterkit.planning.speed.timed_run import TimedRun, Way, drive_of_step, timed_run
from rosterkit.roster.model import Layout, Roster, SpeedRun
from rosterkit.roster.rows import hit_at
from rosterkit.roster.schema import folded
from rosterkit.standards.scales import KM_PER_MILE, MM_PER_FOOT, MM_PER_INCH, SCALES
from rosterkit.standards.speed_steps import TOP_STEPS

_MILLIMETRES: Mapping[str, float] = {"mm": 1.0, "cm": 10.0, "m": 1000.0, "in": MM_PER_INCH, "ft": MM_PER_FOOT}


@dataclass(frozen=True, slots=True, kw_only=True)
class RunsByEngine:
    """What the sheet Speed runs comes to."""

    timed_runs: Mapping[str, Sequence[TimedRun]]
    """By the folded label of the engine; a run's row is the index of its run."""
    unusable: Sequence[Hit]
    """Runs from which no speed can be had."""


def timed_runs(roster: Roster) -> RunsByEngine:
    """Make runs of a roster's runs."""
    timed_runs: dict[str, list[TimedRun]] = {}
    unusable: list[Hit] = []
    for run in roster.speed_runs:
        made = timed_run_of(run, roster.layout)
        if isinstance(made, Hit):
            unusable.append(made)
        elif made is not None and run.loco is not None:
            timed_runs.setdefault(folded(run.loco), []).append(made)
    return RunsByEngine(timed_runs=timed_runs, unusable=unusable)


def timed_run_of(run: SpeedRun, layout: Layout) -> TimedRun | Hit | None:
    """Make the run of a run; None where a cell that the schema refuses already says why not."""
    if run.distance is None or run.way is None or run.unusable & {"drive", "step", "steps", "time", "laps"}:
        return None
    drive = _drive(run)
    if isinstance(drive, Hit):
        return drive
    if run.distance > 0 and run.time is None:
        return _lacks(run, "time", "a distance but no time", "Enter the time, or 0 as the distance.")
    metres = run.distance * millimetres_per(run.distance_unit or layout.length_unit) / 1000
    ratio = SCALES[layout.scale].ratio
    return timed_run(
        Way(run.way), drive, metres=metres * (run.laps or 1), seconds=run.time, ratio=ratio, row=run.index
    )


def _drive(run: SpeedRun) -> int | Hit:
    if run.drive is not None:
        return run.drive
    if run.step is None:
        return _lacks(
            run, "drive", "neither Drive level nor Step", "Enter the drive, 0 to 255, or the speed step."
        )
    steps = int(run.steps or 28)
    if run.step > TOP_STEPS[steps]:
        most = TOP_STEPS[steps]
        return _lacks(
            run, "step", f"Step {run.step}, and {steps} steps end at {most}", f"Enter a step up to {most}."
        )
    return drive_of_step(run.step, steps)


def _lacks(run: SpeedRun, column: str, what: str, fix: str) -> Hit:
    return hit_at(run, column, f"this run has {what}", fix)


def millimetres_per(unit: str) -> float:
    """Return the millimetres to a unit of length: mm, cm, m, in or ft."""
    return _MILLIMETRES[unit]


def kmh_per(unit: str) -> float:
    """Return the km/h to a unit of speed: km/h or mph."""
    return KM_PER_MILE if unit == "mph" else 1.0
