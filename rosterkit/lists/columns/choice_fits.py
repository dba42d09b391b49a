"""How well cells fit a choice that may be ticked: the heading says then which one a tick means."""

import re

from rosterkit.lists.columns.contents import Contents
from rosterkit.lists.columns.values import is_steps, means

_KIND = means("short", "long")
_KIND_DIGITS = frozenset({"2", "4"})
_LONG = ("long", "lang", "lång", "lung", "larg", "dlouh", "długi", "exten", "4-digit", "4 digit")
_WAY = means("forward", "reverse")
_REVERSED = means("reverse")
_TURNED = ("rev", "gedreht", "turned", "umgepolt", "getauscht", "inver", "omgekeerd")
_NAMED_STEPS = re.compile(r"\b(?:14|28|128)\b(?!\s*/)")


def kind_fit(contents: Contents, heading: str) -> float:
    """Return the share, 0 to 1, of cells that say short or long; ticks below a heading that says long."""
    words = contents.share(lambda text: _KIND(text) or text.strip() in _KIND_DIGITS)
    return max(words, contents.answers if any(word in heading.casefold() for word in _LONG) else 0.0)


def direction_fit(contents: Contents, heading: str) -> float:
    """Return the share, 0 to 1, of cells that say a direction; ticks below a heading that says reversed."""
    ticked = any(word in heading.casefold() for word in _TURNED) or _REVERSED(heading)
    return max(contents.share(_WAY), contents.answers if ticked else 0.0)


def steps_fit(contents: Contents, heading: str) -> float:
    """Return the share, 0 to 1, of cells that say speed steps; ticks below a heading that says how many."""
    named = bool(_NAMED_STEPS.search(heading))
    return max(contents.share(is_steps), contents.answers if named else 0.0)
