"""Momentum from wanted seconds or stopping distance, and the stopping distance with a momentum."""

from math import floor

import numpy as np

from rosterkit.planning.speed.monotone import Floats
from rosterkit.standards.bounds import BYTE, within
from rosterkit.standards.momentum import momentum_seconds
from rosterkit.standards.scales import model_metres_per_second


def stopping_metres(cv4: int, kmh: Floats, ratio: float, *, from_kmh: float | None = None) -> float:
    """Return the stopping distance in metres of track from a speed, with CV4 of 0 to 255.

    ``kmh`` are its speeds at steps 1 to 28. CV4 times 0.896 seconds lead from the top step to rest (NMRA
    S-9.2.2 (Jul 2012), CV4), the same time for each step, so the speeds between count and not the top one
    alone. From the top step unless another speed is given. ValueError for a CV4 outside, and where the speed
    is above that of the top step.
    """
    seconds = momentum_seconds(cv4)
    steps = np.arange(len(kmh) + 1, dtype=np.float64)
    speeds = np.maximum.accumulate(np.concatenate(([0.0], kmh)))
    top = float(speeds[-1]) if from_kmh is None else from_kmh
    if not 0 <= top <= speeds[-1]:
        raise ValueError(f"speed {top:g} is outside 0 to the top speed {speeds[-1]:g}")
    # Where several steps run alike, the highest of them.
    begin = float(np.interp(top, speeds, steps))
    at = np.append(steps[steps < begin], begin)
    passing = np.interp(at, steps, speeds)
    passed = float(((passing[1:] + passing[:-1]) / 2 * np.diff(at)).sum())
    return model_metres_per_second(passed, ratio) * seconds / len(kmh)


def cv4_for_metres(metres: float, kmh: Floats, ratio: float, *, from_kmh: float | None = None) -> int:
    """Return the highest CV4, 0 to 255, with which an engine stops within so many metres of track.

    As ``stopping_metres``, of which it is the inverse. ValueError for negative metres.
    """
    if not metres >= 0:
        raise ValueError(f"metres {metres} must be 0 or more")
    each = stopping_metres(1, kmh, ratio, from_kmh=from_kmh)
    if each <= 0:
        return BYTE[-1]
    return within(min(floor(metres / each + 1e-9), BYTE[-1]), BYTE, "CV4")
