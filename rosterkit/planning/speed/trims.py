"""Trims CV66 and CV95: one table for both ways, though the engine runs unlike forward and reverse."""

from collections.abc import Mapping
from dataclasses import dataclass

import numpy as np

from rosterkit.planning.speed.curve import Curve, Prediction, prediction
from rosterkit.planning.speed.monotone import Floats
from rosterkit.planning.speed.tables import NO_TRIM, TableValues, cost_of, table_for
from rosterkit.planning.speed.timed_run import Way

_TRIMS = np.arange(1, NO_TRIM + 1, dtype=np.float64)


@dataclass(frozen=True, slots=True, kw_only=True)
class Trimmed:
    """A table, and the trims that go with it."""

    table: TableValues
    forward: int | None
    """CV66; None where only one way was timed."""
    reverse: int | None
    """CV95."""
    predictions: tuple[Prediction, ...]


def trimmed_table(curves: tuple[Curve, ...], wanted: Floats) -> Trimmed:
    """Return the table and trims that come nearest to wanted speeds in km/h, one way or both.

    The way that needs the lower drives is slowed down by its trim, in 128ths (NMRA S-9.2.2 (Jul 2012), CV66
    and CV95), and the other one is left as it is, so that neither meets the end of the range.
    """
    slow = max(curves, key=lambda each: float(each.drive(wanted).sum()))
    fast = [curve for curve in curves if curve is not slow]
    trims = {curve.way: NO_TRIM for curve in curves}
    trims |= {curve.way: _best_trim(curve, slow.drive(wanted), wanted) for curve in fast}
    table = _table(curves, trims, wanted)
    entries = np.array(table, dtype=np.float64)
    again = trims | {curve.way: _best_trim(curve, entries, wanted) for curve in fast}
    if again != trims:
        trims, table = again, _table(curves, again, wanted)
        entries = np.array(table, dtype=np.float64)
    both = len(curves) > 1
    return Trimmed(
        table=table,
        forward=trims[Way.FORWARD] if both else None,
        reverse=trims[Way.REVERSE] if both else None,
        predictions=tuple(
            prediction(curve, entries * trims[curve.way] / NO_TRIM, wanted) for curve in curves
        ),
    )


def _table(curves: tuple[Curve, ...], trims: Mapping[Way, int], wanted: Floats) -> TableValues:
    return table_for([(curve, trims[curve.way]) for curve in curves], wanted)


def _best_trim(curve: Curve, entries: Floats, wanted: Floats) -> int:
    """Return the trim, 1 to 128, that brings a way nearest to the wanted speeds with the entries of a table.

    None that keeps the way from starting at the highest entry.
    """
    costs = cost_of(curve.speed(np.outer(_TRIMS / NO_TRIM, entries)), wanted, float(wanted[-1])).sum(axis=1)
    starting = _TRIMS * entries.max() >= curve.start * NO_TRIM
    return int(_TRIMS[int(np.where(starting, costs, np.inf).argmin())]) if starting.any() else NO_TRIM
