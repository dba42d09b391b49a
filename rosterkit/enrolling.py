"""Tables and the schema's verdict on them, made into a roster: defaults applied, unusable cells left out."""

from collections.abc import Callable, Sequence
from typing import Any, TypeVar

from rosterkit.book import Book, Table
from rosterkit.cleaning import Value
from rosterkit.roster import AddressRange, DecoderType, Fault, Layout, Locomotive, Roster, Row
from rosterkit.sheets import folded, sheet

RowKind = TypeVar("RowKind", bound=Row)


def roster_of(book: Book, faults: Sequence[Fault]) -> Roster:
    """Make a roster of a book; cells with a fault count neither as their content nor as the default."""
    kinds = _rows(DecoderType, book.tables.get("Decoder types"), faults)
    return Roster(
        book=book,
        faults=faults,
        layout=_layout(book.tables.get("Layout"), faults),
        engines=_rows(Locomotive, book.tables.get("Locomotives"), faults),
        decoder_types=kinds,
        decoders={folded(kind.decoder): kind for kind in reversed(kinds) if kind.decoder is not None},
        ranges=_rows(AddressRange, book.tables.get("Address ranges"), faults),
    )


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
