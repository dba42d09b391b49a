"""Whether measured points are enough for a curve, and what to measure next where they are not."""

from collections.abc import Iterator, Sequence
from itertools import pairwise
from math import hypot

from rosterkit.planning.speed.curve import FEWEST_POINTS
from rosterkit.planning.speed.measurements import Point, Points
from rosterkit.planning.speed.remarks import Doubt, Remark, remark_on
from rosterkit.planning.speed.timed_run import TimedRun
from rosterkit.planning.speed.timing import seconds_needed, timing_error
from rosterkit.standards.speed_curve import FULL_DRIVE

_USEFUL_POINTS = 5
_WIDEST_GAP = 64
"""Drives between two points, a quarter of the range."""
_STEEPEST_GAP = 0.35
"""Share of the fastest speed by which two neighbouring points may differ."""
_LEVEL = 0.02
"""A stretch whose speed rises by less than this share of the fastest is dead."""
_DEAD_LENGTH = 32
_SURE = 2.0
"""So many standard errors are taken as a real difference."""
_LOOSE_TIMING = 0.05


def remarks_on(points: Points) -> Iterator[Remark]:
    """Say what is unreliable or unknown about points measured one way, and what to measure next."""
    moving = points.moving
    if len(moving) < FEWEST_POINTS:
        yield _too_few(points)
        return
    if len(moving) < _USEFUL_POINTS:
        yield _thin(points)
    else:
        yield from _gaps(points)
    yield from _falls(points)
    yield from _dead_ranges(points)
    yield from _start(points)


def _too_few(points: Points) -> Remark:
    drives = " and ".join(str(point.drive) for point in points.moving)
    seen = f"at drive level {drives} only" if drives else "at no drive level"
    fix = (
        f"Time three runs {points.way.adverb} at each of five drive levels from the start to {FULL_DRIVE}, "
        "such as 30, 60, 120, 180 and 255."
    )
    return remark_on(points.way, Doubt.TOO_FEW, f"it was timed running {seen}: too few for a curve", fix)


def _thin(points: Points) -> Remark:
    widest = max(pairwise(points.moving), key=lambda pair: pair[1].kmh - pair[0].kmh)
    message = f"it was timed at {len(points.moving)} drive levels only"
    return remark_on(points.way, Doubt.TOO_FEW, message, _between(points, *widest))


def _gaps(points: Points) -> Iterator[Remark]:
    fastest = max(point.kmh for point in points.moving)
    for low, high in pairwise(points.moving):
        wide = high.drive - low.drive > _WIDEST_GAP
        if high.drive - low.drive > 1 and (wide or high.kmh - low.kmh > _STEEPEST_GAP * fastest):
            message = (
                f"nothing was timed between drive level {low.drive} and {high.drive}, "
                f"where the speed rises by {100 * (high.kmh - low.kmh) / fastest:.0f} % of the fastest"
            )
            fix = _between(points, low, high)
            yield remark_on(points.way, Doubt.GAP, message, fix, low.rows + high.rows)


def _between(points: Points, low: Point, high: Point) -> str:
    return f"Time three more runs {points.way.adverb} between drive level {low.drive} and {high.drive}."


def _falls(points: Points) -> Iterator[Remark]:
    for low, high in pairwise(points.moving):
        fall = low.kmh - high.kmh
        if fall > _SURE * hypot(low.error, high.error):
            message = (
                f"it is {100 * fall / low.kmh:.0f} % slower at drive level "
                f"{high.drive} than at {low.drive}; the curve is held level there"
            )
            levels = f"drive level {low.drive} and {high.drive}"
            fix = f"Time three runs {points.way.adverb} at each of {levels} again."
            yield remark_on(points.way, Doubt.FALLS, message, fix, low.rows + high.rows)


def _dead_ranges(points: Points) -> Iterator[Remark]:
    """Remark on each longest stretch in which the speed hardly changes though the drive does."""
    moving = points.moving
    level = _LEVEL * max(point.kmh for point in moving)
    first = 0
    while first < len(moving) - 1:
        last = first
        while last + 1 < len(moving) and abs(moving[last + 1].kmh - moving[first].kmh) <= level:
            last += 1
        low, high = moving[first], moving[last]
        if high.drive - low.drive >= _DEAD_LENGTH:
            message = f"the speed hardly changes between drive level {low.drive} and {high.drive}"
            fix = _between(points, low, high)
            yield remark_on(points.way, Doubt.DEAD_RANGE, message, fix, low.rows + high.rows)
        first = max(last, first + 1)


def _start(points: Points) -> Iterator[Remark]:
    first, fastest = points.moving[0], max(point.kmh for point in points.moving)
    # The first of 28 even steps is 3.6 % of the top speed.
    if first.kmh > fastest / 14 and first.drive - (points.still or 0) > 3:
        below = (
            "it was timed at no lower drive level" if points.still is None else f"it stands at {points.still}"
        )
        message = (
            f"it starts somewhere below drive level {first.drive}, "
            f"where it already runs {100 * first.kmh / fastest:.0f} % of its fastest; {below}"
        )
        fix = (
            f"Time three runs {points.way.adverb} between drive level {points.still or 0} and {first.drive}, "
            "and write 0 as the distance where it stands still."
        )
        yield remark_on(points.way, Doubt.START_UNKNOWN, message, fix, first.rows)


def short_runs(timed_runs: Sequence[TimedRun], wanted: float = 0.02) -> Remark | None:
    """Say how much hand timing leaves open in the shortest run, where that is over 5 %.

    The share wanted decides how many seconds are asked for, as 0.02 for 2 % asks for 10 s.
    """
    loose = [each for each in timed_runs if each.timing > _LOOSE_TIMING]
    if not loose:
        return None
    worst = max(loose, key=lambda each: each.timing)
    seconds = timing_error(1.0) / worst.timing
    return Remark(
        doubt=Doubt.BRIEF,
        message=f"{len(loose)} runs are short: the shortest took {seconds:.1f} s, "
        f"and timing by hand leaves {100 * worst.timing:.0f} % of its speed open",
        fix=f"Run {seconds_needed(wanted):.0f} s or more for {100 * wanted:.0f} %, "
        f"{seconds_needed(0.01):.0f} s for 1 %: a longer distance or several laps.",
        rows=tuple(each.row for each in loose),
    )
