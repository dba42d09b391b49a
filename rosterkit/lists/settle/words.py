"""The words that stand in the cells of lists in several languages, by what they mean."""

import re
from collections.abc import Mapping
from functools import cache
from typing import Any

from rosterkit.roster.schema import Column, folded, schema_file

_FILE = "lists/words.json"
_WORD = re.compile(r"[^\W\d_]+")
_AROUND = " .,:;!()[]"

_MEANINGS_OF = {
    "yes": ("yes",),
    "no": ("no",),
    "on": ("on", "yes"),
    "off": ("off", "no"),
    "normal": ("forward",),
    "reversed": ("reverse",),
    "forward": ("forward",),
    "reverse": ("reverse",),
    "short": ("short",),
    "long": ("long",),
    "3-point": ("3-point",),
    "table": ("table",),
    "owner": ("owner",),
    "anyone": ("anyone",),
    "turnout": ("turnout",),
    "signal": ("signal",),
}
"""By a choice of the schema, what the words for it mean."""


@cache
def document() -> dict[str, Any]:
    """Return the file of words as it is."""
    return schema_file(_FILE)


def word_folded(text: str) -> str:
    """Fold a word so that letter case, blanks, brackets and stops around it do not matter."""
    return folded(folded(text).strip(_AROUND) or text)


def tokens(text: str) -> list[str]:
    """Return the words of letters in a text, folded, in their order."""
    return [folded(word) for word in _WORD.findall(text)]


@cache
def words(meaning: str) -> frozenset[str]:
    """Return every word of a meaning, folded, of all languages; KeyError if the file has no such meaning."""
    return frozenset(word_folded(word) for some in document()[meaning].values() for word in some)


@cache
def spellings(meaning: str) -> tuple[str, ...]:
    """Return every word of a meaning as the file has it, the longest first."""
    found = {word for some in document()[meaning].values() for word in some}
    return tuple(sorted(found, key=lambda word: (-len(word), word)))


def means(meaning: str, text: str) -> bool:
    """Tell whether a whole text is a word of that meaning."""
    return word_folded(text) in words(meaning)


@cache
def signs(meaning: str) -> frozenset[str]:
    """Return the signs that have a meaning in any language."""
    return frozenset(document()[meaning].get("signs", ()))


def is_unsure(text: str) -> bool:
    """Tell whether a text has a word or a sign that makes doubtful what stands beside it: was, or, see, ?."""
    return any(sign in text for sign in signs("unsure")) or not words("unsure").isdisjoint(tokens(text))


@cache
def choice_words(column: Column) -> Mapping[str, str]:
    """Return by its folded word the choice of a column that it stands for, without words of two."""
    found: dict[str, set[str]] = {}
    for choice in column.choices:
        for meaning in _MEANINGS_OF.get(choice, ()):
            for word in words(meaning):
                found.setdefault(word, set()).add(choice)
    return {word: one.pop() for word, one in found.items() if len(one) == 1}


@cache
def months() -> Mapping[str, int]:
    """Return the number, 1 to 12, of every name of a month, folded."""
    return {
        word_folded(name): number
        for names in document()["months"].values()
        for number, spellings in enumerate(names, 1)
        for name in spellings.split("|")
    }


@cache
def units() -> Mapping[str, str]:
    """Return by its folded spelling each unit: mm, cm, in, A, mA."""
    return {
        folded(spelling): unit for unit, spellings in document()["units"].items() for spelling in spellings
    }
