"""What timing by hand is worth: the error it leaves, and how long or far a run must run for a wanted one."""

HAND_SECONDS = 0.2
"""A stopwatch in the hand is good to plus or minus this much (common practice, no source)."""


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
