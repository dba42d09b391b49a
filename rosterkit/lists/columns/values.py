"""What single cells of lists look like: numbers, addresses, labels of engines, words that mean a choice."""

import re
from collections.abc import Callable
from functools import cache, lru_cache

from rosterkit.lists.plain import PlainCell
from rosterkit.roster.schema import folded, schema_file
from rosterkit.standards.addresses import LONG_ADDRESSES

Test = Callable[[str], bool]

_WHOLE = re.compile(r"#?\s*(\d{1,9})")
_NUMBER = re.compile(r"[-+]?\d+(?:[.,]\d+)?")
_MONEY = re.compile(r"[€$£¥]|\b(?:eur|usd|gbp|chf|dkk|sek|nok|czk|pln|kč|zł)\b", re.IGNORECASE)
_DAY = re.compile(
    r"\d{4}[-/.]\d{1,2}[-/.]\d{1,2}(?:[T ].*)?"
    r"|\d{1,2}[-/.]\s?\d{1,2}[-/.]\s?(?:\d{4}|\d{2})"
    r"|\d{1,2}[./-]\d{4}"
)
_NAMED_DAY = re.compile(r"(?:\d{1,2}(?:st|nd|rd|th|\.)?\s+)?([^\W\d_]{3,})\.?\s+(?:\d{1,2},?\s+)?\d{4}")
_MEASURE = re.compile(
    r"(?:\d+(?:[.,]\d+)?|\d+[ -]+\d+/\d+|\d+/\d+|\d*\s?[¼½¾⅛⅜⅝⅞])\s*"
    r"(?:mm|cm|in|inch|inches|ins|zoll|ma|a|amps?|''|[\"”″])?\.?",
    re.IGNORECASE,
)
_LABEL = re.compile(r"[^\W\d_][^\d]*[ \-_.]*\d.*")
_VILLAGE = r"(?:straße|strasse|str\.|gasse|weg|platz|straat|laan|gatan|vej|gade)"
_STREET = re.compile(
    r"\d+\s?[a-z]?,?\s+(?:[A-Z][^\W\d_]+\.?\s+)+[A-Z][^\W\d_]+\.?(?:,.*)?"
    rf"|(?:[^\W\d_]+\.?[ -]+)*[A-Z][^\W\d_]*{_VILLAGE}\s+\d+\s?[a-z]?"
    r"|(?:[A-Z][^\W\d_]+\s+)+[^\W\d_]{3,}\s+\d+\s?[a-z]?(?:,.*)?"
)
_DIGITS = re.compile(r"\d+")
_PAIR_OF_HALVES = re.compile(r"(\d{1,3})\s*[/,;+ &-]\s*(\d{1,3})")
_KIND_IN_DIGITS = re.compile(
    r"\b[24]\s*-?\s*(?:digits?|stellig|cijfers|chiffres|cifre|cifras|siffror|číslice|cyfry)\b"
)
_AROUND = ".,!?()[] "
_LONGEST_WORD = 32
_LONGEST_REMARK = 40
_HEXADECIMAL = re.compile(r"0x[0-9a-f]+|[0-9a-f]{1,2}h|[0-9]?[a-f][0-9a-f]?|[01]{8}", re.IGNORECASE)
"""In a column of CVs: then its cells without letters are no decimal numbers either."""
_KIND = re.compile(
    r"lok\b|lokomoti|locomoti|loco\b|engine|steam|diesel|electric|switcher|shunter|railcar|triebwagen|dampf"
    r"|vapeur|vapor|vapore|électri|elektr|autorail|draisine|tram\b|\b\d-\d{1,2}-\d\b"
)
_STEPS = {"14", "27", "28", "126", "128", "28/128", "28-128", "128/28", "14/28", "14/28/128", "28+128"}


@cache
def words(meaning: str) -> frozenset[str]:
    """Return the words of one meaning in ``schema/lists/words.json``, folded, of all languages."""
    some = schema_file("lists/words.json")[meaning]
    return frozenset(folded(word).strip(".") for language in some.values() for word in language)


def means(*meanings: str) -> Test:
    """Return a test of whether a text is a word of one of these meanings."""

    @cache
    def known() -> frozenset[str]:
        return frozenset().union(*map(words, meanings))

    def is_one(text: str) -> bool:
        return len(text) <= _LONGEST_WORD and folded(text).strip(_AROUND) in known()

    return is_one


is_answer = means("yes", "no", "on", "off")
is_blank_word = means("nothing")


