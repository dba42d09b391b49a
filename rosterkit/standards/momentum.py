"""Momentum in CV3 and CV4, its adjustments in CV23 and CV24, and the stopping distance that follows."""

from math import floor, isnan

from rosterkit.standards.bounds import BYTE, within
from rosterkit.standards.scales import model_metres_per_second

SECONDS_PER_UNIT = 0.896
"""From stop to top, or top to stop, for each unit of CV3 or CV4 (NMRA S-9.2.2, Jul 2012, CV3 and CV4)."""


def momentum_seconds(cv3_or_4: int) -> float:
    """Return the seconds from stop to top (CV3) or top to stop (CV4) for 0 to 255; ValueError outside.

    NMRA S-9.2.2 (Jul 2012), CV3 and CV4, derived; RCN-225 (27.07.2025) lets decoders use another formula.
    """
    return within(cv3_or_4, BYTE, "momentum") * SECONDS_PER_UNIT


def momentum_value_for_seconds(seconds: float) -> int:
    """Return the CV3 or CV4 nearest to so many seconds from stop to top, no less than 0 and no more than 255.

    NMRA S-9.2.2 (Jul 2012), CV3, derived. ValueError where the seconds are no number.
    """
    if isnan(seconds):
        raise ValueError(f"seconds {seconds} must be a number")
    units = min(max(seconds / SECONDS_PER_UNIT, 0.0), 255.0)
    return floor(units + 0.5)


def adjustment_of(cv23_or_24: int) -> int:
    """Return what CV23 or CV24, 0 to 255, adds: bits 0 to 6, negative where bit 7 is 1 (133 is -5, 128 is 0).

    NMRA S-9.2.2 (Jul 2012), CV23 and CV24. ValueError outside.
    """
    within(cv23_or_24, BYTE, "momentum adjustment CV")
    return 128 - cv23_or_24 if cv23_or_24 & 128 else cv23_or_24


def adjusted_momentum(base: int, adjustment_cv: int) -> int:
    """Return the momentum in force for CV3 with CV23, or CV4 with CV24, both 0 to 255.

    NMRA S-9.2.2 (Jul 2012), CV23: below none it is none, above the maximum it is the maximum, read here as
    255. ValueError outside.
    """
    within(base, BYTE, "momentum")
    return min(max(base + adjustment_of(adjustment_cv), 0), 255)


def stopping_distance(cv4: int, scale_kmh: float, ratio: float, *, top_kmh: float | None = None) -> float:
    """Return metres of track in which an engine stops, for CV4, 0 to 255, a scale speed in km/h and ratio.

    Arithmetic on NMRA S-9.2.2 (Jul 2012), CV4, for even braking: CV4 times 0.896 seconds from ``top_kmh``
    (the speed itself unless given) to rest. The decoder's own curve can differ. ValueError for speeds or
    ratios that cannot be, and where the speed is over the top speed.
    """
    top = scale_kmh if top_kmh is None else top_kmh
    if not scale_kmh <= top:
        raise ValueError(f"speed {scale_kmh} is outside 0 to the top speed {top}")
    speed = model_metres_per_second(scale_kmh, ratio)
    if speed == 0:
        return 0.0
    return speed * (scale_kmh / top) * momentum_seconds(cv4) / 2


def cv4_for_stopping_distance(metres: float, scale_kmh: float, ratio: float) -> int:
    """Return highest CV4, 0 to 255, with which an engine at its top scale km/h stops within so many metres.

    Arithmetic on NMRA S-9.2.2 (Jul 2012), CV4, for even braking, as ``stopping_distance``. ValueError for
    negative metres and for speeds or ratios that cannot be.
    """
    if not metres >= 0:
        raise ValueError(f"metres {metres} must be 0 or more")
    per_unit = stopping_distance(1, scale_kmh, ratio)
    if per_unit == 0:
        return 255
    # A hair more, so that a distance computed from a value gives that value again.
    return floor(min(metres / per_unit, 255.0) + 1e-9)
