"""Turns a number outside its range into an error that names the number and the range."""

from collections.abc import Collection

BYTE = range(256)
"""What one CV holds."""

CV_NUMBERS = range(1, 1025)
"""The configuration variables that an instruction can reach (NMRA S-9.2.3, Jul 2012: a 10-bit address)."""


def within(value: int, allowed: range, what: str) -> int:
    """Return the value back; ValueError outside, such as "CV17 191 is outside 192 to 231" (arithmetic)."""
    if value not in allowed:
        raise ValueError(f"{what} {value} is outside {allowed[0]} to {allowed[-1]}")
    return value


def one_of(value: int, allowed: Collection[int], what: str) -> int:
    """Return the value back; ValueError for others, such as "steps 27, not one of 14, 28" (arithmetic)."""
    if value not in allowed:
        raise ValueError(f"{what} {value}, not one of {', '.join(map(str, allowed))}")
    return value
