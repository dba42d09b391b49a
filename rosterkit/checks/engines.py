"""Checks of the engine itself: its number, its card, open faults, braking, and its length on the track."""

from collections.abc import Iterator
from typing import TYPE_CHECKING

from rosterkit.cards.preflight import room_of
from rosterkit.checks.clashes import are_locked_apart, cell_seen_from, clashes, grouped
from rosterkit.checks.framework import Scope, ScopedEngine, check, check_each, engines, named
from rosterkit.cv.momentum import adjustment_value, momentum_in_force
from rosterkit.findings import Hit, Severity
from rosterkit.roster.model import Layout
from rosterkit.roster.rows import hit_at
from rosterkit.roster.schema import folded
from rosterkit.standards.momentum import adjustment_of, cv4_for_stopping_distance, stopping_distance
from rosterkit.standards.scales import KM_PER_MILE, MM_PER_INCH, SCALES, mph_to_kmh

if TYPE_CHECKING:
    from rosterkit.planning.speed.stopping_speeds import StepSpeeds

_USUAL_LAYOUT_KMH = 100
"""The speed for stopping distances where Layout names none."""


@check(Severity.WARNING, across=True)
def number_repeated(scope: Scope) -> Iterator[Hit]:
    """Two engines have the same railway and number.

    Why: dispatcher and drivers call an engine by these, whatever its address (asked for by published
    standards of modular clubs).
    Fix: Renumber one of them, or remove the row that is entered twice.
    """
    by_number = grouped(scope.entries, _rails_and_number)
    apart = (same for same in by_number.values() if not are_locked_apart(same))
    for entry, other, where in clashes(apart, lambda one: one.engine.place("number")):
        engine = entry.engine
        cell = cell_seen_from(engine.table.workbook, other.engine.place("number"))
        message = f"{engine.railway} {engine.number} is also {named(other.engine)} ({cell})"
        fix = "Renumber one of them, or remove the row that is entered twice."
        yield hit_at(engine, "number", message, fix, related=where)


def _rails_and_number(entry: ScopedEngine) -> tuple[str, str, str] | None:
    railway, number = entry.engine.railway, entry.engine.number
    return (entry.rails, folded(railway), folded(number)) if railway and number else None


@check_each(engines, Severity.WARNING)
def card_incomplete(entry: ScopedEngine) -> Iterator[Hit]:
    """An engine that comes to a meet lacks an entry that its card needs, or its owner checked it.

    Why: somebody other than the owner looks at each engine before a meet, and people must know whom
    to ask (a club setting; published check-in procedures ask for it).
    Fix: Fill in owner, checker and date.
    """
    engine = entry.engine
    if engine.at_meet != "yes":
        return
    for column in ("owner", "checked_by", "checked_on"):
        if getattr(engine, column) is None and column not in engine.unusable:
            heading = engine.heading(column)
            message = f"{named(engine)} comes to the meet, and {heading} is blank"
            yield hit_at(engine, column, message, f"Fill in {heading}.")
    checker, owner = folded(engine.checked_by or ""), folded(engine.owner or "")
    if checker and checker == owner and entry.layout.second_person_check != "no":
        message = f"{engine.owner} checked an engine of their own"
        yield hit_at(engine, "checked_by", message, "Have somebody other than the owner check it.")


@check_each(engines, Severity.WARNING, also=(Severity.NOTE,))
def tag_open(entry: ScopedEngine) -> Iterator[Hit]:
    """An engine has an open fault.

    Why: it should not run at a meet before the fault is mended.
    Fix: Mend the fault and empty Fault, or leave the engine at home.
    """
    if entry.engine.fault:
        may_not_come = entry.engine.at_meet == "yes" and entry.layout.open_faults == "stay at home"
        severity = None if may_not_come else Severity.NOTE
        message = f"open fault: {entry.engine.fault}"
        yield hit_at(entry.engine, "fault", message, "Mend it and empty the cell.", severity=severity)


