"""Repeated runs at one drive, made into measured points, each with its spread; outliers are named."""

from collections.abc import Iterable, Iterator, Sequence
from dataclasses import dataclass
from itertools import groupby
from math import hypot, sqrt
from statistics import fmean, median, median_low

from rosterkit.planning.speed.remarks import Doubt, Remark, remark_on
from rosterkit.planning.speed.timed_run import TimedRun, Way
from rosterkit.planning.speed.timing import slip_of

ASSUMED_SPREAD = 0.03
"""The spread of runs of which none was repeated: a share of the speed (common practice, no source)."""

_LEAST_SCALE = 0.01
"""No run is called an outlier for less than a few times this share."""
_OUTLIER = 3.5
"""So many times the usual spread away from the median (Iglewicz and Hoaglin 1993, from memory)."""
_TO_SIGMA = 1.4826
"""The median deviation of normally spread values, as their standard deviation (arithmetic)."""
_TIMING_SIGMA = 0.5
"""Plus or minus 0.2 s is taken as twice the standard deviation."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Point:
    """A drive with its measured scale speed."""

    drive: int
    kmh: float
    error: float
    """Standard error of the speed in km/h."""
    rows: tuple[int, ...]
    """The runs that count."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Points:
    """What an engine's runs one way come to."""

    way: Way
    moving: tuple[Point, ...]
    """By rising drive."""
    still: int | None
    """The highest drive below the first moving one at which the engine was seen to stand still."""
    spread: float
    """Standard deviation of a single run, as a share of its speed."""
    remarks: tuple[Remark, ...]


def points_of(timed_runs: Iterable[TimedRun], way: Way) -> Points:
    """Make measured points of the runs that run one way.

    An outlier does not count in its point's speed and is remarked upon with the reason. The error of a
    point comes from the spread of all repeated runs together, and from timing by hand.
    """
    chosen = sorted((each for each in timed_runs if each.way is way), key=lambda each: each.drive)
    groups = [list(group) for _, group in groupby(chosen, key=lambda each: each.drive)]
    running = [group for group in groups if all(each.kmh > 0 for each in group)]
    scale = _usual_deviation(running)
    remarks = list(_standing(groups, running))
    kept = [_without_outliers(group, scale, remarks) for group in running]
    spread = _spread(kept)
    if kept and all(len(group) == 1 for group in kept):
        remarks.append(_unrepeated(way, kept))
    points = tuple(_point(group, spread) for group in kept)
    return Points(way=way, moving=points, still=_still(groups, points), spread=spread, remarks=tuple(remarks))


def _usual_deviation(groups: Iterable[Sequence[TimedRun]]) -> float:
    """Estimate how far a run usually lies from the median of its drive, as a share; robust to outliers."""
    deviations: list[float] = []
    for group in groups:
        if len(group) > 1:
            middle = median(each.kmh for each in group)
            own = sorted(abs(each.kmh / middle - 1) for each in group)
            # With an odd number one of them is the median itself; of a pair both lie half the gap away.
            deviations += own[1:] if len(group) % 2 else own if len(group) > 2 else [own[0] * sqrt(2)]
    return max(_TO_SIGMA * median_low(deviations) if deviations else 0.0, _LEAST_SCALE)


def _without_outliers(group: list[TimedRun], scale: float, remarks: list[Remark]) -> list[TimedRun]:
    kept = list(group)
    while len(kept) > 2:
        middle = median(each.kmh for each in kept)
        worst = max(kept, key=lambda each: abs(each.kmh - middle))
        limit = _OUTLIER * hypot(scale, _TIMING_SIGMA * worst.timing)
        if abs(worst.kmh / middle - 1) <= limit:
            return kept
        kept.remove(worst)
        remarks.append(_outlier(worst, [each.kmh for each in kept]))
    if len(kept) == 2:
        _compare_pair(kept, scale, remarks)
    return kept


def _compare_pair(pair: Sequence[TimedRun], scale: float, remarks: list[Remark]) -> None:
    low, high = sorted(pair, key=lambda each: each.kmh)
    limit = _OUTLIER * sqrt(2) * hypot(scale, _TIMING_SIGMA * high.timing)
    if high.kmh / low.kmh - 1 > limit:
        slip = slip_of(low.kmh, high.kmh)
        message = (
            f"the two runs at drive level {low.drive} differ by {100 * (high.kmh / low.kmh - 1):.0f} %"
            + (f": perhaps {slip}" if slip else "")
        )
        fix = f"Time a third run {low.way.adverb} at drive level {low.drive}."
        remarks.append(remark_on(low.way, Doubt.DISAGREE, message, fix, (low.row, high.row)))


def _outlier(odd: TimedRun, others: Sequence[float]) -> Remark:
    middle = fmean(others)
    share = 100 * (odd.kmh / middle - 1)
    slip = slip_of(odd.kmh, middle)
    message = (
        f"a run at drive level {odd.drive} is {abs(share):.0f} % {'faster' if share > 0 else 'slower'} "
        f"than the other {len(others)}, and does not count" + (f": perhaps {slip}" if slip else "")
    )
    fix = f"Check its distance and time, or time it again {odd.way.adverb} at drive level {odd.drive}."
    return remark_on(odd.way, Doubt.OUTLIER, message, fix, (odd.row,))


def _unrepeated(way: Way, groups: Sequence[Sequence[TimedRun]]) -> Remark:
    drives = ", ".join(str(group[0].drive) for group in groups[:4])
    at = f"each of {drives}" if len(groups) > 1 else f"drive level {drives}"
    message = f"no run was repeated; {100 * ASSUMED_SPREAD:.0f} % spread is assumed"
    fix = f"Time two more runs {way.adverb} at {at}{' and so on' if len(groups) > 4 else ''}."
    return remark_on(way, Doubt.UNREPEATED, message, fix)


def _spread(groups: Iterable[Sequence[TimedRun]]) -> float:
    squares, freedom = 0.0, 0
    for group in groups:
        middle = fmean(each.kmh for each in group)
        squares += sum((each.kmh / middle - 1) ** 2 for each in group)
        freedom += len(group) - 1
    return sqrt(squares / freedom) if freedom else ASSUMED_SPREAD


def _point(group: Sequence[TimedRun], spread: float) -> Point:
    kmh = fmean(each.kmh for each in group)
    single = max(spread, fmean(_TIMING_SIGMA * each.timing for each in group))
    error = kmh * single / sqrt(len(group))
    return Point(drive=group[0].drive, kmh=kmh, error=error, rows=tuple(each.row for each in group))


def _still(groups: Iterable[Sequence[TimedRun]], points: Sequence[Point]) -> int | None:
    first = points[0].drive if points else 256
    still = [group[0].drive for group in groups if any(each.kmh == 0 for each in group)]
    return max((drive for drive in still if drive < first), default=None)


def _standing(
    groups: Iterable[Sequence[TimedRun]], running: Sequence[Sequence[TimedRun]]
) -> Iterator[Remark]:
    """Remark on drives at which the engine stood still though it should have run."""
    first = running[0][0].drive if running else 256
    for group in groups:
        still = sum(each.kmh == 0 for each in group)
        way, drive = group[0].way, group[0].drive
        if still and (still < len(group) or drive > first):
            message = (
                f"it stood still in {still} of {len(group)} runs at drive level {drive}, "
                "which does not count as running"
            )
            fix = f"Clean wheels and track, and time it again {way.adverb} at drive level {drive}."
            yield remark_on(way, Doubt.STALLS, message, fix, (each.row for each in group))
