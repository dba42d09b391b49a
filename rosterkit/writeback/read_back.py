"""What somebody wrote under Read back and Done of the sheet Cards: what of it is a reading, what stays."""

import re
from collections import Counter
from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass
from datetime import datetime, timedelta

from rosterkit.cards.sheet_lines import Kept
from rosterkit.cards.typed_lines import TypedLine
from rosterkit.cv.accessory_readings import devices_by_label
from rosterkit.cv.extra_values import Index
from rosterkit.cv.readings import Moment
from rosterkit.roster.cell_values import cleaned, clock_of, shown, typed_again
from rosterkit.roster.model import Roster
from rosterkit.roster.schema import folded, sheet
from rosterkit.standards.bounds import BYTE
from rosterkit.writeback.readings import TITLE
from rosterkit.writeback.typed_pairs import NO_ANSWER
from rosterkit.xlsx.grid import Raw

_DAY = re.compile(r"\d{4}-\d{2}-\d{2}")
_TICKS = frozenset(("x", "v", "y", "yes", "ok", "done", "true", "1", "+", "✓", "✔", "√", "☑", "✅"))
"""What only says that a line is done; more than that goes into the notes of the reading."""
ReadingRow = Mapping[str, str | int | None]
"""A row of Readings, by the names of its columns."""
What = tuple[str, int | None, Index | None]
"""Of which engine or device, folded, and CV a line is."""


@dataclass(frozen=True, slots=True, kw_only=True)
class FromCards:
    """What is typed on an earlier sheet Cards, sorted by what becomes of it."""

    rows: Sequence[ReadingRow]
    """The readings, in their order."""
    read: Sequence[TypedLine]
    """The lines that they come from."""
    kept: Sequence[tuple[TypedLine, Kept]]
    """What stays on its line, where the new sheet has that line."""


def read_back(lines: Sequence[TypedLine], roster: Roster, moment: Moment) -> FromCards:
    """Judge each line of an earlier sheet Cards as a recorded reading is judged.

    A value of an engine or device that is there once is a reading: 0 to 255, or ``-`` without an
    acknowledgment. It is of the day that stands under Done, or of that of ``moment``. What is no value stays,
    and so does what stands under Done alone: a value keyed in is not one read back.
    """
    engines = Counter(folded(one.loco) for one in roster.engines if one.loco)
    known = {label for label, count in engines.items() if count == 1} | devices_by_label(roster).keys()
    read: list[TypedLine] = []
    kept: list[tuple[TypedLine, Kept]] = []
    for line in lines:
        if line.key.cv is not None and line.key.loco in known and _is_reading(line.read_back):
            read.append(line)
        else:
            kept.append((line, _kept(line)))
    read.sort(key=lambda line: (not line.only_reads, line.row))
    return FromCards(rows=list(_rows(read, moment)), read=read, kept=kept)


def _kept(line: TypedLine) -> Kept:
    done, typed = (None if raw == "" else typed_again(raw) for raw in (line.done, line.read_back))
    caution = None
    if typed is not None and not _is_reading(line.read_back):
        caution = (
            f"Read back of {line.about}: '{shown(line.read_back)}' is not a value from 0 to {BYTE[-1]}, nor "
            f"{NO_ANSWER} where there was no acknowledgment."
        )
    return Kept(done=done, read_back=typed, caution=caution)


def _is_reading(raw: Raw) -> bool:
    value = value_of(raw)
    return value == NO_ANSWER or (isinstance(value, int) and not isinstance(value, bool) and value in BYTE)


def value_of(raw: Raw) -> object:
    """Return what is typed under Read back as the column Value of Readings takes it."""
    return cleaned(sheet(TITLE)["value"], raw)


def _rows(lines: Sequence[TypedLine], moment: Moment) -> Iterator[ReadingRow]:
    """Return the readings; of one CV that stands on several lines the earlier lines are seconds older."""
    later = Counter((what_of(line), _day(line, moment)) for line in lines)
    for line in lines:
        day = _day(line, moment)
        later[what_of(line), day] -= 1
        value = value_of(line.read_back)
        high, low = line.key.index or (None, None)
        yield {
            "date": day,
            "time": _time(line, moment, later[what_of(line), day]),
            "loco": line.label,
            "cv": line.key.cv,
            "value": value if isinstance(value, int) else None,
            "index_high": high,
            "index_low": low,
            "notes": _note(line),
        }


def what_of(line: TypedLine) -> What:
    """Return of which engine and CV a line is."""
    return line.key.loco, line.key.cv, line.key.index


def _typed_day(raw: Raw) -> str | None:
    """Return the day that stands under Done, as 2026-05-31; None where no day does."""
    value = cleaned(sheet(TITLE)["date"], raw)
    if not isinstance(value, str) or not _DAY.fullmatch(value):
        return None
    try:
        return datetime.fromisoformat(value).date().isoformat()
    except ValueError:
        return None


def _day(line: TypedLine, moment: Moment) -> str:
    return _typed_day(line.done) or moment.day


def _time(line: TypedLine, moment: Moment, seconds: int) -> str | None:
    clock = clock_of(line.done) if _typed_day(line.done) else None
    if clock is None and _day(line, moment) == moment.day:
        clock = moment.time
    if clock is None:
        return None
    earliest = datetime.fromisoformat("2000-01-01")
    then = datetime.fromisoformat(f"2000-01-01 {clock}") - timedelta(seconds=seconds)
    return max(then, earliest).time().isoformat("seconds")


def is_tick(raw: Raw) -> bool:
    """Tell whether what stands under Done only says that a line is done, or on which day; or nothing."""
    return raw == "" or _typed_day(raw) is not None or folded(shown(raw)) in _TICKS


def _note(line: TypedLine) -> str | None:
    return None if is_tick(line.done) else str(typed_again(line.done))
