"""Engines that run together: the speeds that all of them can reach, and what difference is left."""

from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np

from rosterkit.planning.speed.curve import Curve
from rosterkit.planning.speed.monotone import Floats
from rosterkit.planning.speed.predictions import Prediction


@dataclass(frozen=True, slots=True, kw_only=True)
class Reach:
    """What speeds engines can all run, both ways: km/h."""

    slowest: float
    """The least speed that all of them run at their start."""
    fastest: float
    """The greatest speed that all of them reach."""
    losses: tuple[float, ...]
    """The share of its own fastest that each engine gives up, in the order given."""


def common_reach(engines: Sequence[Sequence[Curve]]) -> Reach:
    """Return the widest range of speeds that every engine runs each way it was timed.

    The losses are the least that leave a common range: the slowest engine's fastest way loses nothing.
    ValueError unless every engine has a curve.
    """
    if not engines or not all(engines):
        raise ValueError("every engine needs a curve")
    tops = [min(curve.fastest for curve in curves) for curves in engines]
    return Reach(
        slowest=max(curve.slowest for curves in engines for curve in curves),
        fastest=min(tops),
        losses=tuple(1 - min(tops) / top for top in tops),
    )


def mismatch(predictions: Sequence[Prediction], top: float) -> Floats:
    """Return the difference between fastest and slowest engine at steps 1 to 28, as a share of the top speed.

    ValueError unless there is a prediction and the top speed, km/h, is more than 0.
    """
    if not predictions or not top > 0:
        raise ValueError("a mismatch needs predictions and a top speed")
    speeds = np.array([each.kmh for each in predictions])
    spread: Floats = np.ptp(speeds, axis=0) / top
    return spread
