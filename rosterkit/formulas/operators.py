"""Operators on two values, as LibreOffice and Gnumeric agree on them."""

import math
import re
from collections.abc import Callable, Mapping

from rosterkit.formulas.values import (
    DIVISION_BY_ZERO,
    UNSURE,
    Content,
    Fault,
    FormulaError,
    loosely,
    number,
    text,
)

Operation = Callable[[Content, Content], Content]

_LIMIT = 1e300
# Of texts in these signs every program sorts digits before letters, and blanks before both.
_SORTED_ALIKE = re.compile(r"[a-z0-9 ]*\Z")


def _finite(result: float) -> float:
    if -_LIMIT < result < _LIMIT:
        return result
    raise Fault(UNSURE)


def _sum(left: float, right: float) -> float:
    """Add; unsure where the digits cancel out to nearly nothing, which one program rounds to 0."""
    result = left + right
    if result and abs(result) < abs(left) * 1e-9 and not (_is_whole(left) and _is_whole(right)):
        raise Fault(UNSURE)
    return _finite(result)


def _is_whole(value: float) -> bool:
    return value == math.floor(value)


def plus(left: Content, right: Content) -> Content:
    """Return the sum."""
    return _sum(number(left), number(right))


def minus(left: Content, right: Content) -> Content:
    """Return the difference."""
    return _sum(number(left), -number(right))


def times(left: Content, right: Content) -> Content:
    """Return the product."""
    return _finite(number(left) * number(right))


def divided(left: Content, right: Content) -> Content:
    """Return the quotient; #DIV/0! if there is none."""
    above, below = number(left), number(right)
    return _finite(above / below) if below else DIVISION_BY_ZERO


def power(left: Content, right: Content) -> Content:
    """Return a power; unsure for 0 to the power of 0 and roots of negative numbers."""
    base, exponent = float(number(left)), number(right)
    if base == 0 and exponent < 0:
        return DIVISION_BY_ZERO
    if base == 0 == exponent or (base < 0 and not _is_whole(exponent)):
        raise Fault(UNSURE)
    try:
        result: float = base**exponent
    except OverflowError:
        raise Fault(UNSURE) from None
    return _finite(result)


def joined(left: Content, right: Content) -> Content:
    """Return the two as texts, one behind the other."""
    return text(left) + text(right)


def equal(left: Content, right: Content) -> bool:
    """Tell whether two values are equal: texts in any case, a blank to 0 and to "", a text to no number."""
    if isinstance(left, str) and isinstance(right, str):
        return left == right or _same_text(left, right)
    if isinstance(left, int | float) and isinstance(right, int | float):
        return _same_number(left, right)
    return _equal_kinds(left, right)


def _equal_kinds(left: Content, right: Content) -> bool:
    for value in (left, right):
        if isinstance(value, FormulaError):
            raise Fault(value)
    if left is None:
        return not right
    return False if right is not None else not left


def _same_number(left: float, right: float) -> bool:
    if (type(left) is bool) is not (type(right) is bool) and left == right:
        raise Fault(UNSURE)
    if left != right and left - right and abs(left - right) < abs(left) * 1e-12:
        raise Fault(UNSURE)
    return left == right


def _same_text(left: str, right: str) -> bool:
    one, other = left.lower(), right.lower()
    if one == other:
        return True
    if (one.isascii() and other.isascii()) or loosely(one) != loosely(other):
        return False
    raise Fault(UNSURE)


def less(left: Content, right: Content) -> bool:
    """Tell whether one value is in order before another: numbers, then texts; a blank is as 0 or as ""."""
    if type(left) is int and type(right) is int:
        return left < right
    if left is None:
        left = "" if isinstance(right, str) else 0
    if right is None:
        right = "" if isinstance(left, str) else 0
    for value in (left, right):
        if isinstance(value, FormulaError):
            raise Fault(value)
        if isinstance(value, bool):
            raise Fault(UNSURE)
    if isinstance(left, str):
        return isinstance(right, str) and _text_before(left, right)
    if isinstance(right, str):
        return True
    return not _same_number(left, right) and left < right  # type: ignore[operator, arg-type]


def _text_before(left: str, right: str) -> bool:
    one, other = left.lower(), right.lower()
    if one == other:
        return False
    if _SORTED_ALIKE.match(one) and _SORTED_ALIKE.match(other):
        return one < other
    raise Fault(UNSURE)


COMPARISONS = frozenset({"=", "<>", "<", ">", "<=", ">="})
"""Operators whose result is TRUE or FALSE, whatever they compare, unless it is an error."""
OPERATIONS: Mapping[str, Operation] = {
    "+": plus,
    "-": minus,
    "*": times,
    "/": divided,
    "^": power,
    "&": joined,
    "=": equal,
    "<>": lambda left, right: not equal(left, right),
    "<": less,
    ">": lambda left, right: less(right, left),
    "<=": lambda left, right: not less(right, left),
    ">=": lambda left, right: not less(left, right),
}
"""What each operator between two values does; each raises Fault with the error of a value."""
