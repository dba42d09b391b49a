"""The 28-entry speed table that comes nearest to wanted speeds, CV67 to CV94."""

from collections.abc import Sequence
from itertools import pairwise

import numpy as np

from rosterkit.planning.speed.curve import Curve
from rosterkit.planning.speed.monotone import Floats
from rosterkit.standards.speed_curve import FULL_DRIVE

TableValues = tuple[int, ...]
"""28 entries of 0 to 255."""

NO_TRIM = 128
"""The trim that leaves the drive as it is: 128/128 (NMRA S-9.2.2 (Jul 2012), CV66 and CV95)."""

_ENTRIES = np.arange(FULL_DRIVE + 1, dtype=np.float64)
_POWER = 4
_REPEATED = 0.015
"""A step that does nothing counts as much as being off by this share of the top speed."""


def table_for(trimmed: Sequence[tuple[Curve, int]], wanted: Floats) -> TableValues:
    """Return the table, CV67 to CV94, that comes nearest to wanted km/h.

    For one curve, or for both ways together, each with its trim in 128ths. Whole bytes that never fall. The
    first starts the engine every way; none takes the drive beyond what was measured. They rise from entry to
    entry, so that no step of the throttle does nothing, unless repeating one brings the speeds much nearer.
    """
    first = max(int(np.ceil(curve.start * NO_TRIM / trim)) for curve, trim in trimmed)
    last = max(min(int(curve.full * NO_TRIM / trim) for curve, trim in trimmed), first)
    entries = _ENTRIES[min(first, FULL_DRIVE) : last + 1]
    costs = sum(
        cost_of(curve.speed(entries * trim / NO_TRIM)[None, :], wanted[:, None], float(wanted[-1]))
        for curve, trim in trimmed
    )
    penalty = len(trimmed) * _REPEATED**_POWER
    return tuple(int(entries[n]) for n in _cheapest_rise(np.asarray(costs), penalty))


def cost_of(kmh: Floats, wanted: Floats, top: float) -> Floats:
    """Return what each speed costs: the fourth power of its share of the top speed that it is off.

    So the worst step counts far more than many small differences.
    """
    squared = ((kmh - wanted) / top) ** 2
    return squared * squared  # many times as fast as a power of 4


def _cheapest_rise(costs: Floats, repeated: float) -> list[int]:
    """Return the column chosen in each row so that columns rise, or repeat at a price, at the least cost."""
    rows, columns = costs.shape
    places = np.arange(columns)
    total = costs[0]
    came_from = np.zeros((rows, columns), dtype=np.int64)
    for row in range(1, rows):
        least = np.minimum.accumulate(total)
        # Where the least so far was last improved upon, column by column, ready to be shifted by one.
        best = np.maximum.accumulate(np.where(total <= least, places, 0))
        below = np.concatenate(([np.inf], least[:-1]))
        stays = total + repeated <= below
        came_from[row] = np.where(stays, places, np.concatenate(([0], best[:-1])))
        total = costs[row] + np.where(stays, total + repeated, below)
    chosen = [int(total.argmin())]
    for row in range(rows - 1, 0, -1):
        chosen.append(int(came_from[row, chosen[-1]]))
    return chosen[::-1]


def repeated_steps(table: TableValues) -> int:
    """Count the steps of a table that are no faster than the step before."""
    return sum(low >= high for low, high in pairwise(table))
