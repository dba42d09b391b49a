"""A conflict as the sheet Merge keeps it beside what people see: with types, and by what its row is known."""

import json
from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass
from datetime import date, datetime, time, timedelta

from rosterkit.roster.schema import folded
from rosterkit.versions.merged import ConflictKind, SideValue
from rosterkit.xlsx.grid import Raw, ScientificNumber

_SIGN = "merge:"
"""How the kept text of a conflict begins."""
_GOES_ON = "merge+"
"""How a cell begins that goes on with the text in the one before it."""
_LONGEST = 30_000
"""Signs of one such cell; a limit of the format is near."""
BASE = "base"
"""The word under Keep for what stood there before anybody changed it."""
REMOVED = "removed"
"""What a side of a conflict of rows wants, which deleted the row."""


@dataclass(frozen=True, slots=True, kw_only=True)
class ConflictRecord:
    """All that is needed to resolve a conflict in a workbook that was sorted and saved elsewhere since."""

    kind: ConflictKind
    sheet: str
    row: int
    """Its sheet row when this was written."""
    column: str | None
    label: str
    """What people know the row by."""
    marks: Mapping[str, str]
    """What else it is known by: headings, or letters of columns, with what stands there in words."""
    base: Raw
    sides: tuple[SideValue, ...]
    kept: str | None = None
    """The side that was kept when it was resolved."""

    @property
    def choices(self) -> tuple[str, ...]:
        """The words that may stand under Keep: each side, and the base; of a row each side only.

        A row that somebody changed and another deleted stays with its changes, and is not made as it was.
        """
        base = (BASE,) if self.kind is ConflictKind.CELL else ()
        return (*(name for side in self.sides for name in side.sources), *base)

    def wanted(self, keep: str) -> tuple[str, Raw] | None:
        """Return the name of a side, whatever its letter case, and what it wants; None if there is none."""
        for side in self.sides:
            for name in side.sources:
                if folded(name) == folded(keep):
                    return name, side.value
        return (BASE, self.base) if folded(keep) == BASE and BASE in self.choices else None


def record_texts(record: ConflictRecord, cells: int = 0) -> list[str]:
    """Return the cells that keep a conflict: one, or more where long texts are in conflict.

    Args:
        record: The conflict.
        cells: How many they are to be, as so many kept it before; 0 for as many as it takes.
    """
    document = {
        "kind": record.kind.value,
        "sheet": record.sheet,
        "row": record.row,
        "column": record.column,
        "label": record.label,
        "marks": record.marks,
        "base": _packed(record.base),
        "sides": [[list(side.sources), _packed(side.value), side.place] for side in record.sides],
        "kept": record.kept,
    }
    text = json.dumps(document, ensure_ascii=True, separators=(",", ":"))
    size = -(-len(text) // cells) if cells else _LONGEST
    pieces = [text[start : start + size] for start in range(0, len(text), size)]
    return [(_GOES_ON if place else _SIGN) + piece for place, piece in enumerate(pieces)]


def record_place(cells: Sequence[Raw]) -> int | None:
    """Return the column, from 1, at which a row begins to keep a conflict; None if it keeps none."""
    found = (at for at, cell in enumerate(cells, 1) if isinstance(cell, str) and cell.startswith(_SIGN))
    return next(found, None)


def record_in(cells: Sequence[Raw]) -> ConflictRecord | None:
    """Read a conflict from a row of the sheet; None where it holds none, or one that was damaged."""
    at = record_place(cells)
    if at is None:
        return None
    text = str(cells[at - 1]).removeprefix(_SIGN) + "".join(_further(cells[at:]))
    try:
        return _record(json.loads(text))
    except (ValueError, TypeError, KeyError, LookupError):
        return None


def cells_of_record(cells: Sequence[Raw]) -> int:
    """Count the cells that keep a conflict, from the first of them on."""
    return 1 + len(list(_further(cells[1:])))


def _further(cells: Iterable[Raw]) -> Iterable[str]:
    for cell in cells:
        if not (isinstance(cell, str) and cell.startswith(_GOES_ON)):
            return
        yield cell.removeprefix(_GOES_ON)


def _record(document: Mapping[str, object]) -> ConflictRecord:
    sides, marks, row = document["sides"], document["marks"], document["row"]
    column, kept = document["column"], document["kept"]
    if not isinstance(sides, list) or not isinstance(marks, dict) or not isinstance(row, int):
        raise TypeError
    return ConflictRecord(
        kind=ConflictKind(str(document["kind"])),
        sheet=str(document["sheet"]),
        row=row,
        column=None if column is None else str(column),
        label=str(document["label"]),
        marks={str(name): str(text) for name, text in marks.items()},
        base=_unpacked(document["base"]),
        sides=tuple(
            SideValue(sources=tuple(map(str, names)), value=_unpacked(value), place=str(place))
            for names, value, place in sides
        ),
        kept=None if kept is None else str(kept),
    )


def _packed(raw: Raw) -> list[str | int | float | bool]:
    if isinstance(raw, bool):
        return ["truth", raw]
    if isinstance(raw, int | float):
        return ["number", raw]
    if isinstance(raw, ScientificNumber):
        return ["scientific", raw.value]
    if isinstance(raw, datetime):
        return ["moment", raw.isoformat()]
    if isinstance(raw, date):
        return ["date", raw.isoformat()]
    if isinstance(raw, time):
        return ["time", raw.isoformat()]
    if isinstance(raw, timedelta):
        return ["duration", raw / timedelta(milliseconds=1)]
    return ["text", str(raw)]


def _unpacked(packed: object) -> Raw:
    if not isinstance(packed, list):
        raise TypeError
    kind, value = packed
    match kind:
        case "truth":
            return bool(value)
        case "number":
            return float(value)
        case "scientific":
            return ScientificNumber(float(value))
        case "moment":
            return datetime.fromisoformat(str(value))
        case "date":
            return date.fromisoformat(str(value))
        case "time":
            return time.fromisoformat(str(value))
        case "duration":
            return timedelta(milliseconds=float(value))
    return str(value)
