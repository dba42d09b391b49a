"""Tables and the schema's verdict on them, made into a roster: defaults applied, unusable cells left out."""

from collections import deque
from collections.abc import Collection, Iterable, Sequence
from dataclasses import fields
from itertools import repeat
from typing import Any, TypeVar

from rosterkit.roster.cell_values import Value
from rosterkit.roster.model import (
    Accessory,
    AddressRange,
    ConsistMember,
    DecoderType,
    ExtraValue,
    Layout,
    Locomotive,
    Reading,
    Roster,
    SpeedGoal,
    SpeedRun,
    SpeedTable,
)
from rosterkit.roster.rows import Fault, Row
from rosterkit.roster.schema import folded, sheet
from rosterkit.roster.tables import Book, Table
from rosterkit.standards.speed_curve import TABLE_STEPS

RowKind = TypeVar("RowKind", bound=Row)
LabelledRow = TypeVar("LabelledRow", ConsistMember, ExtraValue, Reading)


def roster_of(book: Book, faults: Sequence[Fault]) -> Roster:
    """Make a roster of a book; cells with a fault count neither as their content nor as the default."""
    kinds = _rows(DecoderType, book.tables.get("Decoder types"), faults)
    members = _rows(ConsistMember, book.tables.get("Consists"), faults)
    extras = _rows(ExtraValue, book.tables.get("Extra values"), faults)
    readings = _rows(Reading, book.tables.get("Readings"), faults)
    tables = _rows(SpeedTable, book.tables.get("Speed tables"), faults)
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


def _rows(kind: type[RowKind], table: Table | None, faults: Sequence[Fault]) -> list[RowKind]:
    """Make the rows of a sheet as what they stand for, with None where the schema refuses a cell."""
    if table is None:
        return []
    refused: dict[str, set[int]] = {}
    unusable: dict[int, set[str]] = {}
    for fault in faults:
        if fault.table is table:
            refused.setdefault(fault.column.name, set()).add(fault.index)
            unusable.setdefault(fault.index, set()).add(fault.column.name)
    columns: dict[str, Iterable[Any]] = {
        column.name: usable_values(table.values[column.name], column.default, refused.get(column.name, ()))
        for column in table.sheet.filled_by_members
    }
    count = len(table.rows)
    columns["table"] = repeat(table, count)
    columns["index"] = range(count)
    columns["unusable"] = [frozenset(unusable.get(index, ())) for index in range(count)]
    if kind is SpeedTable:
        columns["steps"] = list(zip(*(columns[f"step{step}"] for step in TABLE_STEPS), strict=True))
    # Column by column through the fields' own slots: several times as fast as a call a row, which is what
    # counts with a hundred thousand engines. The rows are frozen from here on.
    rows = [object.__new__(kind) for _ in range(count)]
    for field in fields(kind):
        deque(map(getattr(kind, field.name).__set__, rows, columns[field.name]), maxlen=0)
    return rows


def usable_values(
    values: Sequence[Value | None], default: Value | None, refused: Collection[int]
) -> Sequence[Value | None]:
    """Return the values of a column with its default for blank cells, and None for those that are refused."""
    if default is not None:
        values = [default if value is None else value for value in values]
    return [None if n in refused else value for n, value in enumerate(values)] if refused else values


def _layout(table: Table | None, faults: Sequence[Fault]) -> Layout:
    settings = sheet("Layout")
    bad = {fault.column.name for fault in faults if fault.table is table}
    values: dict[str, Any] = {}
    for column in settings.columns:
        typed = table.values[column.name][0] if table and column.name not in bad else None
        values[column.name] = column.default if typed is None else typed
    return Layout(table=table, unusable=frozenset(bad), **values)
