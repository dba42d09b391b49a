"""Checks of speed goals: what cannot be reached, how alike engines will run, and what stands in the way."""

from collections.abc import Iterator
from dataclasses import replace
from typing import TYPE_CHECKING

from rosterkit.checks.framework import Scope, check, check_each
from rosterkit.checks.timed_runs import engine_hit, remark_hit
from rosterkit.findings import Hit, Severity
from rosterkit.planning.speed.remarks import Doubt
from rosterkit.roster.rows import Row, hit_at
from rosterkit.roster.schema import folded
from rosterkit.standards.scales import KM_PER_MILE, top_speed_band

if TYPE_CHECKING:
    from rosterkit.planning.speed.from_roster import SpeedGroup, TimedEngine
    from rosterkit.planning.speed.plans import Part
    from rosterkit.roster.model import Roster

_WORST_MISMATCH = 0.03
"""Share of the top speed by which engines that run together may differ (common practice, no source)."""

_LEAST_BAND = 0.05
"""Share of the prototype's speed that a band is wide at least (common practice, no source)."""

Planned = tuple["Roster", "TimedEngine", "Part"]


def _groups(scope: Scope) -> Iterator["SpeedGroup"]:
    for _, speeds in scope.speeds:
        yield from speeds.groups


def _parts(scope: Scope) -> Iterator[Planned]:
    for roster, speeds in scope.speeds:
        for group in speeds.groups:
            yield from ((roster, timed, part) for timed, part in group.parts)


@check(Severity.WARNING)
def goal_unreached(scope: Scope) -> Iterator[Hit]:
    """A speed goal cannot be reached, or nothing can be made of it.

    Why: the engine was not seen to run so fast, or so slowly, or not timed; what was not measured is not
    made up.
    Fix: Time what the finding asks for, or want another speed.
    """
    for roster, speeds in scope.speeds:
        for group in speeds.groups:
            if group.hindrance is not None:
                yield from _at_goal(group.engines[0], "loco", *group.hindrance)
            yield from _group_remarks(group, Doubt.TOP_UNREACHED, "top")
        yield from _unmatched(roster)
    for planned in _parts(scope):
        yield from _remarks(planned, Doubt.START_UNKNOWN)


def _unmatched(roster: "Roster") -> Iterator[Hit]:
    known = {folded(engine.loco) for engine in roster.engines if engine.loco}
    for goal in roster.speed_goals:
        if goal.match is not None and folded(goal.match) not in known:
            message = f"there is no engine '{goal.match}' in Locomotives to match"
            yield hit_at(goal, "match", message, "Spell Match as Loco there, or empty it.")


def _group_remarks(group: "SpeedGroup", doubt: Doubt, column: str) -> Iterator[Hit]:
    """Make hits of remarks on a group, at the goal that says how fast, or at its first goal."""
    with_goal = [each for each in group.engines if each.goal]
    with_top = [each for each in with_goal if each.goal and each.goal.top is not None]
    for remark in group.plan.remarks if group.plan else ():
        for timed in (with_top or with_goal)[:1]:
            if remark.doubt is doubt:
                yield from _at_goal(timed, column, remark.message, remark.fix)


def _at_goal(timed: "TimedEngine", column: str, message: str, fix: str) -> Iterator[Hit]:
    if timed.goal is not None:
        yield engine_hit(timed, timed.goal, column, message, fix)


@check_each(_groups, Severity.WARNING)
def speed_unit_doubtful(group: "SpeedGroup") -> Iterator[Hit]:
    """Two engines that are to run alike differ by a factor near 1.609.

    Why: that is the number of km to the mile; one of them was measured in km/h and taken for mph, or the
    other way round (arithmetic).
    Fix: Look at the units in which the two were measured.
    """
    yield from _group_remarks(group, Doubt.UNIT_SLIP, "loco")


@check_each(_groups, Severity.WARNING)
def speeds_differ(group: "SpeedGroup") -> Iterator[Hit]:
    """Engines that are to run alike will differ by more than 3 % of their top speed.

    Why: they push and drag each other, which heats motors and lifts wheels (common practice, no source).
    Fix: Time them at more drive levels, or want a higher or lower top speed.
    """
    if group.plan is None or len(group.plan.parts) < 2:
        return
    # The first step is where each starts to run; it shows who starts first, not how they run.
    worst = float(group.plan.mismatch[1:].max())
    if worst > _WORST_MISMATCH:
        step = int(group.plan.mismatch[1:].argmax()) + 2
        message = f"engines that match differ by {100 * worst:.1f} % of the top speed at step {step}"
        timed = next(each for each in group.engines if each.goal is not None)
        fix = "Time them at more drive levels near that speed, or want another top speed."
        yield from _at_goal(timed, "match", message, fix)


