"""The addresses that people would guess from the number on an engine, the best guess first."""

import re
from collections.abc import Iterator
from dataclasses import dataclass
from functools import lru_cache

from rosterkit.standards.addresses import LONG_ADDRESSES

RULES = {"last four digits": 4, "last three digits": 3, "last two digits": 2}
"""The address rules of a layout, and how many digits each keeps."""

_WORDS = {4: "four", 3: "three", 2: "two"}

ITSELF, BY_RULE, LAST_FOUR, DROPPED, THOUSAND, SHORTENED, NOT_KEPT = range(7)
"""How much of an engine's number an address keeps: the grades, the best first."""


@dataclass(frozen=True, slots=True)
class Choice:
    """A number that an address could be, by how it comes from the digits on the engine."""

    number: int
    grade: int
    digits: str
    rule: str
    """The address rule, for a choice by it."""

    @property
    def because(self) -> str:
        """How the number comes from the digits, in words."""
        if self.grade == ITSELF:
            return f"the number {self.digits} itself"
        if self.grade == THOUSAND:
            return f"{int(self.digits[-3:])} with {self.number - int(self.digits[-3:])} added"
        if self.grade == DROPPED:
            return f"{self.number}: {self.digits} with one digit dropped"
        if self.grade == BY_RULE:
            return f"the {self.rule} of {self.digits}"
        kept = 4 if self.grade == LAST_FOUR else 3 if self.number == _whole(self.digits[-3:]) else 2
        return f"the last {_WORDS[kept]} digits of {self.digits}"


@lru_cache(maxsize=2048)
def digits_of(number: str | None) -> str | None:
    """Return the digits of the last word of a number that has any: '47022' of 'Class 47 No. 47022A'.

    None where that word's digits do not stand together, as in '4E2', and where there are none.
    """
    words = [runs for word in (number or "").split() if (runs := re.findall(r"[0-9]+", word))]
    return words[-1][0] if words and len(words[-1]) == 1 else None


def choices_of(number: str | None, rule: str = "none") -> tuple[Choice, ...]:
    """Return the numbers from 1 to 10239 that keep something of an engine's number, the best first.

    The number itself; what the layout's address rule makes of it; its last four digits; one digit dropped;
    thousands added to its last three digits; its last three and last two digits (common practice, no
    source; the order is ours).
    """
    digits = digits_of(number)
    if digits is None or not digits.strip("0"):
        return ()
    return _choices(digits, rule)


@lru_cache(maxsize=2048)
def _choices(digits: str, rule: str) -> tuple[Choice, ...]:
    best: dict[int, int] = {}
    for number, grade in _guesses(digits, rule):
        if number in LONG_ADDRESSES:
            best.setdefault(number, grade)
    return tuple(Choice(number, grade, digits, rule) for number, grade in best.items())


def _guesses(digits: str, rule: str) -> Iterator[tuple[int, int]]:
    yield _whole(digits), ITSELF
    if rule in RULES:
        yield _whole(digits[-RULES[rule] :]), BY_RULE
    if len(digits) > 4:
        yield _whole(digits[-4:]), LAST_FOUR
    if 2 < len(digits) <= 5:
        for place in range(len(digits)):
            yield _whole(digits[:place] + digits[place + 1 :]), DROPPED
    last = _whole(digits[-3:])
    for thousands in range(1000, 10000, 1000):
        yield last + thousands, THOUSAND
    for kept in (3, 2):
        if len(digits) > kept:
            yield _whole(digits[-kept:]), SHORTENED


def _whole(digits: str) -> int:
    """Return the number that digits stand for; 0, which is no address, for none and for more than six."""
    return int(digits or "0") if len(digits) <= 6 else 0


def reference_of(number: str | None, address: int | None) -> int:
    """Return the number that a nearest address is measured from, 0 where nothing is known.

    The engine's number where it can be an address, else its last four digits, else its present address.
    """
    digits = digits_of(number)
    if digits and _whole(digits) in LONG_ADDRESSES:
        return _whole(digits)
    if digits:
        return _whole(digits[-4:])
    return address or 0
