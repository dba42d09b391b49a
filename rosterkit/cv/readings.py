"""What was read at the track: the newest reading of each CV, and how it compares with the roster."""

from collections.abc import Iterable, Mapping
from dataclasses import dataclass
from enum import StrEnum

from rosterkit.cv.extra_values import CvKey, Index, index_of
from rosterkit.roster.model import ExtraValue, Reading, Roster
from rosterkit.roster.schema import folded
from rosterkit.standards.bounds import BYTE
from rosterkit.standards.configuration import EVERY_BIT, is_accessory
from rosterkit.standards.consists import CONSIST_CV, REVERSED_BIT
from rosterkit.standards.service_mode import INDEXED_CVS
from rosterkit.standards.speed_curve import SPEED_TABLE_CVS

_ORDINARY_AT_255 = (5, 6, 18, SPEED_TABLE_CVS[-1])


class Verdict(StrEnum):
    """How a reading compares with what the roster says."""

    AGREES = "agrees"
    DIFFERS = "differs"
    NOT_SET_HERE = "not set here"


@dataclass(frozen=True, slots=True, kw_only=True)
class Moment:
    """The day and, where it is known, the time of day at which something was read."""

    day: str
    """As 2026-05-31."""
    time: str | None
    """As 20:15:30; None where it is not known."""


def newest_readings(roster: Roster, loco: str | None) -> dict[CvKey, Reading]:
    """Return an engine's newest reading of each CV, by date, time and then by the row.

    A reading without a date is older than every dated one, and one without a time than those of its day
    with one. A row whose CV or value cannot be used is
    left out; one with a blank value stands for a decoder that did not answer.
    """
    if not roster.readings:
        return {}
    extras = roster.extras_of.get(folded(loco or ""), ())
    found: dict[CvKey, Reading] = {}
    for reading in _oldest_first(roster, loco):
        if reading.cv is not None and "value" not in reading.unusable:
            found[key_of(reading.cv, index_of(reading), extras)] = reading
    return found


def _oldest_first(roster: Roster, loco: str | None) -> list[Reading]:
    readings = roster.readings_of.get(folded(loco or ""), ())
    return sorted(readings, key=order_of)


def order_of(reading: Reading) -> tuple[str, str, int]:
    """Return by what readings are put in order, the oldest first: day, time of day, row."""
    return reading.date or "", reading.time or "", reading.index


def contradicting_readings(
    roster: Roster, loco: str | None, alias_offset: int | None = None
) -> list[list[Reading]]:
    """Return the readings of a CV of which any may be the newest, in the order of rows, where values differ.

    They are of the newest day, and have no time, or the latest of that day; one list a CV. With an
    ``alias_offset`` CVs above it are those that much below. Values that cannot be used are left out.
    """
    extras = roster.extras_of.get(folded(loco or ""), ())
    by_key: dict[CvKey, list[Reading]] = {}
    for reading in roster.readings_of.get(folded(loco or ""), ()):
        if reading.cv is not None and not reading.unusable & {"date", "time", "value"}:
            cv, index = key_of(reading.cv, index_of(reading), extras)
            plain = cv - alias_offset if alias_offset and cv > alias_offset else cv
            by_key.setdefault((plain, index), []).append(reading)
    found = []
    for readings in by_key.values():
        day, time, _ = max(map(order_of, readings))
        rivals = [one for one in readings if (one.date or "") == day and one.time in (None, time)]
        if len({one.value for one in rivals}) > 1:
            found.append(rivals)
    return found


def unreadable_readings(roster: Roster, loco: str | None) -> set[CvKey]:
    """Return the CVs of an engine whose newest reading has a value that cannot be used.

    An older one then tells nothing of what the decoder holds now.
    """
    if not roster.readings:
        return set()
    extras = roster.extras_of.get(folded(loco or ""), ())
    found: dict[CvKey, bool] = {}
    for reading in _oldest_first(roster, loco):
        if reading.cv is not None:
            found[key_of(reading.cv, index_of(reading), extras)] = "value" in reading.unusable
    return {key for key, unreadable in found.items() if unreadable}


def configuration_read(roster: Roster, loco: str | None) -> int | None:
    """Return what CV29 of an engine read last, 0 to 127; None where no reading tells.

    A reading without a value tells nothing, nor does one with bit 7: that is an accessory decoder's
    (NMRA S-9.2.2 (Jul 2012), CV29), or 255 where nothing was read.
    """
    if not roster.readings:
        return None
    values = [one.value for one in _oldest_first(roster, loco) if one.cv == 29 and one.value is not None]
    return next((value for value in reversed(values) if not is_accessory(value)), None)


def key_of(cv: int, index: Index | None, extras: Iterable[ExtraValue]) -> CvKey:
    """Return what a reading of a CV, 1 to 1024, is about, with CV31 and CV32 where they were noted.

    Where the engine's extra values have the CV under one index only, it is that one.
    """
    if cv not in INDEXED_CVS:
        return cv, None
    indexes = {index_of(extra) for extra in extras if extra.cv == cv} - {None}
    return cv, index or (indexes.pop() if len(indexes) == 1 else None)


def wanted_for(reading: Reading, roster: Roster, wanted: Mapping[CvKey, int]) -> int | None:
    """Return what the roster says of the CV that a reading is about; None where it says nothing."""
    if reading.cv is None:
        return None
    extras = roster.extras_of.get(folded(reading.loco or ""), ())
    return wanted.get(key_of(reading.cv, index_of(reading), extras))


def agree(cv: int, value: int, wanted: int, stated: int = EVERY_BIT) -> bool:
    """Tell whether a CV, 1 to 1024, holds what is wanted in the bits that the roster states, all 0 to 255.

    CV19 of 0 and of 128 are both no consist (NMRA S-9.2.2 (Jul 2012), CV19).
    """
    return not (value ^ wanted) & stated or (cv == CONSIST_CV and not (value | wanted) & ~REVERSED_BIT)


def verdict(cv: int | None, value: int | None, wanted: int | None, stated: int = EVERY_BIT) -> Verdict | None:
    """Compare what was read of a CV with what is wanted, in the bits that the roster states.

    None where nothing was read.
    """
    if cv is None or value is None:
        return None
    if wanted is None:
        return Verdict.NOT_SET_HERE
    return Verdict.AGREES if agree(cv, value, wanted, stated) else Verdict.DIFFERS


def nothing_read(values: Iterable[tuple[int, int | None]]) -> bool:
    """Tell whether what was read of several CVs, None without an answer, is nothing at all.

    Many stations show 255 without an answer (common practice, no source). 255 is ordinary in CV5 and CV6,
    full drive, in the last entry of a speed table, and in CV18, the low byte of a long address.
    """
    read = tuple(values)
    if len(read) < 2 or any(value not in (None, BYTE[-1]) for _, value in read):
        return False
    return any(value is None or cv not in _ORDINARY_AT_255 for cv, value in read)
