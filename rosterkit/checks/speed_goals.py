"""Checks of speed goals: what cannot be reached, how alike engines will run, and what stands in the way."""

from collections.abc import Iterator
from dataclasses import replace
from typing import TYPE_CHECKING

from rosterkit.checks.framework import Scope, check
from rosterkit.checks.timed_runs import remark_hit
from rosterkit.findings import Hit, Severity
from rosterkit.planning.speed.remarks import Doubt, Remark
from rosterkit.roster.rows import hit_at
from rosterkit.roster.schema import folded
from rosterkit.standards.scales import KM_PER_MILE
from rosterkit.standards.top_speeds import top_speed_band

if TYPE_CHECKING:
    from rosterkit.planning.speed.from_roster import SpeedGroup, TimedEngine
    from rosterkit.planning.speed.plans import Part
    from rosterkit.roster.model import Locomotive, Roster, SpeedGoal

_WORST_MISMATCH = 0.03
"""Share of the top speed by which engines that run together may differ (common practice, no source)."""

Planned = tuple["SpeedGroup", "Roster", "TimedEngine", "Part"]


@check(Severity.WARNING)
def goal_unreached(scope: Scope) -> Iterator[Hit]:
    """A speed goal cannot be reached, or nothing can be made of it.

    Why: the engine was not seen to run so fast, or so slowly, or not timed; what was not measured is not
    made up.
    Fix: Time what the finding asks for, or want another speed.
    """
    for roster, speeds in scope.speeds:
        for group in speeds.groups:
            first = group.engines[0]
            if group.hindrance is not None:
                message, fix = group.hindrance
                yield from _at_goal(first, "loco", message, fix)
            for remark in group.plan.remarks if group.plan else ():
                if remark.doubt is Doubt.TOP_UNREACHED:
                    yield from _goal_remark(group, remark, "top")
        yield from _unmatched(roster)
    yield from _remarks(scope, {Doubt.START_UNKNOWN})


def _unmatched(roster: "Roster") -> Iterator[Hit]:
    known = {folded(engine.loco) for engine in roster.engines if engine.loco}
    for goal in roster.speed_goals:
        if goal.match is not None and folded(goal.match) not in known:
            message = f"there is no engine '{goal.match}' in Locomotives to match"
            yield hit_at(goal, "match", message, "Spell Match as Loco there, or empty it.")


def _goal_remark(group: "SpeedGroup", remark: Remark, column: str) -> Iterator[Hit]:
    """Make a hit of a remark on a group at the goal that says how fast, or at its first goal."""
    goals = [(each.label, each.goal) for each in group.engines if each.goal is not None]
    goals.sort(key=lambda pair: pair[1].top is None)
    for label, goal in goals[:1]:
        yield replace(hit_at(goal, column, f"'{label}': {remark.message}", remark.fix), loco=label)


def _at_goal(timed: "TimedEngine", column: str, message: str, fix: str) -> Iterator[Hit]:
    if timed.goal is not None:
        yield replace(hit_at(timed.goal, column, f"'{timed.label}': {message}", fix), loco=timed.label)


@check(Severity.WARNING)
def speed_unit_doubtful(scope: Scope) -> Iterator[Hit]:
    """Two engines that are to run alike differ by a factor near 1.609.

    Why: that is the number of km to the mile; one of them was measured in km/h and taken for mph, or the
    other way round (arithmetic).
    Fix: Look at the units in which the two were measured.
    """
    for _, speeds in scope.speeds:
        for group in speeds.groups:
            for remark in group.plan.remarks if group.plan else ():
                if remark.doubt is Doubt.UNIT_SLIP:
                    yield from _goal_remark(group, remark, "loco")


@check(Severity.WARNING)
def speeds_differ(scope: Scope) -> Iterator[Hit]:
    """Engines that are to run alike will differ by more than 3 % of their top speed.

    Why: they push and drag each other, which heats motors and lifts wheels (common practice, no source).
    Fix: Time them at more drives, or want a higher or lower top speed.
    """
    for _, speeds in scope.speeds:
        for group in speeds.groups:
            if group.plan is None or len(group.plan.parts) < 2:
                continue
            # The first step is where each starts to run; it shows who starts first, not how they run.
            worst = float(group.plan.mismatch[1:].max())
            if worst > _WORST_MISMATCH:
                step = int(group.plan.mismatch[1:].argmax()) + 2
                message = f"engines that match differ by {100 * worst:.1f} % of the top speed at step {step}"
                timed = next(each for each in group.engines if each.goal is not None)
                fix = "Time them at more drives near that speed, or want another top speed."
                yield from _at_goal(timed, "match", message, fix)


