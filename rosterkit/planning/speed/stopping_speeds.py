"""How fast an engine runs at its top step, and how far it runs on from the line speed."""

from dataclasses import dataclass

import numpy as np

from rosterkit.planning.speed.from_roster import TimedEngine, speeds_of
from rosterkit.planning.speed.monotone import Floats
from rosterkit.planning.speed.runs import kmh_per
from rosterkit.planning.speed.stopping import cv4_for_metres, stopping_metres
from rosterkit.roster.model import Locomotive, Roster
from rosterkit.roster.schema import folded
from rosterkit.standards.speed_curve import FULL_DRIVE, is_used_in_curve

_EVEN = np.linspace(1 / 28, 1.0, 28)


@dataclass(frozen=True, slots=True, kw_only=True, eq=False)
class StepSpeeds:
    """What an engine runs at its 28 steps."""

    kmh: tuple[Floats, ...]
    """km/h at steps 1 to 28, a way each; at least one."""
    known_by: str
    """Where they are known from, such as 'its timed runs'."""

    @property
    def top(self) -> float:
        """The speed in km/h at the top step, of the faster way."""
        return max(float(way[-1]) for way in self.kmh)

    def stopping_metres(self, cv4: int, from_kmh: float, ratio: float) -> float:
        """Return the metres of track it runs on with CV4, 0 to 255, from a speed or its top, the lower one.

        The way that runs on further counts. NMRA S-9.2.2 (Jul 2012), CV4: its seconds are from the top step.
        """
        return max(stopping_metres(cv4, way, ratio, from_kmh=_lower(from_kmh, way)) for way in self.kmh)

    def cv4_within(self, metres: float, from_kmh: float, ratio: float) -> int:
        """Return the highest CV4, 0 to 255, that stops it within so many metres: of ``stopping_metres``."""
        return min(cv4_for_metres(metres, way, ratio, from_kmh=_lower(from_kmh, way)) for way in self.kmh)


def _lower(kmh: float, way: Floats) -> float:
    return min(kmh, float(way[-1]))


def step_speeds(engine: Locomotive, roster: Roster) -> StepSpeeds | None:
    """Return what an engine runs at its steps; None where nothing says how fast it is.

    By what its goal and its timed runs come to; else from rest evenly to the speed that it was timed at the
    drive of its top step; else to the top speed that is wanted.
    """
    label = folded(engine.loco or "")
    speeds = speeds_of(roster)
    for group in speeds.groups:
        for timed, part in group.parts:
            if folded(timed.label) == label:
                ahead = tuple(np.maximum.accumulate(each.kmh) for each in part.predictions)
                return StepSpeeds(kmh=ahead, known_by="its speed goal and timed runs")
    timed_engine = next((one for one in speeds.engines if folded(one.label) == label), None)
    if timed_engine is None:
        return None
    if timed_engine.measured.curves:
        drive = np.array([float(_top_drive(timed_engine, roster))])
        tops = [float(curve.speed(drive)[0]) for curve in timed_engine.measured.curves]
        ways = tuple(top * _EVEN for top in tops if top > 0)
        return StepSpeeds(kmh=ways, known_by="its timed runs") if ways else None
    goal = timed_engine.goal
    if goal is None or goal.top is None:
        return None
    return StepSpeeds(kmh=(goal.top * kmh_per(roster.layout.speed_unit) * _EVEN,), known_by="its speed goal")


def _top_drive(timed: TimedEngine, roster: Roster) -> int:
    """Return the drive, 0 to 255, at the top step: of its table, or CV5 (NMRA S-9.2.2 (Jul 2012), CV5)."""
    engine = timed.engine
    if engine.speed_curve == "table":
        table = roster.tables.get(folded(engine.speed_table or ""))
        top = table.steps[-1] if table else None
        return FULL_DRIVE if top is None else top
    vhigh = engine.vhigh
    return vhigh if vhigh is not None and is_used_in_curve(vhigh) else FULL_DRIVE
