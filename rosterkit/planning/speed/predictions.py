"""What speeds are to be expected at the 28 steps, and how sure that is."""

from dataclasses import dataclass

from rosterkit.planning.speed.curve import Curve
from rosterkit.planning.speed.monotone import Floats

_TWICE = 2.0
"""Two standard errors either way hold about nineteen times out of twenty (normal spread)."""


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
