"""Tables and the schema's verdict on them, made into a roster: defaults applied, unusable cells left out."""

from collections.abc import Callable, Sequence
from typing import Any, TypeVar

from rosterkit.book import Book, Table
from rosterkit.cleaning import Value
from rosterkit.roster import (
    Accessory,
    AddressRange,
    ConsistMember,
    DecoderType,
    ExtraValue,
    Fault,
    Layout,
    Locomotive,
    Reading,
    Roster,
    Row,
    SpeedGoal,
    SpeedRun,
    SpeedTable,
)
from rosterkit.sheets import folded, sheet
from rosterkit.standards.speed_curve import TABLE_STEPS

RowKind = TypeVar("RowKind", bound=Row)
LabelledRow = TypeVar("LabelledRow", ConsistMember, ExtraValue, Reading)


def roster_of(book: Book, faults: Sequence[Fault]) -> Roster:
    """Make a roster of a book; cells with a fault count neither as their content nor as the default."""
    kinds = _rows(DecoderType, book.tables.get("Decoder types"), faults)
    members = _rows(ConsistMember, book.tables.get("Consists"), faults)
    extras = _rows(ExtraValue, book.tables.get("Extra values"), faults)
    readings = _rows(Reading, book.tables.get("Readings"), faults)
    tables = _rows(_speed_table, book.tables.get("Speed tables"), faults)
    return Roster(
        book=book,
        faults=faults,
        layout=_layout(book.tables.get("Layout"), faults),
        engines=_rows(Locomotive, book.tables.get("Locomotives"), faults),
        decoder_types=kinds,
        decoders={folded(kind.decoder): kind for kind in reversed(kinds) if kind.decoder is not None},
        ranges=_rows(AddressRange, book.tables.get("Address ranges"), faults),
        consist_members=members,
        accessories=_rows(Accessory, book.tables.get("Accessories"), faults),
        extra_values=extras,
        speed_tables=tables,
        speed_runs=_rows(SpeedRun, book.tables.get("Speed runs"), faults),
        speed_goals=_rows(SpeedGoal, book.tables.get("Speed goals"), faults),
        readings=readings,
        consist_of={label: rows[0] for label, rows in _by_loco(members).items()},
        extras_of=_by_loco(extras),
        tables={folded(one.label): one for one in reversed(tables) if one.label is not None},
        readings_of=_by_loco(readings),
    )


def _by_loco(rows: Sequence[LabelledRow]) -> dict[str, list[LabelledRow]]:
    found: dict[str, list[LabelledRow]] = {}
    for row in rows:
        if row.loco is not None:
            found.setdefault(folded(row.loco), []).append(row)
    return found


def _speed_table(*, label: str | None, **fields: Any) -> SpeedTable:
    steps = tuple(fields.pop(f"step{step}") for step in TABLE_STEPS)
    return SpeedTable(label=label, steps=steps, **fields)


def _rows(make: Callable[..., RowKind], table: Table | None, faults: Sequence[Fault]) -> list[RowKind]:
    if table is None:
        return []
    unusable: dict[int, set[str]] = {}
    for fault in faults:
        if fault.table is table:
            unusable.setdefault(fault.index, set()).add(fault.column.name)
    names = [column.name for column in table.sheet.filled_by_members]
    columns = [_with_defaults(table, name) for name in names]
    rows: list[RowKind] = []
    for index, values in enumerate(zip(*columns, strict=True)):
        fields: dict[str, Any] = dict(zip(names, values, strict=True))
        bad = unusable.get(index)
        if bad:
            fields |= dict.fromkeys(bad)
        rows.append(make(table=table, index=index, unusable=frozenset(bad or ()), **fields))
    return rows


def _with_defaults(table: Table, name: str) -> Sequence[Value | None]:
    values = table.values[name]
    default = table.sheet[name].default
    return values if default is None else [default if value is None else value for value in values]


def _layout(table: Table | None, faults: Sequence[Fault]) -> Layout:
    settings = sheet("Layout")
    bad = {fault.column.name for fault in faults if fault.table is table}
    values: dict[str, Any] = {}
    for column in settings.columns:
        typed = table.values[column.name][0] if table and column.name not in bad else None
        values[column.name] = column.default if typed is None else typed
    return Layout(table=table, **values)
