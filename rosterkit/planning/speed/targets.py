"""The speeds wanted at the 28 steps: a shape between the slowest and the top speed."""

from collections.abc import Mapping
from enum import StrEnum
from itertools import pairwise

import numpy as np

from rosterkit.planning.speed.monotone import Floats, monotone_line
from rosterkit.standards.speed_curve import TABLE_STEPS

_STEPS = np.array(TABLE_STEPS, dtype=np.float64)
_TOP = TABLE_STEPS[-1]


class Shape(StrEnum):
    """How the speed rises from step to step."""

    STRAIGHT = "straight"
    GENTLE = "gentle start"
    OWN = "own points"


def target(shape: Shape, top: float, slowest: float, points: Mapping[int, float] | None = None) -> Floats:
    """Return the wanted speeds in km/h at steps 1 to 28.

    Straight: the same rise at every step. Gentle start: half that rise at first, half as much again at the
    top. Neither begins below the slowest speed. Own points: km/h by step, joined by a smooth rising line.
    ValueError unless the top speed is more than the slowest, and for own points outside the steps or
    falling.
    """
    if not 0 < slowest < top:
        raise ValueError(f"top speed {top:g} is not more than the slowest {slowest:g}")
    if shape is Shape.OWN:
        return _own(points or {}, top, slowest)
    share = _STEPS / _TOP
    rise = share * (1 + share) / 2 if shape is Shape.GENTLE else share
    first = max(slowest, top * float(rise[0]))
    wanted: Floats = first + (top - first) * (rise - rise[0]) / (1 - rise[0])
    return wanted


def _own(points: Mapping[int, float], top: float, slowest: float) -> Floats:
    known = {1: min(slowest, top), _TOP: top} | dict(points)
    outside = [step for step in known if step not in TABLE_STEPS]
    if outside:
        raise ValueError(f"step {outside[0]} is outside 1 to 28")
    steps = sorted(known)
    for low, high in pairwise(steps):
        if known[high] < known[low]:
            raise ValueError(f"the speed falls from step {low} to step {high}")
    wanted = monotone_line([float(step) for step in steps], [known[step] for step in steps], _STEPS)
    return np.clip(wanted, slowest, top)
