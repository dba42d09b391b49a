"""Scales, and the speed of a model as the prototype's."""

from collections.abc import Mapping
from dataclasses import dataclass

MM_PER_INCH = 25.4
MM_PER_FOOT = 304.8
KM_PER_MILE = 1.609344


@dataclass(frozen=True, slots=True)
class Scale:
    """A scale: the prototype is ``ratio`` times as long as the model."""

    name: str
    ratio: float
    source: str
    """The standard or other basis of the ratio."""
    gauge: float
    """Millimetres between the rails of standard gauge, from memory of NEM 010 (2011) and common practice."""
    above_prototype: float | None
    """By how much of the prototype's top speed a model's may exceed it; None where nothing is said.

    NEM 661 (2011) names Z, N, TT, H0, S, 0 and I; the scales beside each of these are taken as it, derived.
    """


SCALES: Mapping[str, Scale] = {
    scale.name: scale
    for scale in (
        Scale("Z", 220.0, "NEM 010 (2011)", 6.5, 0.6),
        Scale("N", 160.0, "NEM 010 (2011)", 9.0, 0.5),
        Scale("N (UK)", 304.8 / 2.0625, "2 1/16 mm to the foot, secondary source", 9.0, 0.5),
        Scale("TT", 120.0, "NEM 010 (2011)", 12.0, 0.4),
        Scale("3 mm", 304.8 / 3, "3 mm to the foot, from memory", 12.0, None),
        Scale("HO", 304.8 / 3.5, "3.5 mm to the foot (NMRA, secondary source)", 16.5, 0.3),
        Scale("H0", 87.0, "NEM 010 (2011)", 16.5, 0.3),
        Scale("OO", 304.8 / 4, "4 mm to the foot, from memory", 16.5, None),
        Scale("S", 64.0, "NEM 010 (2011); 3/16 inch to the foot", 22.5, 0.2),
        Scale("O", 48.0, "1/4 inch to the foot (NMRA, from memory)", 32.0, 0.1),
        Scale("0", 45.0, "NEM 010 (2011)", 32.0, 0.1),
        Scale("O (UK)", 304.8 / 7, "7 mm to the foot, from memory", 32.0, 0.1),
        Scale("1", 32.0, "NEM 010 (2011), there called I", 45.0, 0.0),
    )
}
"""Scales by names that cannot be mistaken: HO (letter) is 87.1 and H0 (zero) 87; O (letter) is 48 and 0
(zero) 45. Engines of scales with the same gauge can stand on the same rails."""

NEM_010_RATIOS = {name: SCALES[name].ratio for name in ("Z", "N", "TT", "H0", "S", "0")}
NEM_010_RATIOS |= {"I": 32.0, "II": 22.5, "III": 16.0, "V": 11.0, "VII": 8.0, "X": 5.5}
"""Nominal sizes as NEM 010 (2011), table 1, names them."""


def scale_kmh(metres: float, seconds: float, ratio: float) -> float:
    """Return the prototype's km/h of a model that ran so many metres in so many seconds (arithmetic).

    ValueError unless seconds and ratio are positive and metres not negative.
    """
    return _not_negative(metres, "metres") * _positive(ratio, "ratio") * 3.6 / _positive(seconds, "seconds")


def model_metres_per_second(kmh: float, ratio: float) -> float:
    """Return the model's own metres a second at a scale speed in km/h (arithmetic).

    ValueError unless the ratio is positive and the speed not negative.
    """
    return _not_negative(kmh, "km/h") / 3.6 / _positive(ratio, "ratio")


def mph_to_kmh(mph: float) -> float:
    """Return miles an hour as km/h (arithmetic: 1.609344 km to the mile)."""
    return mph * KM_PER_MILE


def top_speed_band(prototype_kmh: float, scale: str) -> tuple[float, float] | None:
    """Return the least and greatest top speed in scale km/h of a model, by its prototype's and its scale.

    NEM 661 (2011), a recommendation, at the top step, without a train, on straight level track. None for a
    scale that it does not speak of. ValueError unless the speed is more than 0.
    """
    _positive(prototype_kmh, "prototype speed")
    share = SCALES[scale].above_prototype if scale in SCALES else None
    return None if share is None else (prototype_kmh, prototype_kmh * (1 + share))


def _positive(value: float, what: str) -> float:
    # Written so that NaN fails too.
    if not 0 < value < float("inf"):
        raise ValueError(f"{what} {value} must be more than 0 and finite")
    return value


def _not_negative(value: float, what: str) -> float:
    if not 0 <= value < float("inf"):
        raise ValueError(f"{what} {value} must be 0 or more and finite")
    return value
