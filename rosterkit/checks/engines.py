"""Checks of the engine itself: its number, its card, open faults, braking, and its length on the track."""

from collections.abc import Iterator

from rosterkit.cards.preflight import room_of
from rosterkit.checks.clashes import are_locked_apart, cell_seen_from, clashes, grouped
from rosterkit.checks.framework import Scope, ScopedEngine, check, check_each, engines, named
from rosterkit.findings import Hit, Severity
from rosterkit.roster.model import Layout
from rosterkit.roster.rows import hit_at
from rosterkit.roster.schema import folded
from rosterkit.standards.momentum import cv4_for_stopping_distance, stopping_distance
from rosterkit.standards.scales import MM_PER_INCH, SCALES, mph_to_kmh

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


@check_each(engines, Severity.WARNING)
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
    """An engine rolls further than the layout allows after the throttle is closed.

    Why: it cannot stop short of a signal or another train. Each unit of CV4 is 0.896 seconds from top
    to stop (NMRA S-9.2.2, CV4); even braking is assumed, and decoders vary.
    Fix: Make Deceleration smaller.
    """
    layout, deceleration = entry.layout, entry.engine.deceleration
    if deceleration is None or layout.longest_stopping_distance is None:
        return
    kmh, words = _line_speed(layout)
    ratio, unit = SCALES[layout.scale].ratio, layout.length_unit
    metres_per_unit = (MM_PER_INCH if unit == "in" else 1) / 1000
    distance = stopping_distance(deceleration, kmh, ratio) / metres_per_unit
    if distance > layout.longest_stopping_distance:
        most = cv4_for_stopping_distance(layout.longest_stopping_distance * metres_per_unit, kmh, ratio)
        message = (
            f"with Deceleration {deceleration} its stopping distance is {distance:.0f} {unit} "
            f"from {words}, and the layout allows {layout.longest_stopping_distance:g} {unit}"
        )
        yield hit_at(entry.engine, "deceleration", message, f"Set Deceleration to {most} at most.")


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
