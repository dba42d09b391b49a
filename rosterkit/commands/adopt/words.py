"""The words that people see and write for what a column of a list is read as."""

import re
from collections.abc import Mapping, Sequence
from functools import cache

from rosterkit.errors import CannotRunError
from rosterkit.lists.reading import ENGINES, NOTHING, OWN, PAIR_CV, PAIR_VALUE
from rosterkit.roster.schema import SETTING_HEADINGS, folded, sheet
from rosterkit.spelling import Spelling

HEADING_ROW = "heading row"
"""Said of a row in place of a column: the headings stand there."""
_ENGINE = "engine"
_FIXED = {
    OWN: "own column",
    NOTHING: "nothing",
    _ENGINE: "engine label",
    PAIR_CV: "CV numbers",
    PAIR_VALUE: "CV values",
}
"""What is no column of ours, by the word in ``ColumnReading.read_as``."""
_CV = re.compile(r"cv:?([0-9]+(?:/[0-9]+)?)")
_HIGHEST_CV = 1024
"""The highest CV number that there is (NMRA S-9.2.2)."""
_BOTH_HALVES = "17/18"


def word_for(read_as: str, subject: str) -> str:
    """Return the word that people see for what a heading of a table about a sheet of ours is read as."""
    named = _named(_subject(subject))
    if read_as in named:
        return named[read_as]
    if number := _CV.fullmatch(read_as):
        return f"CV {number[1]}"
    return _FIXED.get(read_as, read_as)


def words_for(subject: str) -> Sequence[str]:
    """Return every word that a heading of such a table may be given, but for CVs by their numbers."""
    fixed = _FIXED.values() if _subject(subject) == ENGINES else [_FIXED[OWN], _FIXED[NOTHING]]
    return [*_named(_subject(subject)).values(), *fixed]


def read_as_for(word: str, subject: str, place: str) -> str:
    """Return what a word means for a heading of a table about a sheet of ours.

    Raises:
        CannotRunError: if it means nothing there; the nearest word is in the fix.
    """
    asked = folded(word)
    headings = {folded(heading) for heading in _named(_subject(subject)).values()}
    # Headings have CVs as other names, Vstart that of CV 2: who writes the CV means the CV.
    if asked not in headings and (cv := _CV.fullmatch(asked)):
        return _of_cv(cv[1], word, place)
    known = _known(_subject(subject))
    if asked in known:
        return known[asked]
    shown = {folded(one): one for one in words_for(subject)}
    near = Spelling(shown).nearest(asked)
    meant = f"Write '{shown[near]}' if it is meant; else" if near else "Write"
    raise CannotRunError(
        f"{place} cannot be read as '{word}'",
        f"{meant} a heading of the sheet {_subject(subject)}, a CV as 'CV 49', 'own column' or 'nothing'.",
    )


def _of_cv(number: str, word: str, place: str) -> str:
    if number == _BOTH_HALVES:
        return f"cv:{number}"
    if number.isdecimal() and 1 <= int(number) <= _HIGHEST_CV:
        return f"cv:{int(number)}"
    raise CannotRunError(
        f"{place} cannot be read as '{word}'", f"Give a CV from 1 to {_HIGHEST_CV}, such as CV 49."
    )


@cache
def _known(subject: str) -> Mapping[str, str]:
    """Return every word but those of CVs, folded; where two mean different things, the heading wins."""
    named = _named(subject)
    known = {folded(name): name for name in named}
    known |= {folded(name): name for name in _FIXED if name not in named}
    known |= {folded(shown): name for name, shown in _FIXED.items()}
    if not sheet(subject).transposed:
        columns = sheet(subject).filled_by_members
        known |= {folded(alias): column.name for column in columns for alias in column.aliases}
    return known | {folded(heading): name for name, heading in named.items()}


@cache
def _named(subject: str) -> Mapping[str, str]:
    """Return the headings of a sheet's rows by their words in ``ColumnReading.read_as``."""
    if sheet(subject).transposed:
        return {heading.casefold(): heading for heading in SETTING_HEADINGS[:2]}
    return {column.name: column.heading for column in sheet(subject).filled_by_members}


def may_repeat(read_as: str) -> bool:
    """Whether several headings of a table may be read so."""
    return read_as in {OWN, NOTHING, PAIR_CV, PAIR_VALUE}


def _subject(subject: str) -> str:
    return subject or ENGINES