@check_each(engines, Severity.WARNING)
def braking_too_long(entry: ScopedEngine) -> Iterator[Hit]:
    """An engine's stopping distance is longer than the layout allows.

    Why: it cannot stop short of a signal or another train. CV4, with what CV24 adds, times 0.896 seconds lead
    from the top step to rest (NMRA S-9.2.2 (Jul 2012), CV4 and CV24), and from a lower speed in its share of
    them. The top speed is that of the engine's goal and timed runs; where neither says one, the line speed is
    taken for it, with which the distance is longest. Even braking is assumed, and decoders vary.
    Fix: Make Deceleration smaller.
    """
    engine, layout, limit = entry.engine, entry.layout, entry.layout.longest_stopping_distance
    in_force = momentum_in_force(entry.roster, engine, 4)
    if in_force is None or limit is None:
        return
    kmh, words = _line_speed(layout)
    ratio, unit = SCALES[layout.scale].ratio, layout.length_unit
    metres_per_unit = (MM_PER_INCH if unit == "in" else 1) / 1000
    # Not even at the line speed all the way does it come so far: its top speed need not be known.
    if 2 * stopping_distance(in_force, kmh, ratio) <= limit * metres_per_unit:
        return
    speeds = _step_speeds(entry)
    if speeds is None:
        distance = stopping_distance(in_force, kmh, ratio)
        most = cv4_for_stopping_distance(limit * metres_per_unit, kmh, ratio)
        words += " if that is its top speed"
    else:
        distance = speeds.stopping_metres(in_force, kmh, ratio)
        most = speeds.cv4_within(limit * metres_per_unit, kmh, ratio)
        words = _from_words(speeds, kmh, words, layout)
    if distance > limit * metres_per_unit:
        added = adjustment_value(entry.roster, engine.loco, 4)
        with_cv24 = f" and CV24 {added}" if added else ""
        message = (
            f"with Deceleration {engine.deceleration}{with_cv24} its stopping distance is "
            f"{distance / metres_per_unit:.0f} {unit} from {words}, and the layout allows {limit:g} {unit}"
        )
        yield hit_at(engine, "deceleration", message, _shorter(most, added))


def _shorter(most: int, cv24: int) -> str:
    """Say what stops an engine in time: a Deceleration that comes to so much at most with its CV24."""
    deceleration = most - adjustment_of(cv24)
    if deceleration < 0:
        return f"Set Deceleration to {most} at most, and CV24 in Extra values to 0."
    return f"Set Deceleration to {min(deceleration, 255)} at most."


def _step_speeds(entry: ScopedEngine) -> "StepSpeeds | None":
    if not (entry.roster.speed_runs or entry.roster.speed_goals):
        return None
    # Curve fitting needs numpy, which takes longer to load than most rosters to check.
    from rosterkit.planning.speed.stopping_speeds import step_speeds  # noqa: PLC0415

    return step_speeds(entry.engine, entry.roster)


def _from_words(speeds: "StepSpeeds", kmh: float, line_speed: str, layout: Layout) -> str:
    unit = KM_PER_MILE if layout.speed_unit == "mph" else 1.0
    top = f"{speeds.top / unit:.0f} {layout.speed_unit}"
    if speeds.top <= kmh:
        return f"{top}, its top speed by {speeds.known_by}"
    return f"{line_speed} (by {speeds.known_by} its top speed is {top})"


def _line_speed(layout: Layout) -> tuple[float, str]:
    """Return the layout's line speed in km/h, and in words in its own unit."""
    speed, unit = layout.line_speed, layout.speed_unit
    if speed is None:
        return _USUAL_LAYOUT_KMH, f"{_USUAL_LAYOUT_KMH} km/h"
    return mph_to_kmh(speed) if unit == "mph" else speed, f"{speed:g} {unit}"


@check_each(engines, Severity.ERROR)
def engine_too_long(entry: ScopedEngine) -> Iterator[Hit]:
    """An engine does not fit on to the programming track.

    Why: all its wheels must be past both gaps; a wheel that bridges a gap lets everything on the layout be
    reprogrammed with it (NMRA S-9.2.3, section B: programming on an isolated section).
    Fix: Use a longer isolated section.
    """
    layout, length, room = entry.layout, entry.engine.length, room_of(entry.layout)
    if length is not None and room is not None and length > room:
        unit = layout.length_unit
        message = (
            f"{length:g} {unit} long; the programming track has room for {max(room, 0):g} {unit} "
            f"({layout.track_length:g} less {layout.clearance:g} at each end)"
        )
        yield hit_at(entry.engine, "length", message, "Use a longer isolated section for this engine.")