def whole(text: str) -> int | None:
    """Return the whole number that a text is, with or without # before it; None for any other text."""
    found = _WHOLE.fullmatch(text.strip())
    return int(found[1]) if found else None


def is_number(text: str) -> bool:
    """Whether a text is a number, whole or not."""
    return bool(_NUMBER.fullmatch(text.strip()))


def is_fraction(text: str) -> bool:
    """Whether a text is money, or a number that is not whole."""
    plain = text.strip()
    return bool(_MONEY.search(plain)) or (is_number(plain) and whole(plain) is None)


@lru_cache(maxsize=50_000)
def is_day(text: str) -> bool:
    """Whether a text is a day, or a month of a year."""
    plain = text.strip()
    named = _NAMED_DAY.fullmatch(plain)
    return bool(_DAY.fullmatch(plain)) or bool(named and folded(named[1])[:3] in _months())


@cache
def _months() -> frozenset[str]:
    given = schema_file("lists/words.json")["months"].values()
    return frozenset(folded(name)[:3] for some in given for names in some for name in names.split("|"))


def is_measure(text: str) -> bool:
    """Whether a text is a size, with or without its unit: 182,5; 7 1/4; 8"; 900 mA."""
    return bool(_MEASURE.fullmatch(text.strip()))


def is_byte(text: str) -> bool:
    """Whether a text is a whole number from 0 to 255, as a CV holds."""
    number = whole(text)
    return number is not None and number <= 255


def is_hexadecimal(text: str) -> bool:
    """Whether a text is a number in hexadecimal or binary digits, and no decimal one."""
    return bool(_HEXADECIMAL.fullmatch(text.strip()))


def is_steps(text: str) -> bool:
    """Whether a text is a number of speed steps, with or without a word for them."""
    plain = folded(text)
    for word in sorted(words("steps"), key=len, reverse=True):
        plain = plain.replace(word, "")
    return plain.strip(".()") in _STEPS


def halves(text: str) -> tuple[int, int] | None:
    """Return two CV values in one cell, 212/120; None for any other text."""
    found = _PAIR_OF_HALVES.fullmatch(text.strip())
    return (int(found[1]), int(found[2])) if found else None


@lru_cache(maxsize=50_000)
def address(text: str) -> int | None:
    """Return the address that a text is, with or without its kind beside it; None where it is not sure."""
    plain = _KIND_IN_DIGITS.sub(" ", text.casefold()).strip()
    numbers = _DIGITS.findall(plain)
    if len(numbers) != 1 or is_fraction(plain) or is_day(text):
        return None
    allowed = words("short") | words("long") | words("of an address") | {"not"}
    others = re.findall(r"[^\W\d_]+", plain)
    number = int(numbers[0])
    return number if number in LONG_ADDRESSES and all(folded(word) in allowed for word in others) else None


def says_no_address(text: str) -> bool:
    """Whether a text in a column of addresses leaves open which: see card, none, 4-digit, 12 or 45."""
    plain = _KIND_IN_DIGITS.sub(" ", text.casefold())
    numbers = [int(digits) for digits in _DIGITS.findall(plain)]
    if is_day(text) or is_fraction(text.strip()) or is_street(text):
        return False
    if not numbers:
        return len(text) <= _LONGEST_REMARK
    worded = len(numbers) > 1 or has_letters(plain)
    return worded and len(text) <= _LONGEST_REMARK and all(number in LONG_ADDRESSES for number in numbers)


def is_street(text: str) -> bool:
    """Whether a text is a house number and a street, or a street and its number: 12 Mill Lane, Am Hang 22."""
    return bool(_STREET.fullmatch(text.strip()))


def is_kind_of_engine(text: str) -> bool:
    """Whether a text names a kind of engine: Dampflok, diesel switcher, 2-8-0."""
    return bool(_KIND.search(text.casefold()))


def is_label(text: str) -> bool:
    """Whether a text has letters and then digits: NE 5201, SM 3 tram."""
    return bool(_LABEL.fullmatch(text.strip())) and not is_day(text)


def digits_in(text: str) -> tuple[int, ...]:
    """Return the numbers in a text in their order."""
    return tuple(int(digits) for digits in _DIGITS.findall(text) if len(digits) < 10)


def has_letters(text: str) -> bool:
    """Whether a text has a letter."""
    return any(sign.isalpha() for sign in text)


def is_dated(cell: PlainCell) -> bool:
    """Whether a cell holds or shows a day."""
    return not isinstance(cell.value, str | int | float) or is_day(cell.text)