@check_each(_parts, Severity.NOTE)
def top_speed_outside_band(planned: Planned) -> Iterator[Hit]:
    """An engine's top speed is outside the band of NEM 661.

    Why: by that recommendation a model's top speed lies between its prototype's and so many % above,
    by scale (NEM 661, 2011: H0 30 %, N 50 %, 0 10 %). In scale 1 it says 0 %; here 5 % are allowed at least,
    as nobody meets a single speed (common practice, no source).
    Fix: Set Top speed to a speed within the band.
    """
    roster, timed, part = planned
    if timed.goal is None or timed.goal.prototype is None:
        return
    name = roster.layout.speed_unit
    unit = KM_PER_MILE if name == "mph" else 1.0
    band = _band(timed.goal.prototype * unit, roster.layout.scale)
    top = max(each.top for each in part.predictions)
    if band and not band[0] * 0.995 <= top <= band[1] * 1.005:
        low, high = band[0] / unit, band[1] / unit
        message = f"its top speed will be {top / unit:.0f} {name}; the band is {low:.0f} to {high:.0f} {name}"
        yield from _at_goal(timed, "top", message, "Set Top speed within the band, if it can be reached.")


def _band(prototype_kmh: float, scale: str) -> tuple[float, float] | None:
    """Return the norm's band in km/h, widened where it is narrower than anybody can meet."""
    band = top_speed_band(prototype_kmh, scale)
    return band and (band[0], max(band[1], band[0] * (1 + _LEAST_BAND)))


@check_each(_parts, Severity.WARNING)
def siding_too_short(planned: Planned) -> Iterator[Hit]:
    """An engine's stopping distance from its top speed is longer than its shortest siding.

    Why: it cannot stop in it. CV4 times 0.896 seconds lead from the top step to rest (NMRA S-9.2.2, CV4), and
    how far that is follows from the speeds to be expected at each step; decoders vary.
    Fix: Make Stops within or Deceleration smaller.
    """
    from rosterkit.planning.speed.settings import deceleration_of, deceleration_within, stopping_distance_of  # noqa: PLC0415

    roster, timed, part = planned
    siding = timed.goal.siding if timed.goal else None
    cv4 = None if siding is None else deceleration_of(timed, part, roster)
    if siding is None or cv4 is None:
        return
    distance, unit = stopping_distance_of(part, cv4, roster), roster.layout.length_unit
    if distance > siding:
        message = (
            f"with Deceleration {cv4} its stopping distance is {distance:.0f} {unit} from the top step, "
            f"and the siding has {siding:g} {unit}"
        )
        fix = f"Set Stops within to {siding:g} {unit} at most."
        if cv4 == timed.engine.deceleration:
            most = deceleration_within(part, siding, roster)
            fix = f"Set Deceleration of '{timed.label}' to {most} at most."
        yield from _at_goal(timed, "siding", message, fix)


@check_each(_parts, Severity.NOTE)
def steps_idle(planned: Planned) -> Iterator[Hit]:
    """Some speed steps of an engine's table are no faster than the step before.

    Why: its whole range of speeds lies between few drive levels, of which there are only whole ones.
    Fix: Raise Top speed, or accept the idle steps.
    """
    yield from _remarks(planned, Doubt.TOO_COARSE)


def _remarks(planned: Planned, doubt: Doubt) -> Iterator[Hit]:
    roster, timed, part = planned
    yield from (remark_hit(timed, remark, roster) for remark in part.remarks if remark.doubt is doubt)


@check_each(_parts, Severity.WARNING)
def entry_in_the_way(planned: Planned) -> Iterator[Hit]:
    """What a speed goal comes to cannot be set, because a member's own entry stands there.

    Why: rosterkit never writes over a table or value that it did not write itself.
    Fix: Empty the cell, or rename the table, and run 'rosterkit speed' again.
    """
    from rosterkit.planning.speed.settings import settings_of  # noqa: PLC0415 - needs numpy

    roster, timed, part = planned
    settings = settings_of(timed, part, roster)
    if settings.table and not settings.table.free and settings.table.standing:
        message = "this table is your own, or you changed it, and it is left alone"
        fix = "Rename it, and run 'rosterkit speed' again."
        yield engine_hit(timed, settings.table.standing, "label", message, fix)
    for kept in settings.kept:
        what = f"CV{kept.cv}" if kept.column is None else timed.engine.heading(kept.column)
        where: Row = timed.goal if kept.column is None and timed.goal else timed.engine
        message = f"{what} is {kept.standing} by your own entry; its speed goal comes to {kept.value}"
        hit = hit_at(where, kept.column or "loco", message, "Empty it, and run 'rosterkit speed' again.")
        yield replace(hit, loco=timed.label)


@check_each(_parts, Severity.NOTE)
def goal_not_applied(planned: Planned) -> Iterator[Hit]:
    """A speed goal comes to other values than those that stand in the workbook.

    Why: runs or goals were changed, or 'rosterkit speed' did not run yet.
    Fix: Run 'rosterkit speed'.
    """
    from rosterkit.planning.speed.settings import settings_of  # noqa: PLC0415 - needs numpy

    roster, timed, part = planned
    if not settings_of(timed, part, roster).done:
        message = "this goal's values are not written yet, or are out of date"
        yield from _at_goal(timed, "loco", message, "Run 'rosterkit speed'.")
