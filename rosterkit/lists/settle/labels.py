"""Labels of engines: one that says railway, number and model taken apart, and one made of a row."""

import re
from collections.abc import Collection
from dataclasses import dataclass

from rosterkit.lists.settle.words import words
from rosterkit.roster.schema import folded, sheet

LONGEST_LABEL = int(sheet("Locomotives")["loco"].schema["maxLength"])

_APART = re.compile(
    r"(?P<railway>[^\s0-9](?:[^0-9]*[^\s0-9])?)\s+"
    r"(?P<number>[0-9]+[A-Za-z]?(?:[-/][0-9]+[A-Za-z]?)?)(?![-/\w.]*[0-9])(?=[\s,;:()/]|$)\s*(?P<rest>.*)"
)
_CLASSED = re.compile(
    r"(?P<railway>[^\s0-9]+) (?:(?P<letters>[^\W\d_]{1,2}) )?(?P<number>[0-9]+[A-Za-z]?)(?![-/\w.])"
    r"(?P<rest>.*)"
)
"""A railway, the letters of a class if there are any, and a number: AKB V 14."""
_ENOUGH = 3
_REPORTING_MARK = re.compile(r"[A-Z][A-Z&.]{0,4}[A-Z.]")
_IN_BRACKETS = re.compile(r"\(([^()]*)\)")


@dataclass(frozen=True, slots=True)
class LabelParts:
    """What a label such as "NE 5201 GP / sound" says."""

    loco: str
    railway: str
    number: str
    model: str | None


def marks_of(labels: Collection[str], railways: Collection[str]) -> frozenset[str]:
    """Return the railways, folded, that labels of one column begin with, the letters of a class behind some.

    Only where each label of three or more is one of the kind, and what stands behind the railway changes: a
    railway of the list (folded), or letters with different classes or with none behind them.
    """
    behind: dict[str, set[str]] = {}
    for label in labels:
        found = _CLASSED.fullmatch(" ".join(label.split()))
        if found is None or not (_is_mark(found["railway"]) or folded(found["railway"]) in railways):
            return frozenset()
        behind.setdefault(folded(found["railway"]), set()).add(folded(found["letters"] or ""))
    changes = any(len(some) > 1 or some == {""} for some in behind.values())
    return frozenset(behind) if len(labels) >= _ENOUGH and changes else frozenset()


def label_parts(text: str, railways: Collection[str], marks: Collection[str] = ()) -> LabelParts | None:
    """Take a label apart where it is plain: a railway, a number, and what kind of engine it is.

    A railway is one of those that the list names (folded), or a word of two to six capitals that is no word
    for engines and no letters of a class. None for other labels: they stay whole. What follows after a dash
    may be anything and is no model. ``marks`` are railways (folded) behind which letters are those of a
    class, and belong to the number.
    """
    plain = " ".join(text.split())
    classed = _CLASSED.fullmatch(plain)
    if classed and _has_class(classed["letters"]) and _is_among(classed["railway"], marks, railways):
        railway, number = classed["railway"], f"{classed['letters']} {classed['number']}"
        return LabelParts(f"{railway} {number}", railway, number, _model(classed["rest"]))
    found = _APART.fullmatch(plain)
    if found is None:
        return None
    railway, number, rest = found["railway"], found["number"], found["rest"]
    if folded(railway) not in railways and not _is_mark(railway):
        return None
    loco = f"{railway} {number}"
    if len(loco) > LONGEST_LABEL:
        return None
    return LabelParts(loco, railway, number, _model(rest))


def _has_class(letters: str | None) -> bool:
    """Tell whether letters may be those of a class; "No" and "Nr" are none."""
    return letters is not None and folded(letters) not in words("of an address")


def _is_among(railway: str, *known: Collection[str]) -> bool:
    return any(folded(railway) in some for some in known)


def _is_mark(text: str) -> bool:
    return bool(_REPORTING_MARK.fullmatch(text)) and folded(text) not in words("no railway")


def _model(rest: str) -> str | None:
    if rest[:1] in ("-", "\u2013", "\u2014", ":"):
        return None
    plain = rest.strip(" ,;/")
    bracketed = _IN_BRACKETS.fullmatch(plain)
    return (bracketed[1] if bracketed else plain).strip() or None


def is_short_for(letters: str, railway: str) -> bool:
    """Tell whether letters may be a short form of a name: its first letter, and others in their order."""
    short = [sign for sign in folded(letters) if sign.isalpha()]
    name = iter(sign for sign in folded(railway) if sign.isalpha())
    return folded(railway)[:1] == folded(letters)[:1] and all(sign in name for sign in short)


def number_in(label: str, railway: str) -> str | None:
    """Return what a label has behind the name of a railway: 1-2 in "SM 1-2"; None where it has no digits."""
    start, _, rest = label.partition(" ")
    if folded(label).startswith(folded(railway)) and folded(start) != folded(railway):
        rest = label[len(railway) :]
    elif folded(start) != folded(railway):
        return None
    rest = rest.strip()
    return rest if any(sign.isdigit() for sign in rest) and " " not in rest else None


def made_label(railway: str | None, number: str | None, others: Collection[str | None]) -> str | None:
    """Return a label of 1 to 40 signs: railway and number, or the number, or what else there is of a row."""
    if number:
        both = f"{railway} {number}" if railway else number
        return both if len(both) <= LONGEST_LABEL else number[:LONGEST_LABEL]
    rest = " ".join(part for part in others if part)
    return rest[:LONGEST_LABEL].strip() or None


def made_unique(label: str, taken: Collection[str], counts: dict[str, int] | None = None) -> str:
    """Return a label that is not among those taken (folded): with (2), (3) … behind it where need be.

    ``counts`` remembers, for calls with the same ``taken`` as it grows, where each label's counting ended.
    """
    counts = {} if counts is None else counts
    found = label
    while folded(found) in taken:
        count = counts[folded(label)] = counts.get(folded(label), 1) + 1
        behind = f" ({count})"
        found = label[: LONGEST_LABEL - len(behind)].rstrip() + behind
    return found
