"""The text of a heading: folded, without its unit, and the CVs that it names."""

import re
import unicodedata

from rosterkit.lists.reading import OWN

_CV = r"c\.?\s?v\.?s?[\s.#:_-]*0*(\d{1,4})(?!\d)"
_MENTIONS = re.compile(rf"(?<![a-z]){_CV}", re.IGNORECASE)
_BOTH = re.compile(rf"(?<![a-z]){_CV}\s*(?:[/+&,]|and|und|et)\s*(?:c\.?v\.?)?\s*0*(\d{{1,4}})", re.IGNORECASE)
_RANGE = re.compile(rf"{_CV}\s*(?:-|–|to|bis|\.\.+)\s*(?:c\.?v\.?)?\s*\d", re.IGNORECASE)
_NOT_DECIMAL = re.compile(r"\b(?:hex|bin|bits?|binary|binär)\b", re.IGNORECASE)
_FUNCTION_KEY = re.compile(r"f(?:n|kt|unction)?\.?\s?\d{1,2}(?:\s?(?:fwd|rev|f|r|\([fr]\)))?", re.IGNORECASE)
_COUNTED = re.compile(r"^\(?\d{1,2}[.):]\s+(?=\D)")  # 3. Address, (3) Address
_SEAM = re.compile(r"(?<=[a-z])(?=[A-Z])|(?<=[A-Z])(?=[A-Z][a-z]{2})|[._]+(?=\w)")
_BRACKETS = re.compile(r"[(\[{]([^)\]}]*)[)\]}]")
_UNIT = re.compile(
    r"""(?:,\s*|\bin\s+|\s+|_|^)(mm|cm|m|in|inch|inches|ins|zoll|pouces|tum|palce|feet|ft|a|amps?|ma|"|''|″)\s*$""",
    re.IGNORECASE,
)


def folded_heading(text: str) -> str:
    """Return a heading without its letter case, accents and punctuation: "Adr.-Nr:" is "adr nr"."""
    plain = text.casefold().translate(_LETTERS)
    plain = "".join(sign for sign in unicodedata.normalize("NFKD", plain) if not unicodedata.combining(sign))
    return " ".join(re.findall(r"[^\W_]+|[#€$£°]", plain))


_LETTERS = str.maketrans({"æ": "ae", "ø": "o", "œ": "oe", "ł": "l", "đ": "d", "№": "no", "º": "°", "ß": "ss"})


def parted(heading: str) -> str:
    """Return a heading with words parted where capitals, full stops or _ do it: road Number of roadNumber."""
    return _SEAM.sub(" ", heading)


def without_unit(heading: str) -> tuple[str, str]:
    """Return a heading without what it has in brackets or as a unit at its end, and that: "LüP", "mm"."""
    inside = _BRACKETS.search(heading)
    if inside and heading[: inside.start()].strip():
        return " ".join(_BRACKETS.sub(" ", heading).split()), inside[1].strip()
    bare = heading.strip().rstrip(".:?")
    found = _UNIT.search(bare)
    if found and bare[: found.start()].strip():
        return bare[: found.start()].strip(" ,_"), found[1]
    return heading.strip(), ""


def cvs_of(heading: str) -> tuple[str, ...]:
    """Return what a heading that names one CV, or CV17 and CV18, may be read as; () if it names none."""
    both = _BOTH.search(heading)
    if both:
        return ("cv:17/18",) if (int(both[1]), int(both[2])) == (17, 18) else (OWN,)
    numbers = {int(found[1]) for found in _MENTIONS.finditer(heading)}
    if not numbers:
        return ()
    number = numbers.pop()
    if numbers or _RANGE.search(heading) or _NOT_DECIMAL.search(heading) or not 1 <= number <= 1024:
        return (OWN,)
    return (f"cv:{number}",)


def is_function_key(heading: str) -> bool:
    """Whether a heading is a function key, such as F0 or Fn 12."""
    return bool(_FUNCTION_KEY.fullmatch(heading.strip(" .:?=")))


def without_count(heading: str) -> str:
    """Return a heading without the number that questions have before them: Address of "3. Address"."""
    return _COUNTED.sub("", heading)