@check(Severity.NOTE)
def top_speed_outside_band(scope: Scope) -> Iterator[Hit]:
    """An engine's top speed is outside the band of NEM 661.

    Why: by that recommendation a model's top speed lies between its prototype's and so many % above,
    by scale (NEM 661, 2011: H0 30 %, N 50 %, 0 10 %).
    Fix: Set Top speed to a speed within the band.
    """
    for group, roster, timed, part in _parts(scope):
        goal = timed.goal
        if goal is None or goal.prototype is None or group.plan is None:
            continue
        unit = KM_PER_MILE if roster.layout.speed_unit == "mph" else 1.0
        band = top_speed_band(goal.prototype * unit, roster.layout.scale)
        top = max(each.top for each in part.predictions)
        if band and not band[0] * 0.995 <= top <= band[1] * 1.005:
            name = roster.layout.speed_unit
            low, high = band[0] / unit, band[1] / unit
            message = (
                f"its top speed will be {top / unit:.0f} {name}; the band is {low:.0f} to {high:.0f} {name}"
            )
            yield from _at_goal(timed, "top", message, "Set Top speed within the band, if it can be reached.")


@check(Severity.WARNING)
def siding_too_short(scope: Scope) -> Iterator[Hit]:
    """An engine rolls further from its top speed than its shortest siding is long.

    Why: it cannot stop in it. CV4 times 0.896 seconds lead from the top step to rest (NMRA S-9.2.2, CV4), and
    how far that is follows from the speeds to be expected at each step; decoders vary.
    Fix: Make Stops within or Deceleration smaller.
    """
    if not scope.speeds:
        return
    from rosterkit.planning.speed.settings import deceleration_of, rolled  # noqa: PLC0415 - needs numpy

    for _, roster, timed, part in _parts(scope):
        goal = timed.goal
        if goal is None or goal.siding is None:
            continue
        cv4 = deceleration_of(timed, part, roster.layout)
        if cv4 is None:
            continue
        distance, unit = rolled(part, cv4, roster.layout), roster.layout.length_unit
        if distance > goal.siding:
            message = (
                f"with Deceleration {cv4} its stopping distance is {distance:.0f} {unit} from the top step, "
                f"and the siding has {goal.siding:g} {unit}"
            )
            yield from _at_goal(
                timed, "siding", message, f"Set Stops within to {goal.siding:g} {unit} at most."
            )


@check(Severity.NOTE)
def steps_idle(scope: Scope) -> Iterator[Hit]:
    """Some speed steps of an engine's table are no faster than the step before.

    Why: its whole range of speeds lies between few drives, of which there are only whole ones.
    Fix: Raise Top speed, or accept the idle steps.
    """
    yield from _remarks(scope, {Doubt.TOO_COARSE})


def _remarks(scope: Scope, doubts: set[Doubt]) -> Iterator[Hit]:
    for _, roster, timed, part in _parts(scope):
        for remark in part.remarks:
            if remark.doubt in doubts:
                yield remark_hit(timed, remark, roster)


@check(Severity.WARNING)
def entry_in_the_way(scope: Scope) -> Iterator[Hit]:
    """What a speed goal comes to cannot be set, because a member's own entry stands there.

    Why: rosterkit never writes over a table or value that it did not write itself.
    Fix: Empty the cell, or rename the table, and run 'rosterkit speed' again.
    """
    if not scope.speeds:
        return
    from rosterkit.planning.speed.settings import settings_of  # noqa: PLC0415 - needs numpy

    for _, roster, timed, part in _parts(scope):
        settings = settings_of(timed, part, roster)
        if settings.table and not settings.table.free and settings.table.standing:
            message = f"'{timed.label}': this table is your own, or you changed it, and it is left alone"
            row = settings.table.standing
            hit = hit_at(row, "label", message, "Rename it, and run 'rosterkit speed' again.")
            yield replace(hit, loco=timed.label)
        for kept in settings.kept:
            column = kept.column or "loco"
            what = f"CV{kept.cv}" if kept.column is None else timed.engine.heading(kept.column)
            where: Locomotive | SpeedGoal = timed.engine
            if kept.column is None and timed.goal is not None:
                where = timed.goal
            message = f"{what} is {kept.standing} by your own entry; its speed goal comes to {kept.value}"
            hit = hit_at(where, column, message, "Empty it, and run 'rosterkit speed' again.")
            yield replace(hit, loco=timed.label)


@check(Severity.NOTE)
def goal_not_applied(scope: Scope) -> Iterator[Hit]:
    """A speed goal comes to other values than those that stand in the workbook.

    Why: runs or goals were changed, or 'rosterkit speed' did not run yet.
    Fix: Run 'rosterkit speed'.
    """
    if not scope.speeds:
        return
    from rosterkit.planning.speed.settings import settings_of  # noqa: PLC0415 - needs numpy

    for _, roster, timed, part in _parts(scope):
        if not settings_of(timed, part, roster).done:
            message = "this goal's values are not written yet, or are out of date"
            yield from _at_goal(timed, "loco", message, "Run 'rosterkit speed'.")


def _parts(scope: Scope) -> Iterator[Planned]:
    for roster, speeds in scope.speeds:
        for group in speeds.groups:
            yield from ((group, roster, timed, part) for timed, part in group.parts)
