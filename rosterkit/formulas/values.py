"""What cells hold and formulas work with, and how one kind of value becomes another.

Where LibreOffice and Gnumeric differ, the result is ``UNSURE``: an error that no function turns into anything
else, so that whoever compares it with a value of their own finds that they differ.
"""

import re
from dataclasses import dataclass
from math import floor, isfinite
from unicodedata import normalize


@dataclass(frozen=True, slots=True)
class FormulaError:
    """An error value such as #N/A; which of them it is, is told as far as programs agree."""

    code: str

    def __str__(self) -> str:
        return self.code


Content = str | float | bool | FormulaError | None
"""What a cell holds, or a formula comes to; None is a blank cell."""

VALUE = FormulaError("#VALUE!")
NOT_AVAILABLE = FormulaError("#N/A")
DIVISION_BY_ZERO = FormulaError("#DIV/0!")
BAD_REFERENCE = FormulaError("#REF!")
BAD_NUMBER = FormulaError("#NUM!")
UNSURE = FormulaError("#UNSURE!")
"""Programs differ here, or may: no result is claimed."""


class Fault(Exception):
    """An error value on its way out of a calculation."""

    def __init__(self, error: FormulaError) -> None:
        super().__init__(error)
        self.error = error


_PLAIN = re.compile(r" *([+-]?)([0-9]{1,15})(\.[0-9]{1,10})? *\Z")
_WORDS = re.compile(r"[^\W\d_]+")
# Words beside which programs may read digits as a number, a date or a time.
_WORD_OF_NUMBERS = re.compile(
    r"(?:jan|feb|mar|apr|may|jun|jul|aug|sep|oct|nov|dec)[a-z]*\Z"
    r"|(?:[adehmpstyz]|am|pm|st|nd|rd|th|of|gmt|utc|true|false)\Z"
)
_SIGN_OF_NONE = re.compile(r"[#_&*<>=;?@|~\"\\]")
_LARGEST_INTEGER = 10**15
_MOST_PLACES = 2**31 - 1


def number(value: Content) -> float:
    """Return a value as a number, as arithmetic takes it; a blank is 0, TRUE is 1.

    Raises Fault with the error that the value is, #VALUE! for a text that certainly is no number.
    """
    if isinstance(value, int | float):
        return value
    if value is None:
        return 0
    if isinstance(value, str):
        return number_in(value)
    raise Fault(value)


def number_in(text: str) -> float:
    """Return the number that a text is in digits, with blanks round it or without.

    Raises Fault: #VALUE! for a text that no program takes for a number, else UNSURE.
    """
    match = _PLAIN.match(text)
    if match is not None:
        return float(text) if match[3] else int(text)
    raise Fault(UNSURE if may_be_number(text) else VALUE)


def number_or_none(text: str) -> float | None:
    """Return the number that a text is in digits, None if it is not, or not for every program."""
    try:
        return number_in(text)
    except Fault:
        return None


def may_be_number(text: str) -> bool:
    """Tell whether some program may take a text for a number, a date, a time or a truth value."""
    if text.isalpha():
        return text.lower() in {"true", "false"}
    if not any(map(str.isnumeric, text)):
        return text.strip().lower() in {"true", "false"}
    if _SIGN_OF_NONE.search(text):
        return False
    return all(_WORD_OF_NUMBERS.match(word) for word in _WORDS.findall(text.lower()))


def text(value: Content) -> str:
    """Return a value as text, as & takes it; a blank is "".

    Raises Fault with the error that the value is, and UNSURE for truth values and for numbers that programs
    write with different digits.
    """
    if isinstance(value, str):
        return value
    if value is None:
        return ""
    if isinstance(value, FormulaError):
        raise Fault(value)
    if isinstance(value, bool):
        raise Fault(UNSURE)
    return _number_as_text(value)


def _number_as_text(value: float) -> str:
    if abs(value) <= _LARGEST_INTEGER and value == int(value):
        return str(int(value))
    written = repr(value)
    if not isfinite(value) or "e" in written or len(written.strip("-").replace(".", "").lstrip("0")) > 15:
        raise Fault(UNSURE)
    return written


def loosely(small: str) -> str:
    """Return a text in small letters such that those are equal which some program takes for equal."""
    return small if small.isascii() else normalize("NFKD", small.casefold()).replace("ı", "i")


def truth(value: Content) -> bool:
    """Return a value as a condition: numbers are true unless 0, a blank is false.

    Raises Fault with the error that the value is, and UNSURE for texts.
    """
    if isinstance(value, bool):
        return value
    if isinstance(value, FormulaError):
        raise Fault(value)
    if isinstance(value, str):
        raise Fault(UNSURE)
    return bool(value)


def whole(value: Content) -> int:
    """Return a value as a whole number, rounded down, as positions and counts are taken.

    Raises Fault with the error that the value is, and UNSURE for a number that is no place in anything.
    """
    found = floor(number(value))
    if abs(found) > _MOST_PLACES:
        raise Fault(UNSURE)
    return found
