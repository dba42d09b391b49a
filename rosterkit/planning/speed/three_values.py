"""The curve of three values, CV2, CV6 and CV5, that comes nearest to wanted speeds."""

from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from rosterkit.planning.speed.curve import Curve, Prediction, prediction
from rosterkit.planning.speed.monotone import Floats
from rosterkit.planning.speed.tables import cost_of
from rosterkit.standards.speed_curve import FULL_DRIVE, TABLE_STEPS

Places = NDArray[np.int64]
"""Whole drives to try."""

_MIDDLE = 14
_LOWER = (np.arange(1, _MIDDLE + 1) - 1) / (_MIDDLE - 1)
"""How far steps 1 to 14 are on the way from CV2 to CV6."""
_UPPER = (np.arange(_MIDDLE + 1, len(TABLE_STEPS) + 1) - _MIDDLE) / (len(TABLE_STEPS) - _MIDDLE)
"""How far steps 15 to 28 are on the way from CV6 to CV5."""
_ALONG = np.concatenate((_LOWER, _UPPER))
_COARSE = 8
_LEAST_USED = 2
"""0 and 1 in CV5 and CV6 mean that they are not used (NMRA S-9.2.2 (Jul 2012), CV5 and CV6)."""


@dataclass(frozen=True, slots=True, kw_only=True)
class ThreeValues:
    """Start, middle and top of the curve."""

    cv2: int
    cv6: int
    cv5: int
    predictions: tuple[Prediction, ...]


def three_values(curves: tuple[Curve, ...], wanted: Floats) -> ThreeValues:
    """Return CV2, CV6 and CV5 that come nearest to the wanted speeds in km/h.

    All ways that were timed count alike: without a table there are no trims. Straight lines between the
    three, over 28 steps, are common practice; the standards give no rule. CV2 starts the engine every way,
    CV2 is below CV6 and CV6 below CV5, and none is above the highest drive that was measured.
    """
    least = max(curve.start for curve in curves)
    most = min(curve.full for curve in curves)
    low, high = min(least, FULL_DRIVE - 2), max(most, least + 2)
    places = np.unique(np.append(np.arange(low, high + 1, _COARSE), high))
    rough = _best(curves, wanted, (places, places, places))
    start, middle, top = (_around(value, low, high) for value in rough)
    cv2, cv6, cv5 = _best(curves, wanted, (start, middle, top))
    drives = np.array([*(cv2 + (cv6 - cv2) * _LOWER), *(cv6 + (cv5 - cv6) * _UPPER)])
    return ThreeValues(
        cv2=cv2,
        cv6=cv6,
        cv5=cv5,
        predictions=tuple(prediction(curve, drives, wanted) for curve in curves),
    )


def _around(value: int, low: int, high: int) -> Places:
    return np.arange(max(value - _COARSE, low), min(value + _COARSE, high) + 1)


def _best(
    curves: tuple[Curve, ...], wanted: Floats, places: tuple[Places, Places, Places]
) -> tuple[int, int, int]:
    """Try all combinations: the lower half depends on CV2 and CV6 only, the upper on CV6 and CV5."""
    starts, middles, tops = places
    lower = _costs(curves, wanted, slice(_MIDDLE), (starts, middles))
    upper = _costs(curves, wanted, slice(_MIDDLE, None), (middles, tops))
    sums = lower[:, :, None] + upper[None, :, :]
    falls = (starts[:, None] >= middles)[:, :, None] | (middles[:, None] >= tops)[None, :, :]
    sums[falls | (middles < _LEAST_USED)[None, :, None]] = np.inf
    n, middle, top = np.unravel_index(int(sums.argmin()), sums.shape)
    return int(starts[n]), int(middles[middle]), int(tops[top])


def _costs(curves: tuple[Curve, ...], wanted: Floats, steps: slice, ends: tuple[Places, Places]) -> Floats:
    """Return what each pair of values at the ends of some steps costs."""
    low, high = ends[0][:, None, None], ends[1][None, :, None]
    drives = low + (high - low) * _ALONG[steps]
    top = float(wanted[-1])
    costs = [cost_of(curve.speed(drives), wanted[steps], top).sum(axis=2) for curve in curves]
    total: Floats = np.sum(costs, axis=0)
    return total
