"""Slips that show in a ratio: km/h taken for mph, a lap too many, inches for centimetres."""

from rosterkit.standards.scales import KM_PER_MILE

TOLERANCE = 0.02
"""A ratio within 2 % of a slip's is taken for that slip (common practice, no source)."""

_SLIPS = (
    (KM_PER_MILE, "km/h taken for mph"),
    (2.0, "a lap or a length counted double"),
    (2.54, "inches taken for centimetres"),
)


def is_unit_slip(one: float, other: float) -> bool:
    """Tell whether two speeds are in the ratio of km/h to mph, 1.609, within 2 % (common practice)."""
    return slip_of(one, other) == _SLIPS[0][1]


def slip_of(one: float, other: float) -> str | None:
    """Name the slip that the ratio of two speeds looks like, whichever is the greater; None for no slip."""
    if not (one > 0 and other > 0):
        return None
    ratio = max(one / other, other / one)
    return next((words for slip, words in _SLIPS if abs(ratio / slip - 1) <= TOLERANCE), None)
