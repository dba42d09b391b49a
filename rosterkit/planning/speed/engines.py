"""One engine's passes, made into its curves each way and all that is doubtful about them."""

from collections.abc import Sequence
from dataclasses import dataclass

from rosterkit.planning.speed.advice import remarks_on, short_passes
from rosterkit.planning.speed.curve import Curve, curve_of
from rosterkit.planning.speed.measurements import Points, points_of
from rosterkit.planning.speed.passes import Pass, Way
from rosterkit.planning.speed.remarks import Doubt, Remark


@dataclass(frozen=True, slots=True, kw_only=True)
class Measured:
    """What an engine's passes show."""

    points: tuple[Points, ...]
    """For each way that was timed."""
    curves: tuple[Curve, ...]
    """For each way with points enough, forward first."""
    remarks: tuple[Remark, ...]


def measured(passes: Sequence[Pass], *, wanted: float = 0.02) -> Measured:
    """Make curves of an engine's passes; the share wanted, 0.02 for 2 %, is what timing is judged by."""
    ways = {each.way for each in passes}
    points = tuple(points_of(passes, way) for way in Way if way in ways)
    found = (curve_of(each) for each in points)
    curves = tuple(curve for curve in found if curve is not None)
    remarks = [remark for each in points for remark in (*each.remarks, *remarks_on(each))]
    short = short_passes(passes, wanted)
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
        fix=f"Time three runs {other.adverb} at each of three drives at least.",
    )
