"""What was read at the bench, typed as pairs of a CV and its value."""

import re
from collections.abc import Iterable
from dataclasses import dataclass

from rosterkit.cv.extra_values import CvKey, Index
from rosterkit.cv.to_read import INDEX_CVS
from rosterkit.errors import CannotRunError
from rosterkit.standards.bounds import BYTE, CV_NUMBERS
from rosterkit.standards.service_mode import INDEXED_CVS

NO_ANSWER = "-"
"""Typed in place of a value where the decoder gave no acknowledgment."""


@dataclass(frozen=True, slots=True, kw_only=True)
class ReadBack:
    """One CV as it was read back."""

    cv: int
    value: int | None
    """None where the decoder gave no acknowledgment."""
    index: Index | None = None


def parse_read_back(texts: Iterable[str]) -> list[ReadBack]:
    """Read ``CV=VALUE`` pairs such as ``29=34``, in one text or several; ``19=-`` where nothing answered.

    CV31 and CV32 among them are the index of the CVs 257 to 512 that follow.

    Raises:
        CannotRunError: if one is no such pair, none is given, or a CV has two values under one index.
    """
    found: list[ReadBack] = []
    pointer: dict[int, int] = {}
    for pair in " ".join(texts).replace(",", " ").split():
        cv, value = _pair(pair)
        if cv in INDEX_CVS and value is not None:
            pointer[cv] = value
        index = (pointer[31], pointer[32]) if cv in INDEXED_CVS and len(pointer) == 2 else None
        found.append(ReadBack(cv=cv, value=value, index=index))
    _require_one_value_each(found)
    if not found:
        raise CannotRunError(
            "there is nothing to record", "Give what was read, such as --record '29=34 19=0'."
        )
    return found


def _require_one_value_each(readings: Iterable[ReadBack]) -> None:
    """See that no CV has two values; CV31 and CV32 may, before the CVs of each index."""
    known: dict[CvKey, ReadBack] = {}
    for one in readings:
        first = known.setdefault((one.cv, one.index), one)
        if first.value != one.value and one.cv not in INDEX_CVS:
            pairs = [f"{one.cv}={NO_ANSWER if it.value is None else it.value}" for it in (first, one)]
            raise CannotRunError(
                f"CV{one.cv} is given twice, {pairs[0]} and {pairs[1]}", "Give it once, as it was read last."
            )


def read_back_words(readings: Iterable[ReadBack]) -> str:
    """Say what was read, CV by CV."""
    return ", ".join(
        f"CV{one.cv} gave no acknowledgment" if one.value is None else f"CV{one.cv} read {one.value}"
        for one in readings
    )


def _pair(pair: str) -> tuple[int, int | None]:
    match = re.fullmatch(r"(?:CV)?([0-9]{1,5})=([0-9]{1,5}|-)", pair, re.IGNORECASE)
    if match is None:
        raise CannotRunError(
            f"'{pair}' is not a CV and its value",
            f"Write CV=VALUE, such as 29=34, or 29={NO_ANSWER} where there was no acknowledgment.",
        )
    number, byte = int(match[1]), None if match[2] == NO_ANSWER else int(match[2])
    if number not in CV_NUMBERS or (byte is not None and byte not in BYTE):
        raise CannotRunError(
            f"'{pair}': CVs are 1 to {CV_NUMBERS[-1]} and their values 0 to {BYTE[-1]}",
            "Correct the CV or its value.",
        )
    return number, byte
