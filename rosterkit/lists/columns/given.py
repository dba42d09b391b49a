"""What somebody said that headings stand for; it goes before all that the list itself says."""

import re

from rosterkit.errors import CannotRunError
from rosterkit.lists.reading import ENGINES, NOTHING, OWN, PAIR_CV, PAIR_VALUE, Corrections
from rosterkit.lists.tables import Layout, Table
from rosterkit.roster.schema import folded, sheet
from rosterkit.spelling import Spelling

_CV = re.compile(r"cv:?(\d{1,4})")
_BOTH_HALVES = re.compile(r"cv:?17/(?:cv)?18")
_WORDS = (OWN, NOTHING, PAIR_CV, PAIR_VALUE, "engine")
_HIGHEST_CV = 1024
"""The highest CV number that there is (NMRA S-9.2.2)."""


def require_known(corrections: Corrections, layout: Layout) -> None:
    """Check that every heading that somebody spoke of is there.

    Raises:
        CannotRunError: if one is not.
    """
    keys = {key for table in layout.tables for one in table.headings for key in (one.key, column_of(one.key))}
    for key in corrections.read_as:
        if key in keys:
            continue
        near = Spelling(sorted(keys)).nearest(key)
        fix = f"Write '{near}' if it is meant." if near else "Name a column as SHEET!C."
        raise CannotRunError(f"the list has no heading at '{key}'", fix)


def column_of(key: str) -> str:
    """Return the key of the whole column: SHEET!C of SHEET!C20."""
    title, _, place = key.rpartition("!")
    letters = place.rstrip("0123456789")
    return f"{title}!{letters}" if letters and letters.isalpha() and letters.isupper() else key


def given_for(table: Table, corrections: Corrections, subject: str) -> dict[int, str]:
    """Return what was said of a table's headings, by their numbers, as words of ``ColumnReading.read_as``.

    Raises:
        CannotRunError: if a word means nothing for a table about that sheet of ours.
    """
    found = {}
    for number, heading in enumerate(table.headings):
        for key in (heading.key, column_of(heading.key)):
            if key in corrections.read_as:
                found[number] = understood(corrections.read_as[key], subject or ENGINES, key)
                break
    return found


def understood(word: str, subject: str, key: str) -> str:
    """Return the word of ``ColumnReading.read_as`` that a word means: that itself, a heading of ours or a CV.

    Raises:
        CannotRunError: if it means nothing; the fix has the nearest word.
    """
    asked = folded(word)
    columns = sheet(subject).filled_by_members
    known = {folded(one): one for one in _WORDS}
    known |= {folded(column.name): column.name for column in columns}
    known |= {folded(alias): column.name for column in columns for alias in column.aliases}
    known |= {folded(column.heading): column.name for column in columns}
    if asked in known and asked not in {folded(one) for one in _WORDS if subject == ENGINES}:
        return known[asked]
    if asked in known:
        return next((one for one in _WORDS if folded(one) == asked), known[asked])
    if _BOTH_HALVES.fullmatch(asked):
        return "cv:17/18"
    found = _CV.fullmatch(asked)
    if found and 1 <= int(found[1]) <= _HIGHEST_CV:
        return f"cv:{int(found[1])}"
    near = Spelling(known).nearest(asked)
    nearest = f"Write '{known[near]}' if it is meant; else" if near else "Give"
    fix = f"{nearest} a heading of the sheet {subject}, a CV such as CV49, 'own' or 'nothing'."
    raise CannotRunError(f"{key} cannot be read as '{word}'", fix)
