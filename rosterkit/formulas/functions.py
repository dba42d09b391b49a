"""Functions of single values: texts, numbers, conditions."""

import math
from collections.abc import Callable, Mapping
from typing import NamedTuple

from rosterkit.formulas.values import (
    DIVISION_BY_ZERO,
    UNSURE,
    VALUE,
    Content,
    Fault,
    may_be_number,
    number,
    text,
    truth,
    whole,
)

_EXACT = 2**20
"""A fraction that becomes whole by this is one that programs hold, and calculate with, exactly."""


class Function(NamedTuple):
    """A function of values that are all worked out before it, and how many it takes."""

    least: int
    most: int
    work: Callable[..., Content]


def _int(value: Content) -> Content:
    exact = number(value)
    result = math.floor(exact)
    # Programs round up what is nearly the next whole number, each by another rule.
    if exact != result and result + 1 - exact < 1e-9 * max(1.0, abs(exact)):
        raise Fault(UNSURE)
    return result


def _mod(value: Content, divisor: Content) -> Content:
    dividend, by = number(value), number(divisor)
    if not by:
        return DIVISION_BY_ZERO
    # Programs round what is left of other fractions, each in its way.
    if abs(dividend) > 1e12 or dividend * _EXACT % 1 or by * _EXACT % 1:
        raise Fault(UNSURE)
    return dividend % by


def _abs(value: Content) -> Content:
    return abs(number(value))


def _given(value: Content) -> int:
    """Return a count or a position that may be left out; Fault UNSURE for a blank cell, as if left out."""
    if value is None:
        raise Fault(UNSURE)
    return whole(value)


def _left(value: Content, count: Content = 1) -> Content:
    signs, many = text(value), _given(count)
    return signs[:many] if many >= 0 else VALUE


def _right(value: Content, count: Content = 1) -> Content:
    signs, many = text(value), _given(count)
    return VALUE if many < 0 else signs[-many:] if many else ""


def _mid(value: Content, start: Content, count: Content) -> Content:
    signs, first, many = text(value), whole(start), whole(count)
    return signs[first - 1 : first - 1 + many] if first >= 1 and many >= 0 else VALUE


def _len(value: Content) -> Content:
    return len(text(value))


def _find(wanted: Content, within: Content, start: Content = 1) -> Content:
    part, signs, first = text(wanted), text(within), _given(start)
    if not part and 0 < first <= len(signs):
        raise Fault(UNSURE)
    return (signs.find(part, first - 1) + 1 or VALUE) if 0 < first <= len(signs) else VALUE


def _lower(value: Content) -> Content:
    signs = text(value)
    small = signs.lower()
    # Some capitals become small ones by rules of a language, or in two signs.
    if not signs.isascii() and (len(small) != len(signs) or "Σ" in signs):
        raise Fault(UNSURE)
    return small


def _trim(value: Content) -> Content:
    signs = text(value)
    if not signs.isprintable() and any(sign.isspace() and sign != " " for sign in signs):
        raise Fault(UNSURE)
    return " ".join(signs.split())


def _substitute(value: Content, old: Content, new: Content, *which: Content) -> Content:
    signs, before, after = text(value), text(old), text(new)
    if not which:
        return signs.replace(before, after) if before else signs
    instance = _given(which[0])
    if instance < 1:
        raise Fault(UNSURE)
    parts = signs.split(before) if before else [signs]
    if instance >= len(parts):
        return signs
    return before.join(parts[:instance]) + after + before.join(parts[instance:])


def _value(value: Content) -> Content:
    if value is None or isinstance(value, bool):
        raise Fault(UNSURE)
    return number(value)


def _n(value: Content) -> Content:
    if value is None or (isinstance(value, str) and may_be_number(value)):
        raise Fault(UNSURE)
    return 0 if isinstance(value, str) else number(value) + 0


def _not(value: Content) -> Content:
    if isinstance(value, str):
        number(value)
        raise Fault(UNSURE)
    return not truth(value)


FUNCTIONS: Mapping[str, Function] = {
    "INT": Function(1, 1, _int),
    "MOD": Function(2, 2, _mod),
    "ABS": Function(1, 1, _abs),
    "LEFT": Function(1, 2, _left),
    "RIGHT": Function(1, 2, _right),
    "MID": Function(3, 3, _mid),
    "LEN": Function(1, 1, _len),
    "FIND": Function(2, 3, _find),
    "LOWER": Function(1, 1, _lower),
    "TRIM": Function(1, 1, _trim),
    "SUBSTITUTE": Function(3, 4, _substitute),
    "VALUE": Function(1, 1, _value),
    "N": Function(1, 1, _n),
    "NOT": Function(1, 1, _not),
}
"""Functions that work on values alone; each may raise Fault with an error."""
