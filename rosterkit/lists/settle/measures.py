"""Lengths and currents as people write them: 182,5 mm, 7 1/4, 7¼", 900 mA."""

import re
import unicodedata
from dataclasses import dataclass
from fractions import Fraction
from functools import lru_cache

from rosterkit.lists.settle.words import units
from rosterkit.roster.schema import folded

LENGTHS = {"mm": ("mm", Fraction(1)), "cm": ("mm", Fraction(10)), "in": ("in", Fraction(1))}
"""By unit, the unit of ours that it is a multiple of, and how many of it it is."""
CURRENTS = {"A": ("A", Fraction(1)), "mA": ("A", Fraction(1, 1000))}
IN_MILLIMETRES = Fraction(254, 10)
"""One inch (exact by the international yard and pound agreement of 1959)."""

_PLAIN = r"(?P<whole>[0-9]{1,9})(?:[.,](?P<part>[0-9]{1,9}))?"
_MIXED = r"(?:(?P<ones>[0-9]{1,9})(?: +| *- *|(?=[^ 0-9/])))?(?P<over>[0-9]{1,9}) */ *(?P<under>[0-9]{1,9})"
_SIZE = re.compile(rf"(?:{_MIXED}|{_PLAIN}) *(?P<unit>[^0-9]*)")
_OF_A_RULER = (2, 4, 8, 16, 32, 64)
"""The parts of an inch that people measure in; 185/190 is no fraction but two lengths."""
_IN_BRACKETS = re.compile(r"[(\[]([^)\]]*)[)\]]")
_BETWEEN = re.compile(r"[\s,;:/_-]+")


@dataclass(frozen=True, slots=True)
class Measure:
    """A number, and the unit that stands with it."""

    number: Fraction
    unit: str | None
    """mm, cm, in, A, mA; None where none is written."""


def measure(text: str) -> Measure | None:
    """Read a positive size with or without its unit; None where the text is anything else.

    A comma before three digits may be a decimal comma or part thousands: None.
    """
    found = _SIZE.fullmatch(_with_plain_fractions(text.strip()))
    if found is None:
        return None
    unit = units().get(folded(found["unit"]).rstrip(".")) if found["unit"].strip() else None
    if found["unit"].strip() and unit is None:
        return None
    if found["over"]:
        if int(found["under"]) not in _OF_A_RULER or int(found["over"]) >= int(found["under"]):
            return None
        return Measure(int(found["ones"] or 0) + Fraction(int(found["over"]), int(found["under"])), unit)
    if "," in text and len(found["part"] or "") == 3:
        return None
    return Measure(Fraction(f"{found['whole']}.{found['part'] or 0}"), unit)


def _with_plain_fractions(text: str) -> str:
    """Write 7¼ as 7 1/4."""
    plain = "".join(
        " " + unicodedata.normalize("NFKC", sign).replace("\u2044", "/")
        if unicodedata.category(sign) == "No" and "\u2044" in unicodedata.normalize("NFKC", sign)
        else sign
        for sign in text
    )
    return plain.replace("\u2044", "/").strip()


@lru_cache(maxsize=4096)
def unit_of_heading(heading: str) -> str | None:
    """Return the unit that a heading names: in brackets, or among its words; None where it names none.

    The word "in" is a unit only in brackets or at the end, for it is a word of two languages besides.
    """
    bracketed = _IN_BRACKETS.findall(heading)
    for text in bracketed:
        if unit := units().get(folded(text).rstrip(".")):
            return unit
    parts = [folded(part).strip("().[]") for part in _BETWEEN.split(heading) if part.strip("().[]")]
    found = [units()[part] for n, part in enumerate(parts) if _is_unit(part, last=n == len(parts) - 1)]
    return found[-1] if found else None


def _is_unit(part: str, *, last: bool) -> bool:
    return part in units() and (last or part not in ("in", "a", "tum"))


def as_number(number: Fraction) -> int | float:
    """Return a size as a cell holds it."""
    return int(number) if number.denominator == 1 else float(number)
