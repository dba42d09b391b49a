"""What each heading of a table may stand for, by its words, and how much they say for it."""

import re
from collections import Counter
from collections.abc import Sequence
from dataclasses import dataclass
from itertools import pairwise

from rosterkit.lists.columns.values import words
from rosterkit.lists.plain import Place
from rosterkit.lists.reading import OWN
from rosterkit.lists.tables import Heading, Table
from rosterkit.lists.vocabulary import Known, cvs_of, folded_heading, looked_up

_BARE_CV = re.compile(r"\d{1,4}")
_COUNTED = re.compile(r"(\D+?)[\s#._-]*[1-9]")
_TWINNED = frozenset({"decoder", "owner", "railway", "model", "fault"})
"""Of two columns for one of these the first is the engine's own; of two addresses neither is sure to be."""
_WORTH = {Known.WHOLE: 1.0, Known.WORD: 0.9, Known.TYPO: 0.85}
AMBIGUOUS = 0.9
"""What the first meaning of a word that has several is worth, and what each further one is worth less."""
LATER = 0.1


@dataclass(frozen=True, slots=True)
class Candidate:
    """One thing that a heading may stand for."""

    field: str
    worth: float
    """What its words say for it, up to 1."""
    rank: int
    """0 for its likeliest meaning."""
    choices: int
    """How many meanings it has."""
    known: Known


def candidates_of(table: Table) -> list[tuple[Candidate, ...]]:
    """Return what each heading of a table may stand for, the likeliest first; () where it is not known."""
    shared = _shared(table)
    found = [_of(heading, shared) for heading in table.headings]
    short, long = (_addresses(table, found, kind) for kind in ("short", "long"))
    if short and long:
        # The short address is what CV1 holds (NMRA S-9.2.2); beside a long one it may be out of use.
        found[short[0]] = _made(("cv:1",), Known.WORD)
    for first in set(twins(table).values()):
        fields, _ = looked_up(table.headings[first].text.strip()[:-1].rstrip(" #.-_"))
        found[first] = _made(fields, Known.WORD)
    for number in _bare_cvs(table):
        fields = cvs_of(f"CV {table.headings[number].text}")
        found[number] = _made(fields, Known.WORD)
    return found


def twins(table: Table) -> dict[int, int]:
    """Return the headings such as Decoder 2 that have one of a lower number beside them, and that one."""
    found: dict[int, int] = {}
    first: dict[str, int] = {}
    for number, heading in enumerate(table.headings):
        counted = _COUNTED.fullmatch(heading.text.strip())
        if counted and looked_up(counted[1])[0][:1] and looked_up(counted[1])[0][0] in _TWINNED:
            bare = folded_heading(counted[1])
            if bare in first:
                found[number] = first[bare]
            first.setdefault(bare, number)
    return found


def _of(heading: Heading, shared: frozenset[Place]) -> tuple[Candidate, ...]:
    fields, known = looked_up(heading.text)
    if known is not Known.WHOLE and fields != (OWN,) and len(heading.at) > 1:
        fields, known = _of_lines(heading, shared, fields, known)
    return _made(fields, known)


def _of_lines(
    heading: Heading, shared: frozenset[Place], fields: tuple[str, ...], known: Known
) -> tuple[tuple[str, ...], Known]:
    """Return what the lines of a heading say, unless one makes it something of one's own.

    The lowest line says most, alone or with the one above it; ``shared`` are cells above several columns,
    which say little of each.
    """
    lines = [at.cell.text for at in heading.at]
    if any(looked_up(line)[0] == (OWN,) for line in lines):
        return (OWN,), Known.WORD
    last_two = [] if len(lines) < 3 else [" ".join(lines[-2:])]
    above = [at.cell.text for at in reversed(heading.at[:-1]) if at.place not in shared]
    for line in (*last_two, lines[-1], *above):
        inner, how = looked_up(line)
        if inner and how is not Known.TYPO:
            return inner, min(how, Known.WORD)
    return fields, known


def _shared(table: Table) -> frozenset[Place]:
    """Return the heading cells that stand above more than one column."""
    often = Counter(at.place for one in table.headings for at in one.at)
    return frozenset(place for place, times in often.items() if times > 1)


def _made(fields: tuple[str, ...], known: Known) -> tuple[Candidate, ...]:
    named = [field for field in fields if field != OWN and fields[0] != OWN]
    several = len(fields) > 1
    best = _WORTH.get(known, 0.0) * (AMBIGUOUS if several else 1.0)
    return tuple(
        Candidate(field, best - LATER * fields.index(field), fields.index(field), len(fields), known)
        for field in named
    )


def _addresses(table: Table, found: Sequence[tuple[Candidate, ...]], kind: str) -> list[int]:
    """Return the headings of addresses of one kind: Short addr, Adresse lang."""
    return [
        number
        for number, heading in enumerate(table.headings)
        if found[number] and found[number][0].field == "address"
        if any(word in words(kind) for word in folded_heading(heading.text).split())
    ]


def _bare_cvs(table: Table) -> list[int]:
    """Return the headings that are a bare number where the table speaks of CVs: 2, 3, 4, 29 behind "CV"."""
    bare = [number for number, one in enumerate(table.headings) if _BARE_CV.fullmatch(one.text.strip())]
    numbers = {int(table.headings[number].text) for number in bare}
    if len(bare) < 2:
        return []
    spoken = "cv" in table.sheet.casefold() or any("cv" in one.text.casefold() for one in table.headings)
    together = all(right - left == 1 for left, right in pairwise(bare))
    return bare if spoken or (29 in numbers and together) else []
