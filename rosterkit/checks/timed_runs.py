"""Checks of timed runs: rows that say too little, runs that stand out, and what to time next."""

from collections.abc import Iterator
from dataclasses import replace
from typing import TYPE_CHECKING

from rosterkit.checks.framework import Scope, check
from rosterkit.findings import Hit, Severity
from rosterkit.planning.speed.remarks import Doubt, Remark
from rosterkit.roster.model import Roster
from rosterkit.roster.rows import Row, hit_at
from rosterkit.roster.schema import folded

if TYPE_CHECKING:
    from rosterkit.planning.speed.from_roster import TimedEngine


@check(Severity.WARNING)
def run_unusable(scope: Scope) -> Iterator[Hit]:
    """A timed run lacks its time, or both its drive level and its step.

    Why: no speed can be had from it, so it does not count.
    Fix: Enter what is missing.
    """
    for _, speeds in scope.speeds:
        yield from speeds.unusable


@check(Severity.WARNING)
def run_stands_out(scope: Scope) -> Iterator[Hit]:
    """A timed run does not agree with the others at the same drive level.

    Why: it was timed or written down wrongly, or the engine stumbled; counting it would spoil the curve
    (more than 3.5 times the usual spread from the median: Iglewicz and Hoaglin 1993, from memory).
    Fix: Look at its distance, time and unit, or time it again.
    """
    yield from _hits(scope, {Doubt.OUTLIER, Doubt.DISAGREE, Doubt.STALLS})


@check(Severity.WARNING, also=(Severity.NOTE,))
def runs_too_few(scope: Scope) -> Iterator[Hit]:
    """An engine was timed at too few drive levels, too far apart, only once at each, or one way only.

    Why: between and beyond what was timed nothing is known of its speed; nothing is made up.
    Fix: Time what the finding asks for.
    """
    yield from _hits(scope, {Doubt.TOO_FEW})
    notes = {Doubt.GAP, Doubt.UNREPEATED, Doubt.ONE_WAY, Doubt.START_UNKNOWN}
    yield from _hits(scope, notes, Severity.NOTE)


@check(Severity.NOTE)
def runs_too_short(scope: Scope) -> Iterator[Hit]:
    """Runs took so little time that a stopwatch in the hand leaves more than 5 % of the speed open.

    Why: a match to 1 % needs runs of 20 seconds, one to 2 % runs of 10 seconds, with a hand that is good
    to 0.2 seconds (arithmetic; the hand: common practice, no source).
    Fix: Time a longer distance, or several laps.
    """
    yield from _hits(scope, {Doubt.BRIEF})


@check(Severity.WARNING)
def speed_falls(scope: Scope) -> Iterator[Hit]:
    """An engine is slower at a higher drive level, or no faster over a wide range of them.

    Why: no table can make it rise evenly there; the curve is held level.
    Fix: Time it again there; look at wheels, track and motor if it stays so.
    """
    yield from _hits(scope, {Doubt.FALLS, Doubt.DEAD_RANGE})


def _hits(scope: Scope, doubts: set[Doubt], severity: Severity | None = None) -> Iterator[Hit]:
    for roster, speeds in scope.speeds:
        for timed in speeds.engines:
            for remark in timed.measured.remarks:
                if remark.doubt in doubts and (timed.timed_runs or timed.goal is None):
                    yield remark_hit(timed, remark, roster, severity)


def remark_hit(timed: "TimedEngine", remark: Remark, roster: Roster, severity: Severity | None = None) -> Hit:
    """Make a hit of a remark: at its first run, at the engine's goal, or at the engine's first run."""
    rows = [roster.speed_runs[index] for index in remark.rows]
    own = (run for run in roster.speed_runs if folded(run.loco or "") == folded(timed.label))
    row = rows[0] if rows else timed.goal or next(own)
    hit = engine_hit(timed, row, "time" if rows else "loco", remark.message, remark.fix)
    return replace(hit, related=tuple(each.place("time") for each in rows[1:21]), severity=severity)


def engine_hit(timed: "TimedEngine", row: Row, column: str, message: str, fix: str) -> Hit:
    """Make a hit at a row of any sheet that names the timed engine, which the message names once."""
    said = message if message.startswith(f"'{timed.label}' ") else f"'{timed.label}': {message}"
    return replace(hit_at(row, column, said, fix), loco=timed.label)
