"""Days as people write them: 2019-03-02, 02.03.2019, 2 March 2019; 3/2/19 may be two days."""

import re
from contextlib import suppress
from datetime import date

from rosterkit.lists.settle.words import months, word_folded

_ISO = re.compile(r"([0-9]{4})[-/.]([0-9]{1,2})[-/.]([0-9]{1,2})(?:[T ][0-9:.]+)?")
_DOTTED = re.compile(r"([0-9]{1,2})\. ?([0-9]{1,2})\. ?([0-9]{4}|[0-9]{2})")
_SLASHED = re.compile(r"([0-9]{1,2})([/-])([0-9]{1,2})\2([0-9]{4}|[0-9]{2})")
_DAY_FIRST = re.compile(
    r"([0-9]{1,2})(?:\.|st|nd|rd|th|er)?[ -]+(?:de |of )?([^\W\d_]+)\.?,?[ -]+(?:de )?([0-9]{4})"
)
_MONTH_FIRST = re.compile(r"([^\W\d_]+)\.? +([0-9]{1,2})(?:st|nd|rd|th)?,? +([0-9]{4})")
_CENTURY_TURNS = 70
"""Two digits from here on are of the last century."""


def days_meant(text: str) -> tuple[date, ...]:
    """Return the days that a text may mean: one where it is sure, two where day and month may be either.

    A date in dots has the day first; so has one with the name of a month, wherever that stands.
    """
    plain = text.strip()
    if found := _ISO.fullmatch(plain):
        return _days((found[1], found[2], found[3]))
    if found := _DOTTED.fullmatch(plain):
        return _days((found[3], found[2], found[1]))
    if found := _SLASHED.fullmatch(plain):
        return _days((found[4], found[3], found[1]), (found[4], found[1], found[3]))
    if found := _DAY_FIRST.fullmatch(plain):
        day, name, year = found.groups()
    elif found := _MONTH_FIRST.fullmatch(plain):
        name, day, year = found.groups()
    else:
        return ()
    month = months().get(word_folded(name))
    return _days((year, str(month), day)) if month else ()


def _days(*written: tuple[str, str, str]) -> tuple[date, ...]:
    """Return the days that there are, each once, of year, month and day."""
    found = []
    for year, month, day in written:
        with suppress(ValueError):
            found.append(date(_full_year(year), int(month), int(day)))
    return tuple(dict.fromkeys(found))


def _full_year(year: str) -> int:
    number = int(year)
    if len(year) > 2:
        return number
    return number + (1900 if number >= _CENTURY_TURNS else 2000)
