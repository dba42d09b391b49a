"""Scales, and the speed of a model as the prototype's."""

from collections.abc import Mapping
from dataclasses import dataclass
from types import MappingProxyType

MM_PER_INCH = 25.4
MM_PER_FOOT = 304.8
KM_PER_MILE = 1.609344
INCHES_PER_SECOND_PER_MPH = 17.6
"""63,360 inches to the mile over 3,600 seconds to the hour (arithmetic)."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Scale:
    """A scale: the prototype is ``ratio`` times as long as the model.

    The source is the standard or other basis.
    """

    name: str
    ratio: float
    source: str


def _scales(*scales: Scale) -> Mapping[str, Scale]:
    return MappingProxyType({scale.name: scale for scale in scales})


SCALES = _scales(
    Scale(name="Z", ratio=220.0, source="NEM 010 (2011)"),
    Scale(name="N", ratio=160.0, source="NEM 010 (2011)"),
    Scale(name="N (UK)", ratio=304.8 / 2.0625, source="2 1/16 mm to the foot, secondary source"),
    Scale(name="TT", ratio=120.0, source="NEM 010 (2011)"),
    Scale(name="3 mm", ratio=304.8 / 3, source="3 mm to the foot, from memory"),
    Scale(name="HO", ratio=304.8 / 3.5, source="3.5 mm to the foot (NMRA, secondary source)"),
    Scale(name="H0", ratio=87.0, source="NEM 010 (2011)"),
    Scale(name="OO", ratio=304.8 / 4, source="4 mm to the foot, from memory"),
    Scale(name="S", ratio=64.0, source="NEM 010 (2011); 3/16 inch to the foot"),
    Scale(name="O", ratio=48.0, source="1/4 inch to the foot (NMRA, from memory)"),
    Scale(name="0", ratio=45.0, source="NEM 010 (2011)"),
    Scale(name="O (UK)", ratio=304.8 / 7, source="7 mm to the foot, from memory"),
    Scale(name="1", ratio=32.0, source="NEM 010 (2011), there called I"),
)
"""Scales by names that cannot be mistaken: HO (letter) is 87.1 and H0 (zero) 87; O (letter) is 48 and 0
(zero) 45."""

TRACK_GAUGES: Mapping[str, float] = MappingProxyType(
    {
        "Z": 6.5,
        "N": 9.0,
        "N (UK)": 9.0,
        "TT": 12.0,
        "3 mm": 12.0,
        "HO": 16.5,
        "H0": 16.5,
        "OO": 16.5,
        "S": 22.5,
        "O": 32.0,
        "0": 32.0,
        "O (UK)": 32.0,
        "1": 45.0,
    }
)
"""Millimetres between the rails of standard gauge, by scale (from memory of NEM 010 (2011) and of common
practice): engines of scales with the same gauge can stand on the same rails."""

NEM_010_RATIOS: Mapping[str, float] = MappingProxyType(
    {
        "Z": 220.0,
        "N": 160.0,
        "TT": 120.0,
        "H0": 87.0,
        "S": 64.0,
        "0": 45.0,
        "I": 32.0,
        "II": 22.5,
        "III": 16.0,
        "V": 11.0,
        "VII": 8.0,
        "X": 5.5,
    }
)
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


def _positive(value: float, what: str) -> float:
    # Written so that NaN fails too.
    if not 0 < value < float("inf"):
        raise ValueError(f"{what} {value} must be more than 0 and finite")
    return value


def _not_negative(value: float, what: str) -> float:
    if not 0 <= value < float("inf"):
        raise ValueError(f"{what} {value} must be 0 or more and finite")
    return value
