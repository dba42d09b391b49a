"""The CVs that a record holds in columns, and in pairs below each other."""

import re
from collections.abc import Mapping
from dataclasses import dataclass, replace

from rosterkit.cv.extra_values import Index
from rosterkit.lists.plain import Place, PlainCell
from rosterkit.lists.settle.said import LONGEST_VALUE, seen_from
from rosterkit.lists.settle.words import is_unsure, means
from rosterkit.lists.vocabulary import cvs_of
from rosterkit.standards.addresses import LONG_ADDRESSES, long_address_cvs
from rosterkit.standards.bounds import BYTE, CV_NUMBERS
from rosterkit.standards.service_mode import INDEXED_CVS

BOTH_HALVES = "17/18"
_CV = "cv:"
_PAIR = (17, 18)
INDEX_CVS = (31, 32)
"""They choose what CV257 to CV512 mean (NMRA S-9.2.2, Jul 2012, CV31/32)."""
_WHOLE = re.compile(r"[0-9]{1,5}(?:\.0*)?")
_BITS = re.compile(r"[01]{4} ?[01]{4}")
"""A byte bit by bit: no value of a CV has eight digits."""
_HEXADECIMAL = re.compile(r"0x([0-9a-f]{1,2})|([0-9a-f]{1,2})h", re.IGNORECASE)
_EXPLAINED = re.compile(r"([0-9]{1,3}) ?\(([^0-9]*)\)")
_TWO = re.compile(r"([0-9]{1,3})\s*(?:[/,;+&|]|\s-\s|-|\s)\s*([0-9]{1,3})")
_NAME = re.compile(r"(?:c\.?v\.?s?)?[\s.#:_-]*0*([0-9]{1,4})", re.IGNORECASE)
_NAME_OF_PAIR = re.compile(r"(?:c\.?v\.?s?)?[\s#]*17\s*(?:[/+&,-]|and|und|et)\s*(?:cv)?\s*18", re.IGNORECASE)


@dataclass(frozen=True, slots=True)
class TypedCv:
    """The value of one CV, and the cell that it stands in."""

    cv: int
    value: int
    place: Place
    index: Index | None = None
    """CV31 and CV32, of CV257 to CV512, where they stand with it."""
    of_note: bool = False


@dataclass(frozen=True, slots=True)
class UnreadCv:
    """A cell or words of a note that speak of a CV without giving a value for sure."""

    place: Place
    message: str
    fix: str
    number: str = ""
    """The CV, as in 29 or 17/18."""


def cv_named(text: str) -> str | None:
    """Return the CV that a label names: 29 for "CV 29", 17/18 for both halves of a long address."""
    plain = text.strip().rstrip(".:")
    if _NAME_OF_PAIR.fullmatch(plain):
        return BOTH_HALVES
    if found := _NAME.fullmatch(plain):
        return str(int(found[1])) if int(found[1]) in CV_NUMBERS else None
    named = cvs_of(plain)
    return named[-1].removeprefix(_CV) if named and named[-1].startswith(_CV) else None


def cvs_in_cell(number: str, cell: PlainCell, place: Place) -> list[TypedCv | UnreadCv]:
    """Return what a cell says of a CV by its number, or of CV17 and CV18 together ("17/18").

    A whole long address beside 17/18, 256 to 10239, stands for its two halves (RCN-225, 27.07.2025, CV17/18).
    """
    text = cell.text
    if means("nothing", text) or not text:
        return []
    if len(text) > LONGEST_VALUE:
        message = f"what stands here for CV{number} is too long for a value"
        return [UnreadCv(place, message, f"Read CV{number} again.", number)]
    if number == BOTH_HALVES:
        return _both_halves(text, place)
    value = _value(cell)
    if value is None or value not in BYTE:
        message = f"'{text}' is no value of CV{number}: they are {BYTE[0]} to {BYTE[-1]}"
        return [UnreadCv(place, message, f"Read CV{number} again.", number)]
    return [TypedCv(int(number), value, place)]


def _value(cell: PlainCell) -> int | None:
    if isinstance(cell.value, bool) or not isinstance(cell.value, int | float | str):
        return None
    if _BITS.fullmatch(cell.text):
        return int(cell.text.replace(" ", ""), 2)
    if not isinstance(cell.value, str):
        return int(cell.value) if float(cell.value).is_integer() else None
    if found := _HEXADECIMAL.fullmatch(cell.text):
        return int(found[1] or found[2], 16)
    found = _EXPLAINED.fullmatch(cell.text)
    number = found[1] if found and not is_unsure(found[2]) else cell.text
    return int(float(number)) if _WHOLE.fullmatch(number) else None


def _both_halves(text: str, place: Place) -> list[TypedCv | UnreadCv]:
    if found := _TWO.fullmatch(text):
        halves = int(found[1]), int(found[2])
    elif _WHOLE.fullmatch(text) and BYTE[-1] < int(float(text)) <= LONG_ADDRESSES[-1]:
        halves = long_address_cvs(int(float(text)))
    else:
        halves = (-1, -1)
    if not set(halves) <= set(BYTE):
        message = f"'{text}' is no pair of values of CV17 and CV18, such as 212/120"
        return [UnreadCv(place, message, "Read CV17 and CV18 again.", BOTH_HALVES)]
    return [TypedCv(cv, value, place) for cv, value in zip(_PAIR, halves, strict=True)]


def indexed(found: list[TypedCv]) -> list[TypedCv]:
    """Give CV257 to CV512 the index that stands before them, in CV31 and CV32 (NMRA S-9.2.2, CV31/32)."""
    index: dict[int, int] = {}
    done = []
    for one in found:
        if one.cv in INDEX_CVS:
            index[one.cv] = one.value
        elif one.cv in INDEXED_CVS and len(index) == 2:
            done.append(replace(one, index=(index[31], index[32])))
            continue
        done.append(one)
    return done


def agreed(found: list[TypedCv]) -> tuple[dict[int, TypedCv], list[UnreadCv]]:
    """Return each CV that needs no index once, and what contradicts; what is typed in its place beats a note.

    Two values in places of the same rank leave the CV out.
    """
    kept: dict[int, TypedCv] = {}
    against: list[UnreadCv] = []
    left_out: set[int] = set()
    for one in sorted(found, key=lambda one: one.of_note):
        if one.cv in (*INDEX_CVS, *INDEXED_CVS, *left_out):
            continue
        first = kept.setdefault(one.cv, one)
        if first.value == one.value:
            continue
        there = seen_from(one.place, first.place)
        message = f"CV{one.cv} is {first.value} in {there} and {one.value} here"
        if first.of_note == one.of_note:
            del kept[one.cv]
            left_out.add(one.cv)
            message += ", so it is left out"
        against.append(UnreadCv(one.place, message, f"Read CV{one.cv} again.", str(one.cv)))
    return kept, against


def values_of(cvs: Mapping[int, TypedCv]) -> dict[int, int]:
    """Return the CVs as numbers alone."""
    return {cv: one.value for cv, one in cvs.items()}
