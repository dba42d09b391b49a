"""Speed over drive, one way, through measured points; and what to expect of it at the 28 steps."""

from dataclasses import dataclass

import numpy as np

from rosterkit.planning.speed.measurements import Point, Points
from rosterkit.planning.speed.monotone import Floats, monotone_line, nearest_rising
from rosterkit.planning.speed.timed_run import Way
from rosterkit.standards.speed_curve import FULL_DRIVE

FEWEST_POINTS = 3
"""With fewer moving drives no curve is drawn."""

_TWICE = 2.0
"""Two standard errors either way hold about nineteen times out of twenty (normal spread)."""

_DRIVES = np.arange(FULL_DRIVE + 1, dtype=np.float64)


@dataclass(frozen=True, slots=True, kw_only=True, eq=False)
class Curve:
    """What speed an engine runs at a drive, one way."""

    way: Way
    points: tuple[Point, ...]
    start: int
    """The lowest drive at which the engine was seen to run."""
    full: int
    """The highest drive that was measured."""
    speeds: Floats
    """km/h at every whole drive from start to full."""
    errors: Floats
    """Standard error in km/h at the same drives."""

    @property
    def slowest(self) -> float:
        """The speed in km/h at the start."""
        return float(self.speeds[0])

    @property
    def fastest(self) -> float:
        """The speed in km/h at the highest drive that was measured."""
        return float(self.speeds[-1])

    def speed(self, drives: Floats) -> Floats:
        """Return the speed in km/h at drives, 0.0 to 255.0.

        Nothing is made up outside the measured range: below the start the engine counts as standing still,
        above the highest measured drive it counts as no faster than there.
        """
        return np.interp(drives, self._measured, self.speeds, left=0.0)

    def error(self, drives: Floats) -> Floats:
        """Return the standard error in km/h at drives; outside the measured range that of its end."""
        return np.interp(drives, self._measured, self.errors)

    def drive(self, speeds: Floats) -> Floats:
        """Return the least drive for speeds in km/h: the start for all below, the highest for all above."""
        # Where the curve is level, a hair of a rise makes the drive for a speed a single one.
        rising = self.speeds + np.arange(len(self.speeds)) * (1e-9 * max(self.fastest, 1.0))
        return np.interp(speeds, rising, self._measured)

    @property
    def _measured(self) -> Floats:
        return _DRIVES[self.start : self.full + 1]


def curve_of(points: Points) -> Curve | None:
    """Draw the rising curve through measured points; None with fewer than three.

    Points that rise are met exactly. Where they fall, the nearest rising values take their place, each
    point weighing the more the smaller its error. Between two points the error is theirs, and by as much
    greater as a smooth line and a straight one differ there.
    """
    moving = points.moving
    if len(moving) < FEWEST_POINTS:
        return None
    drives = [float(point.drive) for point in moving]
    errors = [max(point.error, 1e-9) for point in moving]
    heights = nearest_rising([point.kmh for point in moving], [1 / error**2 for error in errors])
    start, full = moving[0].drive, moving[-1].drive
    at = _DRIVES[start : full + 1]
    # Rounding of the cubic must not make it fall by a last digit.
    smooth = np.maximum.accumulate(monotone_line(drives, heights, at))
    unsure = np.hypot(np.interp(at, drives, errors), smooth - np.interp(at, drives, heights))
    return Curve(way=points.way, points=moving, start=start, full=full, speeds=smooth, errors=unsure)


@dataclass(frozen=True, slots=True, kw_only=True, eq=False)
class Prediction:
    """Expected speeds one way; all arrays have one value for each of the 28 steps."""

    curve: Curve
    drives: Floats
    """What reaches the motor, 0.0 to 255.0, after the trim."""
    kmh: Floats
    within: Floats
    """Plus or minus so many km/h, about nineteen times out of twenty."""
    off: Floats
    """Expected less wanted speed, in km/h."""

    @property
    def top(self) -> float:
        """The expected speed in km/h at the top step."""
        return float(self.kmh[-1])


def prediction(curve: Curve, drives: Floats, wanted: Floats) -> Prediction:
    """Say what speeds, in km/h, an engine will run at the drives of 28 steps, against wanted ones."""
    kmh = curve.speed(drives)
    within = _TWICE * curve.error(drives)
    return Prediction(curve=curve, drives=drives, kmh=kmh, within=within, off=kmh - wanted)
