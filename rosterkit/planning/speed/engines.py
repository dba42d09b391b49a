"""One engine's runs, made into its curves each way and all that is unsure about them."""

from collections.abc import Sequence
from dataclasses import dataclass

from rosterkit.planning.speed.advice import remarks_on, short_runs
from rosterkit.planning.speed.curve import Curve, curve_of
from rosterkit.planning.speed.measurements import Points, points_of
from rosterkit.planning.speed.remarks import Doubt, Remark
from rosterkit.planning.speed.timed_run import TimedRun, Way


@dataclass(frozen=True, slots=True, kw_only=True)
class Measured:
    """What an engine's runs show."""

    points: tuple[Points, ...]
    """For each way that was timed."""
    curves: tuple[Curve, ...]
    """For each way with points enough, forward first."""
    remarks: tuple[Remark, ...]


def measured(timed_runs: Sequence[TimedRun], *, wanted: float = 0.02) -> Measured:
    """Make curves of an engine's runs; the share wanted, 0.02 for 2 %, is what timing is judged by."""
    ways = {each.way for each in timed_runs}
    points = tuple(points_of(timed_runs, way) for way in Way if way in ways)
    found = (curve_of(each) for each in points)
    curves = tuple(curve for curve in found if curve is not None)
    remarks = [remark for each in points for remark in (*each.remarks, *remarks_on(each))]
    short = short_runs(timed_runs, wanted)
    if short:
        remarks.append(short)
    if len(ways) == 1:
        remarks.append(_one_way(*ways))
    return Measured(points=points, curves=curves, remarks=tuple(remarks))


def _one_way(way: Way) -> Remark:
    other = Way.REVERSE if way is Way.FORWARD else Way.FORWARD
    return Remark(
        doubt=Doubt.ONE_WAY,
        message=f"it was timed {way.adverb} only, so nothing is known of how it runs "
        f"{other.adverb}, and it gets no trims",
        fix=f"Time three runs {other.adverb} at each of three drive levels at least.",
    )
