"""What the number format of a cell makes of its number: 007 of 7, NE 5201 of 5201, 50% of 0.5.

Format codes are those of ISO/IEC 29500-1, 18.8.31. Digits are never rounded away or grouped: a list is read
for what it says, and a grouping comma could be taken for a decimal one.
"""

import re
from collections.abc import Sequence
from decimal import Decimal
from functools import lru_cache

from rosterkit.xlsx.package.markup import elements

_TOKEN = re.compile(
    r'"(?P<quoted>[^"]*)"|\\(?P<escaped>.)|[_*].|\[\$(?P<currency>[^\]-]*)[^\]]*\]|(?P<bracket>\[[^\]]*\])'
    r"|(?P<general>general)|(?P<digit>[0#?])|(?P<point>\.)|(?P<comma>,)|(?P<other>.)",
    re.IGNORECASE | re.DOTALL,
)
_COLOURS = re.compile(r"\[(?:black|blue|cyan|green|magenta|red|white|yellow|color *\d+)\]", re.IGNORECASE)
_LITERAL = re.compile(r'"[^"]*"|\\.|\[[^\]]*\]', re.DOTALL)
_SECTION = re.compile(r'(?:"[^"]*"|\\.|[^;"\\])*')
_UNFIT = set("/eEyYmMdDhHsS@")
"""Signs of fractions, scientific numbers, moments and texts: no format of plain numbers has them."""
BUILT_IN = {"2": "0.00", "4": "#,##0.00", "9": "0%", "10": "0.00%", "16": "d-mmm"}
"""Those without a code in the file that show more than a plain number does, or less of a date (18.8.30)."""


def format_codes(styles: bytes) -> tuple[str, ...]:
    """Return the code of each cell format of a styles part in UTF-8, blank for the general one.

    Raises:
        MarkupError: the part is not well-formed.
    """
    codes = dict(BUILT_IN)
    used: list[str] = []
    for _, kind, within, stated in elements(styles):
        if kind == "numFmt" and within == "numFmts":
            codes[stated.get("numFmtId", "")] = stated.get("formatCode", "")
        elif kind == "xf" and within == "cellXfs":
            used.append(stated.get("numFmtId", "0"))
    return tuple(codes.get(number, "") for number in used)


@lru_cache(maxsize=1 << 10)
def shows_year(code: str) -> bool:
    """Tell whether a date format shows the year, as most of those do that have no code in the file."""
    letters = _LITERAL.sub("", code).casefold()
    return not letters or "y" in letters or "e" in letters


def plain_number(number: float) -> str:
    """Return a number as people write it: no exponent, no fraction where it is whole."""
    if isinstance(number, int) or number.is_integer():
        return str(int(number)) if abs(number) < 1e21 else repr(number)
    text = repr(number)
    if "e" not in text:
        return text
    exact = format(Decimal(text), "f")
    return exact if len(exact) < 30 else text


@lru_cache(maxsize=1 << 14, typed=True)
def shown_number(number: float, code: str) -> str:
    """Return what a cell of this format shows of a number, every digit of it.

    A code that does more than put zeros and signs around the digits leaves the plain number.
    """
    sections = [one for one in _SECTION.findall(_COLOURS.sub("", code)) if one] if code else []
    if not sections:
        return plain_number(number)
    section, sign = _section(sections, number)
    tokens = [(match.lastgroup or "", match[0], match) for match in _TOKEN.finditer(section)]
    if not _is_plain(tokens):
        return plain_number(number)
    percent = any(kind == "other" and text == "%" for kind, text, _ in tokens)
    exact = abs(Decimal(repr(number)))
    text = _filled(tokens, exact * 100 if percent else exact)
    return (sign + text).strip() if text.strip() else plain_number(number)


def _section(sections: Sequence[str], number: float) -> tuple[str, str]:
    """Return the section of a code that holds for a number, and the sign that comes before it."""
    if number < 0 and len(sections) > 1:
        return sections[1], ""
    if number == 0 and len(sections) > 2:
        return sections[2], ""
    return sections[0], "-" if number < 0 else ""


def _is_plain(tokens: Sequence[tuple[str, str, re.Match[str]]]) -> bool:
    kinds = [kind for kind, _, _ in tokens]
    if "bracket" in kinds or "general" in kinds or "digit" not in kinds or kinds.count("point") > 1:
        return False
    if any(kind == "other" and text in _UNFIT for kind, text, _ in tokens):
        return False
    # A comma behind the digits divides by a thousand.
    last = max(place for place, kind in enumerate(kinds) if kind == "digit")
    return "comma" not in kinds[last:]


def _filled(tokens: Sequence[tuple[str, str, re.Match[str]]], number: Decimal) -> str:
    """Put the digits of a number that is not negative into the places that a section has for them."""
    whole, _, fraction = format(number, "f").partition(".")
    whole, fraction = whole.lstrip("0"), fraction.rstrip("0")
    kinds = [kind for kind, _, _ in tokens]
    point = kinds.index("point") if "point" in kinds else len(tokens)
    before = [place for place in range(point) if kinds[place] == "digit"]
    behind = [place for place in range(point, len(tokens)) if kinds[place] == "digit"]
    digits: dict[int, str] = {}
    for place in reversed(before):
        # The first place takes all digits that are left.
        taken = whole if place == before[0] else whole[-1:]
        whole = "" if place == before[0] else whole[:-1]
        digits[place] = taken or ("0" if tokens[place][1] == "0" else "")
    if fraction:
        for place in behind:
            taken = fraction if place == behind[-1] else fraction[:1]
            fraction = "" if place == behind[-1] else fraction[1:]
            digits[place] = taken or ("0" if tokens[place][1] == "0" else "")
    if not before or (fraction and not behind):
        return ""
    shows_fraction = any(digits.get(place) for place in behind)
    pieces: list[str] = []
    for place, (kind, text, match) in enumerate(tokens):
        if kind == "digit":
            pieces.append(digits.get(place, ""))
        elif kind == "point":
            pieces.append("." if shows_fraction else "")
        elif kind in {"quoted", "escaped", "currency"}:
            pieces.append(match[kind] or "")
        elif kind == "other":
            pieces.append(text)
    return "".join(pieces)
