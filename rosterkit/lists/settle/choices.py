"""A choice of a column in words of several languages, and ticks under a heading that names the choice."""

import re

from rosterkit.lists.settle.said import Said
from rosterkit.lists.settle.words import choice_words, is_unsure, means, tokens, word_folded, words
from rosterkit.roster.schema import Column

_FIRST_PART = re.compile(r"\s*[(,;]\s*|\s+[-\u2013]\s+")
_STEPS = re.compile(r"[0-9]+")
_WORDS_OF_STEPS = {14: "14", 28: "28/128", 126: "28/128", 128: "28/128"}
"""By a number of speed steps, the choice of Speed steps."""


def choice_said(column: Column, text: str, heading: str) -> Said | None:
    """Return the choice of a column that a text stands for; None where none does for sure.

    A tick or a yes under a heading that names one choice of two ("gedreht", "long?") means that one, and a no
    the other; under a heading that denies ("no DC") it stands for nothing.
    """
    named = _named_in(column, heading)
    if _answer(text) is not None and named:
        return None if _denies(heading) else _ticked(column, named, text)
    if _takes_yes(column) and _denies(heading):
        return None
    if choice := _whole(column, text):
        return Said(choice)
    first, *others = _FIRST_PART.split(text)
    choice = _whole(column, first)
    rest = " ".join(others)
    if choice is None or is_unsure(rest) or not words("negation").isdisjoint(tokens(rest)):
        return None
    known = {choice_words(column).get(word) for word in tokens(rest)} - {None, choice}
    return None if known else Said(choice, text)


def _whole(column: Column, text: str) -> str | None:
    word = word_folded(text)
    found = column.synonyms.get(word) or choice_words(column).get(word)
    return found or (_steps(text) if column.choices == ("14", "28/128") else None)


def _steps(text: str) -> str | None:
    """Return the choice of speed steps that numbers and words of steps stand for: 128 FS, 28/128 steps."""
    if not set(tokens(text)) <= words("steps"):
        return None
    found = {_WORDS_OF_STEPS.get(int(number)) for number in _STEPS.findall(text)[:4] if len(number) < 4}
    return found.pop() if len(found) == 1 else None


def _answer(text: str) -> bool | None:
    """Return what a yes or a no says; None for other texts."""
    if means("yes", text):
        return True
    return False if means("no", text) else None


def _takes_yes(column: Column) -> bool:
    return bool({"yes", "on"} & set(column.choices))


def _ticked(column: Column, named: str, text: str) -> Said | None:
    if _answer(text):
        return Said(named)
    others = [choice for choice in column.choices if choice != named]
    return Said(others[0]) if len(others) == 1 else None


def _named_in(column: Column, heading: str) -> str | None:
    """Return the one choice that the words of a heading name; None where they name none or several."""
    if _takes_yes(column):
        return None
    parts = {word for word in tokens(heading) if len(word) > 1} | {word_folded(heading)}
    found = {choice_words(column).get(part) for part in parts} - {None}
    if column.choices == ("14", "28/128"):
        found |= {_WORDS_OF_STEPS.get(int(number)) for number in _STEPS.findall(heading)[:9]} - {None}
    return found.pop() if len(found) == 1 else None


def _denies(heading: str) -> bool:
    return not words("negation").isdisjoint(tokens(heading))
