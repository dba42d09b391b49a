"""A stored formula beside one of ours: what a program, a member or time has made of it."""

import re
from collections.abc import Mapping
from dataclasses import dataclass, field
from enum import IntEnum

from rosterkit.formulas.references import REFERENCE, corners, split, title_of
from rosterkit.formulas.tokens import canonical

_LOST = "#REF!"
_REFERENCE = re.compile(REFERENCE)


class State(IntEnum):
    """What a stored formula is beside ours, the worst last."""

    OURS = 0
    SHORT = 1
    """Ours, but its ranges end above the last row of the list."""
    ELSEWHERE = 2
    """Ours, but it reads cells of another workbook."""
    LOST = 3
    """Ours, but what it read is gone (#REF!)."""
    CHANGED = 4
    """Another formula that reads the sheet Live: ours of another edition of rosterkit, or changed by hand."""
    FOREIGN = 5
    """Another formula, of somebody's own."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Surroundings:
    """What a workbook is like in which a formula of ours may be spelt otherwise than it would be today."""

    live: str
    """The title of the sheet Live in our formulas, in small letters."""
    own_titles: frozenset[str]
    """The titles, in small letters, of all sheets of our own: Live may have been renamed."""
    last_rows: Mapping[str | None, int] = field(default_factory=dict)
    """The row that ranges have to reach, by the sheet's title in small letters; None: the formula's own."""


def state_of(stored: str, ours: str, around: Surroundings) -> State:
    """Compare a stored formula with ours for the same cell, both without the equals sign.

    Letter case, blanks, quotes and places in the sheet Live do not matter, nor where ranges end if they reach
    the last row.
    """
    found, wanted = _words(stored), _words(ours)
    state = State.FOREIGN
    if len(found) == len(wanted):
        different = (pair for pair in zip(found, wanted, strict=True) if pair[0] != pair[1])
        state = max((_state_of_word(*pair, around) for pair in different), default=State.OURS)
    if state is State.FOREIGN and any(_reads_ours(word, around) for word in found):
        return State.CHANGED
    return state


def _reads_ours(word: str, around: Surroundings) -> bool:
    return _is_reference(word) and title_of(split(word)[0]) in around.own_titles


def _words(formula: str) -> list[str]:
    """Return a formula's words; a reference of which a part is lost is one word."""
    words: list[str] = []
    for word in canonical(formula):
        previous = words[-1] if words else ""
        if word.endswith(_LOST) and _is_reference(word):
            if previous == ":":
                del words[-2:]
            words.append(_LOST)
        elif previous == _LOST and _is_reference(word):
            continue  # a program keeps the cells behind the sheet that is gone
        elif previous == ":" and words[-2:-1] == [_LOST] and _is_reference(word):
            words.pop()
        else:
            words.append(word)
    return words


def _is_reference(word: str) -> bool:
    return _REFERENCE.fullmatch(word) is not None


def _state_of_word(found: str, wanted: str, around: Surroundings) -> State:
    if not _is_reference(wanted) or not _is_reference(found):
        return State.FOREIGN
    if found == _LOST:
        return State.LOST
    title, own_title = (title_of(split(word)[0]) for word in (found, wanted))
    if title is not None and "[" in title:
        return State.ELSEWHERE
    cells, own_cells = (split(word)[1] for word in (found, wanted))
    if own_title == around.live:
        alike = title in around.own_titles and (":" in cells) == (":" in own_cells)
        return State.OURS if alike else State.FOREIGN
    if title != own_title or ":" not in cells or ":" not in own_cells:
        return State.FOREIGN
    return _state_of_range(cells, own_cells, around.last_rows.get(title, 0))


def _state_of_range(found: str, wanted: str, last_row: int) -> State:
    """Compare two ranges of one sheet, of which the last row alone may differ."""
    begins, ends = corners(found)
    own_begins, own_ends = corners(wanted)
    columns = (ends.column, ends.column_fixed, ends.row_fixed)
    if begins != own_begins or columns != (own_ends.column, own_ends.column_fixed, own_ends.row_fixed):
        return State.FOREIGN
    return State.OURS if ends.row is None or ends.row >= last_row else State.SHORT
