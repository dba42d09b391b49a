"""What the headings of lists may stand for: the words of ``schema/lists/headings.json`` and of the schema."""

import re
from enum import IntEnum
from functools import cache, lru_cache
from typing import Any

from rosterkit.lists.heading_text import (
    cvs_of,
    folded_heading,
    is_function_key,
    parted,
    without_count,
    without_unit,
)
from rosterkit.lists.reading import ENGINES, OWN
from rosterkit.lists.slips import Slips
from rosterkit.roster.schema import all_sheets, schema_file, sheet


class Known(IntEnum):
    """How well a heading is known."""

    UNKNOWN = 0
    TYPO = 1  # spelt a little differently
    WORD = 2  # a known word among others that say nothing
    WHOLE = 3


__all__ = ["cvs_of", "fields_of", "folded_heading", "is_heading_word", "is_total_word", "without_unit"]

_DIGITAL = frozenset({"dcc", "digital"})
_UMLAUTS = str.maketrans({"ä": "ae", "ö": "oe", "ü": "ue"})
_LONGEST = 64  # no heading has more letters; sentences have


@lru_cache(maxsize=4096)
def looked_up(heading: str) -> tuple[tuple[str, ...], Known]:
    """Return what a heading may stand for, the likeliest first, and how well it is known."""
    text = without_count(heading.strip())
    if not text or len(text) > _LONGEST:
        return (cvs_of(text) if text and "cv" in text.casefold()[:60] else ()), Known.WHOLE
    named = cvs_of(text)
    if named:
        return named, Known.WHOLE
    if is_function_key(text):
        return (OWN,), Known.WHOLE
    for spelt in (text, without_unit(text)[0]):
        whole = _words().get(_compact(spelt), ())
        if whole:
            return whole, Known.WHOLE
    words = folded_heading(parted(without_unit(text)[0])).split()
    either = _in_common(text)
    if either:
        return either, Known.WORD
    among = _among(words)
    if among:
        return among, Known.WORD
    return _misspelt("".join(words))


def fields_of(heading: str) -> tuple[str, ...]:
    """Return the words of ``ColumnReading.read_as`` that a heading may stand for, the likeliest first.

    Columns of Locomotives, engine, cv, value, cv:29, cv:17/18, or own; () for a heading that is not known.
    """
    return looked_up(heading)[0]


def is_heading_word(text: str) -> bool:
    """Whether a text is one that columns of lists are headed with (a bare number never is)."""
    (fields, known), asks = looked_up(text), text.rstrip().endswith("?")
    sentence = known is Known.WORD and not asks and (len(text.split()) > 3 or any(map(str.isdigit, text)))
    return (bool(fields) and not sentence) or _compact(without_unit(text)[0]) in _headings_of_others()


def is_total_word(text: str) -> bool:
    """Whether a text says that its row is a total, a subtotal, a count or an average."""
    if len(text) > _LONGEST:
        return False
    words = folded_heading(without_unit(text)[0])
    alone, before_others = _totals()
    return words in alone or (len(words.split()) <= 5 and words.startswith(before_others))


def subjects_of(heading: str) -> tuple[str, ...]:
    """Return the titles of our other sheets that a heading speaks for, such as Accessories for "Turnout"."""
    compact, words = _compact(without_unit(heading)[0]), _document()["subjects"]
    return tuple(title for title in words if compact in {_compact(word) for word in words[title]})


def _compact(text: str) -> str:
    return folded_heading(text).replace(" ", "")


@cache
def _document() -> dict[str, Any]:
    return schema_file("lists/headings.json")


def _spelt(word: str) -> set[str]:
    """A word of the vocabulary folded, with umlauts written as one letter and as two."""
    two = word.casefold().translate(_UMLAUTS)
    return {_compact(word), _compact(two)}


@cache
def _words() -> dict[str, tuple[str, ...]]:
    """By folded heading, what it may stand for; words that say several things come before the schema's."""
    found: dict[str, tuple[str, ...]] = {}
    document = _document()
    for word, fields in document["ambiguous"].items():
        found |= dict.fromkeys(_spelt(word), tuple(fields))
    for column in sheet(ENGINES).columns:
        for word in (column.heading, *column.aliases):
            found.setdefault(_compact(word), (column.name,))
    for name, languages in document["fields"].items():
        for word in (word for words in languages.values() for word in words):
            for spelling in _spelt(word):
                found.setdefault(spelling, (name,))
    return found


@cache
def _headings_of_others() -> frozenset[str]:
    ours = {_compact(word) for one in all_sheets() for c in one.columns for word in (c.heading, *c.aliases)}
    theirs = {_compact(word) for words in _document()["subjects"].values() for word in words}
    return frozenset(word for word in ours | theirs if not word.isdigit())


@cache
def _totals() -> tuple[frozenset[str], tuple[str, ...]]:
    strong = [folded_heading(word) for word in _document()["totals"]["strong"]]
    alone = [folded_heading(word) for word in _document()["totals"]["alone"]]
    return frozenset(strong + alone), tuple(f"{word} " for word in strong)


@cache
def _fillers() -> tuple[frozenset[str], frozenset[str]]:
    fillers, others = (frozenset(map(_compact, _document()[kind])) for kind in ("fillers", "others"))
    return fillers, others


def _in_common(text: str) -> tuple[str, ...]:
    """What all parts of a heading such as Notes / comments may stand for."""
    parts = [part for part in re.split(r"\s*[/&+,]\s*|\s+(?:and|und|or|oder|et|ou|en|of)\s+", text) if part]
    if not 1 < len(parts) <= 3:
        return ()
    first, *others = (_words().get(_compact(part), ()) for part in parts)
    return tuple(field for field in first if all(field in other for other in others))


def _among(words: list[str]) -> tuple[str, ...]:
    """What the longest known part of a heading stands for, if all around it says nothing."""
    fillers, others = _fillers()
    if len(words) > 1 and others.intersection(words):
        return (OWN,)
    for length in range(len(words) - 1, 0, -1):
        for first in range(len(words) - length + 1):
            around = (*words[:first], *words[first + length :])
            found = _words().get("".join(words[first : first + length]), ())
            kinds = _kinds() if found[:1] == ("address",) else frozenset[str]()
            if found and all(word in fillers or word in kinds for word in around):
                return _digital(found) if _DIGITAL.intersection(around) else found
    return ()


@cache
def _kinds() -> frozenset[str]:
    """Words for short and long, which say the kind of an address in its heading."""
    given = schema_file("lists/words.json")
    return frozenset(
        _compact(word) for kind in ("short", "long") for some in given[kind].values() for word in some
    )


def _digital(fields: tuple[str, ...]) -> tuple[str, ...]:
    """What fields come to where the heading also says DCC: a number is an address then, a name is unclear."""
    if fields[0] in {"number", "address"}:
        return ("address",)
    return () if fields[0] in {"railway", "owner", "loco", "engine"} else fields


@cache
def _slips() -> Slips:
    return Slips(word for word, fields in _words().items() if fields != (OWN,))


def _misspelt(word: str) -> tuple[tuple[str, ...], Known]:
    near = _slips().nearest(word)
    return (_words()[near], Known.TYPO) if near else ((), Known.UNKNOWN)
