"""Titles for sheets of rosterkit's own: such as a sheet may have, and never one that a member's sheet has."""

import re
from collections.abc import Collection

LONGEST_TITLE = 31
"""Signs in a sheet's title; a limit of spreadsheet programs, counted as UTF-16 does."""

_FORBIDDEN = re.compile(r"[\[\]:*?/\\\x00-\x1f\ud800-\udfff\ufffe\uffff]")
_RESERVED = "history"


def legal_title(wanted: str, ending: str = "") -> str:
    """Give a title such as a sheet may have, with an ending for which the title before it is cut."""
    clean = _cut(_FORBIDDEN.sub(" ", wanted).strip().strip("'").strip(), LONGEST_TITLE - len(ending))
    title = (clean.rstrip().rstrip("'") or "Sheet") + ending
    return f"{title} " + "1" if title.casefold() == _RESERVED else title


def _cut(text: str, longest: int) -> str:
    return text.encode("utf-16-le")[: 2 * longest].decode("utf-16-le", "ignore")


def own_title(wanted: str, *, own: Collection[str], others: Collection[str]) -> str:
    """Give the title under which a page is put into a workbook.

    An own sheet that bears it already is preferred; else it is the first one that is free.

    Args:
        wanted: The page's title.
        own: Titles of the sheets that rosterkit made.
        others: Titles of all other sheets.
    """
    ours = {title.casefold(): title for title in own}
    theirs = {title.casefold() for title in others}
    endings = ["", " (rosterkit)", *(f" (rosterkit {number})" for number in range(2, len(theirs) + 3))]
    candidates = [legal_title(wanted, ending) for ending in endings]
    standing = next((title for title in candidates if title.casefold() in ours), None)
    if standing is not None:
        return ours[standing.casefold()]
    return next(title for title in candidates if title.casefold() not in theirs)
