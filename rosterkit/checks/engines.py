"""Checks of the engine itself: its number, its card, open faults, braking, and its length on the track."""

from collections.abc import Iterator

from rosterkit.cards.preflight import room_of
from rosterkit.checks.framework import Check, Scope, ScopedEngine, named, others
from rosterkit.cv.addresses import layout_key
from rosterkit.findings import Hit, Severity
from rosterkit.roster.model import Layout
from rosterkit.roster.rows import hit_at
from rosterkit.roster.schema import folded
from rosterkit.standards.momentum import cv4_for_stopping_distance, stopping_distance
from rosterkit.standards.scales import MM_PER_INCH, SCALES, mph_to_kmh

_USUAL_LAYOUT_KMH = 100
"""The speed for stopping distances where Layout names none."""


def number_repeated(scope: Scope) -> Iterator[Hit]:
    """Two engines have the same railway and number.

    Why: dispatcher and drivers call an engine by these, whatever its address (asked for by published
    standards of modular clubs).
    Fix: Renumber one of them, or remove the row that is entered twice.
    """
    by_number: dict[tuple[str, str, str], list[ScopedEngine]] = {}
    rails = {id(roster): layout_key(roster.layout) for roster in scope.rosters}
    for entry in scope.entries:
        engine = entry.engine
        if engine.railway and engine.number:
            at = rails[id(entry.roster)]
            by_number.setdefault((at, folded(engine.railway), folded(engine.number)), []).append(entry)
    for same in by_number.values():
        if len(same) > 1 and not _decoders_of_one(same):
            places = [entry.engine.place("number") for entry in same]
            for n, entry in enumerate(same):
                other = same[n - 1] if n else same[1]
                where = places[n - 1] if n else places[1]
                foreign = "" if where.workbook == places[n].workbook else f"{where.workbook} "
                engine = entry.engine
                message = (
                    f"{engine.railway} {engine.number} is also {named(other.engine)} ({foreign}{where.cell})"
                )
                fix = "Renumber one of them, or remove the row that is entered twice."
                yield hit_at(engine, "number", message, fix, related=others(places, n))


def _decoders_of_one(same: list[ScopedEngine]) -> bool:
    workbooks = {entry.engine.table.workbook for entry in same}
    locks = {entry.engine.lock for entry in same}
    return len(workbooks) == 1 and None not in locks and len(locks) == len(same)


def card_incomplete(scope: Scope) -> Iterator[Hit]:
    """An engine that comes to a meet lacks an entry that its card needs, or its owner checked it.

    Why: somebody other than the owner looks at each engine before a meet, and people must know whom
    to ask (a club setting; published check-in procedures ask for it).
    Fix: Fill in owner, checker and date.
    """
    for entry in scope.entries:
        engine = entry.engine
        if engine.at_meet != "yes":
            continue
        for column in ("owner", "checked_by", "checked_on"):
            if getattr(engine, column) is None and column not in engine.unusable:
                heading = engine.heading(column)
                message = f"{named(engine)} comes to the meet, and {heading} is blank"
                yield hit_at(engine, column, message, f"Fill in {heading}.")
        if entry.layout.second_person_check == "no":
            continue
        if engine.checked_by and engine.owner and folded(engine.checked_by) == folded(engine.owner):
            message = f"{engine.owner} checked an engine of their own"
            yield hit_at(engine, "checked_by", message, "Have somebody other than the owner check it.")


def tag_open(scope: Scope) -> Iterator[Hit]:
    """An engine has an open fault.

    Why: it should not run at a meet before the fault is mended.
    Fix: Mend the fault and empty Fault, or leave the engine at home.
    """
    for entry in scope.entries:
        if entry.engine.fault:
            yield hit_at(
                entry.engine,
                "fault",
                f"open fault: {entry.engine.fault}",
                "Mend it and empty the cell.",
                severity=None if _may_not_come(entry) else Severity.NOTE,
            )


def _may_not_come(entry: ScopedEngine) -> bool:
    return entry.engine.at_meet == "yes" and entry.layout.open_faults == "stay at home"


def braking_too_long(scope: Scope) -> Iterator[Hit]:
    """An engine rolls further than the layout allows after the throttle is closed.

    Why: it cannot stop short of a signal or another train. Each unit of CV4 is 0.896 seconds from top
    to stop (NMRA S-9.2.2, CV4); even braking is assumed, and decoders vary.
    Fix: Make Deceleration smaller.
    """
    for entry in scope.entries:
        layout, deceleration = entry.layout, entry.engine.deceleration
        if deceleration is None or layout.longest_stopping_distance is None:
            continue
        kmh, ratio = _layout_kmh(layout), SCALES[layout.scale].ratio
        metres_per_unit = (MM_PER_INCH if layout.length_unit == "in" else 1) / 1000
        distance = stopping_distance(deceleration, kmh, ratio) / metres_per_unit
        if distance > layout.longest_stopping_distance:
            most = cv4_for_stopping_distance(layout.longest_stopping_distance * metres_per_unit, kmh, ratio)
            unit = layout.length_unit
            message = (
                f"with Deceleration {deceleration} its stopping distance is {distance:.0f} {unit} "
                f"from {_line_speed(layout)}, "
                f"and the layout allows {layout.longest_stopping_distance:g} {unit}"
            )
            yield hit_at(entry.engine, "deceleration", message, f"Set Deceleration to {most} at most.")


def _line_speed(layout: Layout) -> str:
    if layout.line_speed is None:
        return f"{_USUAL_LAYOUT_KMH} km/h"
    return f"{layout.line_speed:g} {layout.speed_unit}"


def _layout_kmh(layout: Layout) -> float:
    if layout.line_speed is None:
        return _USUAL_LAYOUT_KMH
    return mph_to_kmh(layout.line_speed) if layout.speed_unit == "mph" else layout.line_speed


def engine_too_long(scope: Scope) -> Iterator[Hit]:
    """An engine does not fit on to the programming track.

    Why: all its wheels must be past both gaps; a wheel that bridges a gap lets everything on the layout be
    reprogrammed with it (NMRA S-9.2.3, section B: programming on an isolated section).
    Fix: Use a longer isolated section.
    """
    for entry in scope.entries:
        layout, length, room = entry.layout, entry.engine.length, room_of(entry.layout)
        if length is not None and room is not None and length > room:
            unit = layout.length_unit
            message = (
                f"{length:g} {unit} long; the programming track has room for {max(room, 0):g} {unit} "
                f"({layout.track_length:g} less {layout.clearance:g} at each end)"
            )
            yield hit_at(entry.engine, "length", message, "Use a longer isolated section for this engine.")


CHECKS = (
    Check(slug="number-repeated", severity=Severity.WARNING, hits=number_repeated, across=True),
    Check(slug="card-incomplete", severity=Severity.WARNING, hits=card_incomplete),
    Check(slug="tag-open", severity=Severity.WARNING, hits=tag_open),
    Check(slug="braking-too-long", severity=Severity.WARNING, hits=braking_too_long),
    Check(slug="engine-too-long", severity=Severity.ERROR, hits=engine_too_long),
)
