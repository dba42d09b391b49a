"""Titles such as a sheet may have in any spreadsheet program."""

import re
from collections.abc import Collection
from itertools import count

LONGEST_TITLE = 31
"""Signs in a sheet's title; a limit of spreadsheet programs, counted as UTF-16 does."""

# What spreadsheet programs refuse in a title, and what XML cannot hold.
_FORBIDDEN = re.compile(r"[\[\]:*?/\\\x00-\x1f\ud800-\udfff\ufffe\uffff]")
_RESERVED = "history"


def legal_title(wanted: str, ending: str = "") -> str:
    """Return a title such as a sheet may have, with an ending for which the title before it is cut."""
    clean = _cut(_FORBIDDEN.sub(" ", wanted).strip().strip("'").strip(), LONGEST_TITLE - len(ending))
    title = (clean.rstrip().rstrip("'") or "Sheet") + ending
    return f"{title} " + "1" if title.casefold() == _RESERVED else title


def _cut(text: str, longest: int) -> str:
    return text.encode("utf-16-le")[: 2 * longest].decode("utf-16-le", "ignore")


def free_title(wanted: str, taken: Collection[str]) -> str:
    """Return the title that a sheet may have and that none of the others has, numbered where it has to be."""
    used = {title.casefold() for title in taken}
    endings = ("" if number == 1 else f" {number}" for number in count(1))
    candidates = (legal_title(wanted, ending) for ending in endings)
    return next(title for title in candidates if title.casefold() not in used)
