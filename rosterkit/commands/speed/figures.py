"""An engine's timed points and expected speeds as the figures that every form of the report has."""

from collections.abc import Collection, Iterator, Mapping, Sequence
from dataclasses import dataclass

from rosterkit.findings import Finding
from rosterkit.planning.speed.from_roster import SpeedGroup, Speeds, TimedEngine
from rosterkit.planning.speed.monotone import Floats
from rosterkit.planning.speed.plans import Part
from rosterkit.planning.speed.runs import kmh_per
from rosterkit.planning.speed.settings import cvs_of, deceleration_of, stopping_distance_of, table_label
from rosterkit.planning.speed.timed_run import Way
from rosterkit.planning.speed.trims import Trimmed
from rosterkit.roster.model import Roster
from rosterkit.standards.speed_curve import FULL_DRIVE, TABLE_STEPS

SHOWN_STEPS = (1, 4, 8, 12, 16, 20, 24, 28)
"""The steps that the text and the sheet Speed have; JSON has all 28."""
_TWICE = 2.0


@dataclass(frozen=True, slots=True, kw_only=True)
class Sure:
    """A speed in the layout's unit, and what it may be off by either way."""

    speed: float
    within: float


@dataclass(frozen=True, slots=True, kw_only=True)
class TimedPoint:
    """A drive at which an engine was timed, one way."""

    way: Way
    drive: int
    speed: Sure
    timed_runs: int

    @property
    def step(self) -> float:
        """The step of 28 at which a straight table has this drive."""
        return round(self.drive * len(TABLE_STEPS) / FULL_DRIVE, 2)


@dataclass(frozen=True, slots=True, kw_only=True)
class StepFigures:
    """What is wanted and expected at a step of 28."""

    step: int
    drive: float
    """The table's entry, or the drive on the curve of three values, before the trims."""
    wanted: float
    expected: Mapping[Way, Sure]


@dataclass(frozen=True, slots=True, kw_only=True)
class EngineFigures:
    """All figures of one engine; speeds in the layout's unit, shares in % of the top speed."""

    loco: str
    shape: str | None
    """None where nothing could be planned."""
    matches: Sequence[str]
    """The other engines that it is to run like."""
    table: str | None
    """The label of its table."""
    entries: Sequence[int]
    cvs: Mapping[int, int]
    reached: Sure | None
    worst: float | None
    loss: float | None
    """What it gives up of its own fastest, in % of that."""
    mismatch: Sequence[float]
    """Between the engines that match, at each step."""
    stopping_distance: float | None
    steps: Sequence[StepFigures]
    points: Sequence[TimedPoint]
    next: Sequence[str]
    """What to measure or do next."""


@dataclass(frozen=True, slots=True, kw_only=True)
class SpeedReport:
    """What the command speed came to."""

    version: str
    workbook: str
    unit: str
    """Of speeds: km/h or mph."""
    length_unit: str
    engines: Sequence[EngineFigures]
    findings: Sequence[Finding]


def figures_of(roster: Roster, speeds: Speeds, steps: Collection[int] = SHOWN_STEPS) -> list[EngineFigures]:
    """Return the figures of all engines that were timed or have a goal, in the order of Locomotives.

    Speeds at those of the 28 steps that are asked for.
    """
    planned = {timed.label: (group, part) for group in speeds.groups for timed, part in group.parts}
    unit = kmh_per(roster.layout.speed_unit)
    return [_engine(timed, planned.get(timed.label), roster, unit, steps) for timed in speeds.engines]


def _engine(
    timed: TimedEngine,
    planned: tuple[SpeedGroup, Part] | None,
    roster: Roster,
    unit: float,
    steps: Collection[int],
) -> EngineFigures:
    group, part = planned or (None, None)
    plan = group.plan if group else None
    ahead = part.predictions if part else ()
    setting = part.setting if part else None
    cvs = cvs_of(timed, part, roster) if part else {}
    deceleration = deceleration_of(timed, part, roster) if part else None
    lead = group.engines[0].goal if group else None
    table = setting.table if isinstance(setting, Trimmed) else ()
    slow = min(ahead, key=lambda each: each.top, default=None)
    return EngineFigures(
        loco=timed.label,
        shape=(lead.shape if lead and lead.shape else "straight") if part else None,
        matches=[each.label for each in group.engines if each is not timed] if group else (),
        table=table_label(timed.label) if table else None,
        entries=table,
        cvs=cvs,
        reached=_sure(float(slow.kmh[-1]), float(slow.within[-1]), unit) if slow else None,
        worst=round(100 * part.worst, 1) if part else None,
        loss=round(100 * part.loss, 1) if part else None,
        mismatch=[round(100 * float(each), 1) for each in plan.mismatch]
        if plan and len(plan.parts) > 1
        else (),
        stopping_distance=round(stopping_distance_of(part, deceleration, roster))
        if part and deceleration is not None
        else None,
        steps=list(_steps(part, plan.wanted, unit, steps)) if part and plan else (),
        points=list(_points(timed, unit)),
        next=list(dict.fromkeys(_next(timed, part))),
    )


def _steps(part: Part, wanted: Floats, unit: float, steps: Collection[int]) -> Iterator[StepFigures]:
    setting = part.setting
    curve = part.predictions[0].drives
    drives = setting.table if isinstance(setting, Trimmed) else curve
    for step in steps:
        n = step - 1
        yield StepFigures(
            step=step,
            drive=round(float(drives[n]), 1),
            wanted=round(float(wanted[n]) / unit, 1),
            expected={
                ahead.curve.way: _sure(float(ahead.kmh[n]), float(ahead.within[n]), unit)
                for ahead in part.predictions
            },
        )


def _sure(kmh: float, within: float, unit: float) -> Sure:
    return Sure(speed=round(kmh / unit, 1), within=round(within / unit, 1))


def _points(timed: TimedEngine, unit: float) -> Iterator[TimedPoint]:
    for points in timed.measured.points:
        for point in points.moving:
            speed = _sure(point.kmh, _TWICE * point.error, unit)
            yield TimedPoint(way=points.way, drive=point.drive, speed=speed, timed_runs=len(point.rows))


def _next(timed: TimedEngine, part: Part | None) -> Iterator[str]:
    yield from (remark.fix for remark in timed.measured.remarks)
    yield from (remark.fix for remark in part.remarks) if part else ()
