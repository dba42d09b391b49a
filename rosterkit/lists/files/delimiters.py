"""Which sign parts the cells of a text, by how alike its lines are then; quoted cells are respected."""

import csv
import re
from collections import Counter
from typing import NamedTuple

from rosterkit.lists.files.quoted import lines_of, records

NAMES = {"\t": "tab", ";": "semicolon", "|": "vertical bar", ",": "comma"}
"""The signs that part cells, the surest first: nobody types a tab into a cell, but many a comma."""

_STATED = re.compile(r'\A"?sep=(.)"?[ \t]*(?:\r\n|\r|\n|\Z)', re.IGNORECASE)
_LOOKED_AT = 400
"""Lines that are looked at."""
_LONGEST = 200_000
"""Signs that are looked at."""
_FIRM = 0.25
"""The part of lines in which a sign that hardly stands in a text has to stand."""
_LOOSE = 0.5
"""The same of a comma."""


class Delimiter(NamedTuple):
    """The sign that parts the cells of a text, and the text behind a line that only says so."""

    sign: str
    """Blank where each line is one cell."""
    text: str
    stated: bool = False


class _Judged(NamedTuple):
    """How well a sign parts the lines."""

    share: float
    """Of the lines in which it stands, from 0 to 1."""
    alike: float
    """Of those with the most common number of cells, from 0 to 1."""
    width: int
    """That number."""


def delimiter(text: str) -> Delimiter:
    """Return the sign that parts the cells of a text: as its first line says, or by its lines."""
    stated = _STATED.match(text)
    if stated:
        return Delimiter(stated[1], text[stated.end() :], stated=True)
    begin = _beginning(text)
    judged = {sign: _judged(begin, sign) for sign in NAMES if sign in begin}
    fitting = [sign for sign, found in judged.items() if _fits(found, sign, begin)]
    order = list(NAMES)
    best = max(
        fitting,
        key=lambda sign: (
            round(0.6 * judged[sign].share + 0.4 * judged[sign].alike, 1),
            judged[sign].width,
            -order.index(sign),
        ),
        default="",
    )
    return Delimiter(best, text)


def _beginning(text: str) -> str:
    """Return the first whole lines."""
    begin = text[:_LONGEST]
    if len(begin) < len(text):
        begin = begin[: max(begin.rfind("\n"), begin.rfind("\r")) + 1] or begin
    return begin


def _judged(begin: str, sign: str) -> _Judged:
    try:
        rows = [row for row, _ in records(lines_of(begin)[:_LOOKED_AT], sign) if any(map(str.strip, row))]
    except csv.Error:
        return _Judged(0, 0, 1)
    widths = Counter(len(row) for row in rows)
    parted = {width: count for width, count in widths.items() if width > 1}
    if not parted:
        return _Judged(0, 0, 1)
    width = max(parted, key=lambda one: (parted[one], one))
    return _Judged(sum(parted.values()) / len(rows), parted[width] / len(rows), width)


def _fits(found: _Judged, sign: str, begin: str) -> bool:
    if sign != ",":
        return found.share >= _FIRM
    if found.share < _LOOSE:
        return False
    # Decimal commas stand between digits, those of sentences before a blank.
    commas = begin.count(",")
    decimal = len(re.findall(r"\d,(?=\d{1,3}(?!\d))", begin))
    spoken = begin.count(", ")
    if decimal == commas and found.width == 2:
        return False
    return spoken < commas / 2 or found.alike > 0.8 * found.share
