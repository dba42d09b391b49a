"""Rising lines: the rising sequence nearest to a given one, and a smooth line that never falls in between."""

from collections.abc import Sequence

import numpy as np
from numpy.typing import NDArray

Floats = NDArray[np.float64]


def monotone_line(xs: Sequence[float], ys: Sequence[float], at: Floats) -> Floats:
    """Return the monotone cubic through the points, at places within their range.

    Piecewise cubic Hermite interpolation with the slopes of Fritsch and Butland (SIAM J. Sci. Stat. Comput.
    5, 1984): it goes through every point and has no bump between two. ValueError unless there are at least
    two points with rising places, and for places outside.
    """
    x, y = np.asarray(xs, dtype=np.float64), np.asarray(ys, dtype=np.float64)
    if len(x) < 2 or len(x) != len(y) or not (np.diff(x) > 0).all():
        raise ValueError("a line needs two points at least, with rising places")
    if len(at) and not (at.min() >= x[0] and at.max() <= x[-1]):
        raise ValueError(f"a place is outside {x[0]:g} to {x[-1]:g}")
    width = np.diff(x)
    rise = np.diff(y) / width
    slope = _slopes(width, rise)
    n = np.clip(np.searchsorted(x, at, side="right") - 1, 0, len(x) - 2)
    t = (at - x[n]) / width[n]
    # The Hermite basis: value and slope at both ends of the piece.
    low = (1 + 2 * t) * (1 - t) ** 2 * y[n] + t * (1 - t) ** 2 * width[n] * slope[n]
    high = t**2 * (3 - 2 * t) * y[n + 1] + t**2 * (t - 1) * width[n] * slope[n + 1]
    line: Floats = low + high
    return line


def _slopes(width: Floats, rise: Floats) -> Floats:
    if len(rise) == 1:
        return np.repeat(rise, 2)
    left, right = rise[:-1], rise[1:]
    same = left * right > 0
    heavy_left, heavy_right = 2 * width[1:] + width[:-1], width[1:] + 2 * width[:-1]
    safe_left, safe_right = np.where(same, left, 1.0), np.where(same, right, 1.0)
    mean = (heavy_left + heavy_right) / (heavy_left / safe_left + heavy_right / safe_right)
    first = _end_slope(width[0], width[1], rise[0], rise[1])
    last = _end_slope(width[-1], width[-2], rise[-1], rise[-2])
    return np.concatenate(([first], np.where(same, mean, 0.0), [last]))


def _end_slope(width: float, next_width: float, rise: float, next_rise: float) -> float:
    """Return the slope at an end from its two pieces, held back so that the line neither turns nor bulges."""
    slope = ((2 * width + next_width) * rise - width * next_rise) / (width + next_width)
    if slope * rise <= 0:
        return 0.0
    if rise * next_rise <= 0 and abs(slope) > abs(3 * rise):
        return 3 * rise
    return slope


def nearest_rising(values: Sequence[float], weights: Sequence[float] | None = None) -> tuple[float, ...]:
    """Return the never falling sequence with the least weighted sum of squared differences from the values.

    Pooling of adjacent violators: neighbours that fall are replaced by their weighted mean. ValueError
    unless there is one weight of more than 0 for each value.
    """
    weights = [1.0] * len(values) if weights is None else weights
    if len(weights) != len(values) or not all(weight > 0 for weight in weights):
        raise ValueError("each value needs a weight of more than 0")
    blocks: list[tuple[float, float, int]] = []
    for value, weight in zip(values, weights, strict=True):
        mean, total, count = float(value), float(weight), 1
        while blocks and blocks[-1][0] > mean:
            before, heavy, many = blocks.pop()
            mean = (mean * total + before * heavy) / (total + heavy)
            total += heavy
            count += many
        blocks.append((mean, total, count))
    return tuple(mean for mean, _, count in blocks for _ in range(count))
