"""An address with its kind in one cell: 5201 L, short 12, 14 (short), 600 / 4 digits, 45 L (not short!)."""

import re
import unicodedata
from dataclasses import replace
from functools import cache, lru_cache

from rosterkit.lists.settle.said import Said, unclear
from rosterkit.lists.settle.words import is_unsure, means, spellings, tokens, words
from rosterkit.standards.addresses import LONG_ADDRESSES, SHORT_ADDRESSES

_ONE_LETTER = re.compile(r"(?<![^\W_])[^\W\d_](?![^\W_])")
"""In a heading a letter alone may stand for anything: "L-Adresse", "S/L"."""
_DIGITS = re.compile(r"[0-9]+")
_PARTED = re.compile(r"[0-9][.,][0-9]|[0-9] [0-9]")
_NO_BREAK = "\u00a0\u202f\u2009"
_THOUSANDS = re.compile(rf"(?<![^\W_])(?<![.,])([1-9][0-9]?)['\u2019{_NO_BREAK}]([0-9]{{3}})(?![.,]?[^\W_])")
"""Blanks that no line breaks at, and apostrophes, part the thousands of one number."""
_ZEROS_OF_FOUR = re.compile(r"0[0-9]{3}")
_LONGEST = 9
"""So many figures are more than any address has."""
_ENTER = "Enter the address as a number, and its kind in Address kind."
_LETTER = r"[^\W\d_]"
_OTHER = {"short": "long", "long": "short"}
KINDS = {"short": SHORT_ADDRESSES, "long": LONG_ADDRESSES}


def address_said(text: str) -> Said:
    """Read an address, 1 to 10239, and its kind out of a text.

    Two numbers, a number that its kind cannot have, and words such as "was" or "see" are doubts; other words
    beside one number are kept as typed. A kind alone is one: the number stays blank.
    """
    plain = unicodedata.normalize("NFKC", _THOUSANDS.sub(r"\1\2", text)).strip()
    if any(unicodedata.category(sign) == "No" for sign in text):
        return unclear(text, f"'{text}' may be more than an address", _ENTER)
    if means("nothing", plain):
        return Said(as_typed=text)
    kinds, rest = _kinds_in(plain)
    numbers = {int(digits[:_LONGEST]) for digits in _DIGITS.findall(rest)}
    left = [word for word in tokens(rest) if word not in words("of an address")]
    if len(numbers) > 1 or _PARTED.search(rest):
        return unclear(text, f"'{text}' may be more than one address", _ENTER)
    if len(kinds) > 1 or is_unsure(rest):
        return unclear(text, f"'{text}' does not say for sure which address it is", _ENTER)
    kind = next(iter(kinds), None)
    if not numbers:
        return _without_number(text, kind, left)
    return _with_number(text, numbers.pop(), kind, left, rest, plain)


def _without_number(text: str, kind: str | None, left: list[str]) -> Said:
    if kind is None or left:
        return unclear(text, f"'{text}' is no address", _ENTER)
    doubt = f"'{text}' says the kind of the address and no number", "Enter the number in Address."
    return Said(as_typed=text, doubt=doubt, kind=kind)


def _with_number(text: str, number: int, kind: str | None, left: list[str], rest: str, plain: str) -> Said:
    if number not in LONG_ADDRESSES:
        return unclear(text, f"'{text}' is no address: they are 1 to {LONG_ADDRESSES[-1]}", _ENTER)
    if kind and number not in KINDS[kind]:
        highest = KINDS[kind][-1]
        return unclear(text, f"'{text}' is no address: {kind} ones end at {highest}", _ENTER)
    if left:
        doubt = f"'{text}' is read as {number}, and says more", "Look whether that is the address."
        return Said(number, text, doubt, kind)
    zeros = _ZEROS_OF_FOUR.search(rest)
    if zeros and kind is None and number in SHORT_ADDRESSES:
        doubt = (
            f"'{text}' has four digits, with which some stations mean long {number}",
            "Enter long in Address kind if it is long.",
        )
        return Said(number, text, doubt)
    return Said(number, "" if rest.strip() == plain else _unless_plain(text, kind), None, kind)


def _unless_plain(text: str, kind: str | None) -> str:
    """Return the text where it says more than a number and its kind."""
    return text if kind and not words("negation").isdisjoint(tokens(text)) else ""


def with_kind(said: Said, text: str, heading: str) -> Said:
    """Give an address the kind that its heading names, as "Long addr" does, where its cell names none."""
    kind = _kind_of_heading(heading)
    if not isinstance(said.value, int) or said.kind or kind is None:
        return said
    if said.value in KINDS[kind]:
        return replace(said, kind=kind)
    return unclear(text, f"'{text}' is no {kind} address, as '{heading}' says", _ENTER)


@lru_cache(maxsize=4096)
def _kind_of_heading(heading: str) -> str | None:
    words_alone = " ".join(word for word in heading.split() if len(word) > 1)
    kinds = _kinds_in(words_alone)[0] if not _ONE_LETTER.search(words_alone) else set()
    return kinds.pop() if len(kinds) == 1 else None


def _kinds_in(text: str) -> tuple[set[str], str]:
    """Return the kinds that a text names, and what is left of it; what it says not to be is the other."""
    kinds = set()
    for kind, pattern in _kind_patterns().items():
        for found in pattern.finditer(text):
            kinds.add(_OTHER[kind] if found["negation"] else kind)
        text = pattern.sub(" ", text)
    return kinds, text


@cache
def _kind_patterns() -> dict[str, re.Pattern[str]]:
    """Return what finds each kind in a text, with the word before it that turns it round."""
    negation = "|".join(sorted(map(re.escape, words("negation"))))
    return {
        kind: re.compile(
            rf"(?:(?<!{_LETTER})(?P<negation>{negation})\s+)?(?:{'|'.join(map(_phrase, spellings(kind)))})",
            re.IGNORECASE,
        )
        for kind in KINDS
    }


def _phrase(words_of_kind: str) -> str:
    """Return a pattern for a phrase, which may stand beside a number, though not inside a word."""
    before = "(?<![0-9])" if words_of_kind[0].isdigit() else f"(?<!{_LETTER})(?<!['\u2019])"
    spaced = r"[\s-]*".join(re.escape(part) for part in re.split(r"[\s-]+", words_of_kind))
    return f"{before}{spaced}(?!{_LETTER})"
