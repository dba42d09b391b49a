"""The band in which a model's top speed belongs, by scale."""

from collections.abc import Mapping
from types import MappingProxyType

ABOVE_PROTOTYPE: Mapping[str, float] = MappingProxyType(
    {
        "Z": 0.6,
        "N": 0.5,
        "N (UK)": 0.5,
        "TT": 0.4,
        "H0": 0.3,
        "HO": 0.3,
        "S": 0.2,
        "0": 0.1,
        "O": 0.1,
        "O (UK)": 0.1,
        "1": 0.0,
    }
)
"""By how much of the prototype's top speed a model's may exceed it (NEM 661, 2011, which names Z, N, TT, H0,
S, 0 and I; the scales beside each of these are taken as it, derived)."""


def top_speed_band(prototype_kmh: float, scale: str) -> tuple[float, float] | None:
    """Return the least and greatest top speed in scale km/h of a model, by its prototype's and its scale.

    NEM 661 (2011), a recommendation, at the top step, without a train, on straight level track. None for a
    scale that it does not speak of. ValueError unless the speed is more than 0.
    """
    if not 0 < prototype_kmh < float("inf"):
        raise ValueError(f"prototype speed {prototype_kmh} must be more than 0 and finite")
    share = ABOVE_PROTOTYPE.get(scale)
    return None if share is None else (prototype_kmh, prototype_kmh * (1 + share))
