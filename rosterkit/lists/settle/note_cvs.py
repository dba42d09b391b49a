"""The CVs that notes set: CV2=5, "cv29 set to 35", "CV 3: 10 / CV 4: 8"; what a note only tells sets none."""

import re
from collections.abc import Iterator
from functools import cache

from rosterkit.lists.plain import Place
from rosterkit.lists.settle.typed_cvs import TypedCv, UnreadCv
from rosterkit.lists.settle.words import spellings, tokens, words
from rosterkit.standards.bounds import BYTE, CV_NUMBERS

_TO = frozenset({"to", "til", "till"})
"""They may also stand between the first and the last of several."""
_AND = r"(?:and|und|et|en|och|og|e|y|a|i)\b"
_ENDS = re.compile(rf"\s*(?:$|[,;)\]\n/|+&.!]|[-\u2013]\s|\(|cv)|\s+{_AND}", re.IGNORECASE)
_ENDS_OF_WORDS = re.compile(r"\s*(?:$|[,;.)\n])")
_ENDS_OF_SETTING = re.compile(rf"\s*(?:$|[,;.)\n(])|\s+{_AND}\s*cv", re.IGNORECASE)
_GOES_ON = re.compile(r"[.,/-]?[0-9]|\s*(?:/|-|\.\.+)\s*[0-9]|\s*\?")
_NEAR = 1000
"""Signs; what stands further off in a note says nothing of a value, and notes may be long."""
_CLAUSE = re.compile(r"[,;/.\n|]")
_BEHIND = re.compile(r"\s*(?:\((?P<inside>[^()]*)\)?|,(?P<more>[^,;/.\n|0-9]*)(?![0-9]))")
"""What stands in brackets behind a value, or behind a comma without a figure."""


def cvs_in_note(text: str, place: Place) -> Iterator[TypedCv | UnreadCv]:
    """Return the CVs that a note sets: CV2=5, "cv29 = 35; cv3 set to 12", "CV 3: 10 / CV 4: 0x08".

    What a note only tells ("CV8 reads 13", "was CV3=12") sets none; what may be meant otherwise is unread.
    """
    for found in _assigned().finditer(text):
        cv, value = int(found["cv"]), _number(found)
        if not _sets(found, text) or cv not in CV_NUMBERS:
            message = f"'{found[0]}' in a note may not be a value to set"
            yield UnreadCv(place, message, "Enter the CV where it belongs.", str(cv))
        elif value not in BYTE:
            message = f"'{found[0]}' in a note is no value of CV{cv}: they are {BYTE[0]} to {BYTE[-1]}"
            yield UnreadCv(place, message, f"Read CV{cv} again.", str(cv))
        else:
            yield TypedCv(cv, value, place, of_note=True)


@cache
def _assigned() -> re.Pattern[str]:
    """Return what finds a CV, a sign or words for setting it, and a number in a note."""
    phrases = "|".join(r"\s+".join(map(re.escape, one.split())) for one in spellings("set to"))
    return re.compile(
        rf"(?<![^\W_])cv[\s.#]*0*(?P<cv>[0-9]{{1,4}})\s*"
        rf"(?:(?P<sign>:=|=>?|:|→|->)|(?<![^\W])(?P<words>{phrases})(?![^\W]))\s*"
        r"(?P<value>0x[0-9a-f]{1,2}|[0-9]{1,6})",
        re.IGNORECASE,
    )


def _number(found: re.Match[str]) -> int:
    text = found["value"].casefold()
    return int(text, 16) if text.startswith("0x") else int(text)


def _sets(found: re.Match[str], text: str) -> bool:
    """Tell whether a note sets a CV there, and neither its number nor a word near it makes that doubtful."""
    after = text[found.end() : found.end() + _NEAR]
    said = " ".join((found["words"] or "").casefold().split())
    ends = _ENDS if not said else _ENDS_OF_WORDS if said in _TO else _ENDS_OF_SETTING
    if _GOES_ON.match(after) or not ends.match(after) or (said and _is_run(found)):
        return False
    behind = _BEHIND.match(after)
    near = _CLAUSE.split(text[max(0, found.start() - _NEAR) : found.start()])[-1]
    if behind:
        near = f"{near} {behind['inside'] or behind['more'] or ''}"
    return words("unsure").isdisjoint(tokens(near))


def _is_run(found: re.Match[str]) -> bool:
    """Tell whether "CV67 to 94" names the CVs of a speed table rather than a value."""
    return (int(found["cv"]), _number(found)) == (67, 94)
