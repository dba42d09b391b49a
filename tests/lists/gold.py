"""What a patient keeper makes of a list, as gold.json beside the lists says it."""

import json
from collections.abc import Mapping
from dataclasses import dataclass
from pathlib import Path
from typing import Any

Value = str | int | float | None

OLDER = {
    "start": "vstart",
    "top": "vhigh",
    "middle": "vmid",
    "braking": "deceleration",
    "dc_running": "dc_operation",
    "accessory address": "address",
}
"""Names that columns once had, in gold written before they were renamed."""

CV_COLUMNS = {
    "cv:2": "vstart",
    "cv:3": "acceleration",
    "cv:4": "deceleration",
    "cv:5": "vhigh",
    "cv:6": "vmid",
}
"""Of the two ways to say which column of the roster holds a CV, the one that is compared."""

BLANK_UNLESS_SAID = ("address", "meet_address", "length", "stall", "decoder")
"""Fields that have to be blank where the gold of an engine does not speak of them."""


def field_name(name: str) -> str:
    """Return what a column is read as, in the words of today's schema."""
    name = OLDER.get(name, name)
    return CV_COLUMNS.get(name, name)


@dataclass(frozen=True, slots=True)
class Gold:
    """What one list comes to."""

    file: str
    columns: Mapping[str, frozenset[str]]
    """By key of a heading: every reading of it that is right."""
    engines: Mapping[str, Mapping[str, tuple[Value, ...]]]
    """By key of a record: the values that are right, None for a blank."""
    extras: tuple[tuple[str, int, int], ...]
    """Label of an engine, CV and value."""
    consists: tuple[tuple[str, int, str], ...] | None
    """Label of an engine, consist address and facing; None where they are not judged."""
    speed_tables: tuple[tuple[int, ...], ...] | None
    doubts: tuple[str, ...]
    """Cells at which a doubt has to stand, as SHEET!C5."""
    either: tuple[str, ...]
    """Beginnings of the keys of records that may be engines or not, such as those of a wish list."""
    optional: bool
    """Whether a careful reader may find no engines at all, as in a list without headings."""


def golds(folder: Path) -> tuple[Gold, ...]:
    """Return what gold.json of a folder says of each list."""
    return tuple(_gold(one) for one in json.loads((folder / "gold.json").read_text(encoding="utf-8")))


def _gold(one: Mapping[str, Any]) -> Gold:
    consists = one.get("consists")
    tables = one.get("speed_tables")
    return Gold(
        file=one["file"],
        columns={
            key: frozenset(field_name(name or "own") for name in _each(names))
            for key, names in one["columns"].items()
        },
        engines={
            key: {
                field_name(name): tuple(v if v != "" else None for v in _each(wanted))
                for name, wanted in engine.items()
            }
            for key, engine in one["engines"].items()
        },
        extras=tuple((loco, cv, value) for loco, cv, value in one.get("extras", ())),
        consists=None
        if consists is None
        else tuple((loco, address, facing) for loco, address, facing in consists),
        speed_tables=None if tables is None else tuple(tuple(table) for table in tables),
        doubts=tuple(one.get("doubts", ())),
        either=tuple(one.get("either", ())),
        optional=one.get("optional", False),
    )


def _each(accepted: Any) -> list[Any]:
    return accepted if isinstance(accepted, list) else [accepted]
