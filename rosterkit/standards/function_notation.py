"""The functions written in one cell, such as ``F0f F0r F1 F8``, as the names that CVs are made from."""

import re

from rosterkit.standards.functions import CONSIST_HIGH_FUNCTIONS, LOW_FUNCTIONS

NONE = "none"
"""Written where no function is meant, as against nothing being said."""

NAMES: dict[str, tuple[str, ...]] = {
    name.casefold(): (name,) for name in (*LOW_FUNCTIONS, *CONSIST_HIGH_FUNCTIONS)
}
NAMES |= {"f0": ("F0f", "F0r"), "f13-20": ("F13-F20",), "f21-28": ("F21-F28",)}


def functions_in(text: str) -> tuple[str, ...]:
    """Return the functions that a text names, each once, in the order of the text; none gives an empty tuple.

    Names stand apart by blanks, commas or semicolons; F0 is F0f and F0r. The two groups F13-F20 and F21-F28
    have one bit each (RCN-225, 27.07.2025, CV22), so none of them can stand alone. The notation is the
    trade's (common practice). ValueError for a name that no bit of CV21 or CV22 stands for.
    """
    plain = re.sub(r"\s*[-\u2013]\s*", "-", text.strip())
    if plain.casefold() == NONE:
        return ()
    named: dict[str, None] = {}
    for word in re.split(r"[\s,;+]+", plain):
        if word and word.casefold() not in NAMES:
            raise ValueError(f"function '{word}' is not one of F0f, F0r, F1 to F12, F13-F20, F21-F28")
        named |= dict.fromkeys(NAMES.get(word.casefold(), ()))
    return tuple(named)
