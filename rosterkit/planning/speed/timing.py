"""What timing by hand is worth, and slips that show in a ratio: km/h taken for mph, a lap too many."""

from rosterkit.standards.scales import KM_PER_MILE

HAND_SECONDS = 0.2
"""A stopwatch in the hand is good to plus or minus this much (common practice, no source)."""

TOLERANCE = 0.02
"""A ratio within 2 % of a slip's is taken for that slip (common practice, no source)."""

_SLIPS = (
    (KM_PER_MILE, "km/h taken for mph"),
    (2.0, "a lap or a length counted double"),
    (2.54, "inches taken for centimetres"),
)


def timing_error(seconds: float) -> float:
    """Return the share of a speed, 0.01 for 1 %, that hand timing of a run leaves open either way.

    Arithmetic: 0.2 s of the run. ValueError unless the seconds are more than 0.
    """
    if not seconds > 0:
        raise ValueError(f"seconds {seconds} must be more than 0")
    return HAND_SECONDS / seconds


def seconds_needed(error: float) -> float:
    """Return the seconds that a run must take for an error, 0.01 for 1 %: 20 s for 1 %, 10 s for 2 %.

    Arithmetic. ValueError unless the error is more than 0.
    """
    if not error > 0:
        raise ValueError(f"error {error} must be more than 0")
    return HAND_SECONDS / error


def is_unit_slip(one: float, other: float) -> bool:
    """Tell whether two speeds are in the ratio of km/h to mph, 1.609, within 2 % (common practice)."""
    return slip_of(one, other) == _SLIPS[0][1]


def slip_of(one: float, other: float) -> str | None:
    """Name the slip that the ratio of two speeds looks like, whichever is the greater; None for no slip."""
    if not (one > 0 and other > 0):
        return None
    ratio = max(one / other, other / one)
    return next((words for slip, words in _SLIPS if abs(ratio / slip - 1) <= TOLERANCE), None)
