"""The addresses that people would guess from the number on an engine, the best guess first."""

import re
from collections.abc import Iterator
from dataclasses import dataclass

from rosterkit.standards.addresses import LONG_ADDRESSES

RULES = {"last four digits": 4, "last three digits": 3, "last two digits": 2}
"""The address rules of a layout, and how many digits each keeps."""

ITSELF, BY_RULE, LAST_FOUR, DROPPED, THOUSAND, SHORTENED, NOT_KEPT = range(7)
"""How much of an engine's number an address keeps: the grades, the best first."""


@dataclass(frozen=True, slots=True)
class Choice:
    """A number that an address could be, by how it comes from the number on the engine."""

    number: int
    grade: int
    because: str


def digits_of(number: str | None) -> str | None:
    """Give the digits of the last word of a number that has any: '47022' of 'Class 47 No. 47022A'.

    None where that word's digits do not stand together, as in '4E2', and where there are none.
    """
    words = [runs for word in (number or "").split() if (runs := re.findall(r"[0-9]+", word))]
    return words[-1][0] if words and len(words[-1]) == 1 else None


def choices_of(number: str | None, rule: str = "none") -> list[Choice]:
    """Give the numbers from 1 to 10239 that keep something of an engine's number, the best first.

    The number itself; what the layout's address rule makes of it; its last four digits; one digit dropped;
    thousands added to its last three digits; its last three and last two digits (common practice, no
    source; the order is ours).
    """
    digits = digits_of(number)
    if digits is None:
        return []
    best: dict[int, Choice] = {}
    for choice in _guesses(digits, rule):
        if choice.number in LONG_ADDRESSES:
            best.setdefault(choice.number, choice)
    return list(best.values())


def _guesses(digits: str, rule: str) -> Iterator[Choice]:
    yield Choice(_whole(digits), ITSELF, f"the number {digits} itself")
    if rule in RULES:
        yield Choice(_whole(digits[-RULES[rule] :]), BY_RULE, f"the {rule} of {digits}")
    if len(digits) > 4:
        yield Choice(_whole(digits[-4:]), LAST_FOUR, f"the last four digits of {digits}")
    if len(digits) > 2:
        for place, digit in enumerate(digits):
            rest = digits[:place] + digits[place + 1 :]
            if len(rest) <= 4:
                yield Choice(_whole(rest), DROPPED, f"{digits} with a {digit} dropped")
    last = _whole(digits[-3:])
    for thousands in range(1, 10):
        number = last + 1000 * thousands
        yield Choice(number, THOUSAND, f"{number}: thousands put before the {last} of {digits}")
    for kept, words in ((3, "three"), (2, "two")):
        if len(digits) > kept:
            yield Choice(_whole(digits[-kept:]), SHORTENED, f"the last {words} digits of {digits}")


def _whole(digits: str) -> int:
    """Give the number that digits stand for; 0, which is no address, for none and for more than six."""
    return int(digits or "0") if len(digits) <= 6 else 0


def reference_of(number: str | None, address: int | None) -> int:
    """Give the number that a nearest address is measured from, 0 where nothing is known.

    The engine's number where it can be an address, else its last four digits, else its present address.
    """
    digits = digits_of(number)
    if digits and _whole(digits) in LONG_ADDRESSES:
        return _whole(digits)
    if digits:
        return _whole(digits[-4:])
    return address or 0
