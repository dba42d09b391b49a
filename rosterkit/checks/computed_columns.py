"""The check of computed cells against the rows that they were computed from."""

from collections.abc import Iterable, Iterator

from rosterkit.checks.framework import RUN_FILL, Scope, check
from rosterkit.findings import Hit, Place, Severity
from rosterkit.live.stored import State
from rosterkit.roster.cell_values import shown
from rosterkit.roster.model import Roster
from rosterkit.roster.schema import Column
from rosterkit.roster.tables import Table
from rosterkit.writeback.computed_columns import computed_rows, may_be_ours
from rosterkit.writeback.stored_formulas import StoredFormulas, stored_formulas
from rosterkit.writeback.typed_values import typed_values, was_filled
from rosterkit.xlsx.grid import Calculated, CellError, NoStoredValue, Raw

_LABELS = {"Locomotives": "loco", "Consists": "loco", "Accessories": "accessory"}
"""The sheets whose computed CVs are keyed in, with the column that names a row. Wanted and Verdict of
Readings are not keyed in, and a new reading has neither until the next fill."""


@check(Severity.WARNING)
def computed_stale(scope: Scope) -> Iterator[Hit]:
    """A computed cell does not agree with its row.

    Why: the row was changed after the CVs were computed, and whoever keys in the old value
    gives the engine another address or setting than the roster says.
    Fix: Run 'rosterkit fill'.
    """
    for roster in scope.rosters:
        for title in _LABELS:
            table = roster.book.tables.get(title)
            if table and table.rows and any(column.name in table.raw for column in table.sheet.computed):
                # For a meet only engines that come to it are looked at, and nothing else.
                coming = {entry.engine.index for entry in scope.entries if entry.engine.table is table}
                indices = coming if scope.meet else range(len(table.rows))
                yield from _stale(table, roster, indices)


@check(Severity.WARNING)
def computed_not_ours(scope: Scope) -> Iterator[Hit]:
    """Something that rosterkit did not write stands under the heading of a computed column.

    Why: it was left as it is, since it may be a total, a note or a formula of your own; but nothing can be
    computed into that cell, and a row without anything else in it counts as no engine. In a workbook that
    was never filled, other values than would be computed are somebody's own, and fill does not run.
    Fix: Move it beside or away from the table; empty it if it is left over from a row that is gone. Enter
    what was read from a decoder in the sheet Readings.
    """
    for roster in scope.rosters if not scope.meet else ():
        for table in roster.book.tables.values():
            yield from _not_ours(table, stored_formulas(roster, table.sheet.title))
        for one in typed_values(roster):
            yield Hit(
                place=one.table.place(one.column, one.index),
                column=one.table.heading(one.column),
                message=f"{one.stored} was not computed here, and rosterkit would compute {one.wanted}",
                fix="Enter what was read from the decoder in the sheet Readings, then empty the cell; "
                "or rename the heading if the column is your own.",
            )


def _not_ours(table: Table, stored: StoredFormulas) -> Iterator[Hit]:
    places = [table.headings.columns.get(column.name) for column in table.sheet.computed]
    for row in table.orphaned_rows:
        if not stored.is_spare(row):
            yield Hit(
                place=Place(table.workbook, table.title, row, min(filter(None, places))),
                message="something stands under computed headings in a row without anything else, "
                "and was left",
                fix="Delete the row if it is left over; move away what is your own.",
            )
    for column in table.sheet.computed:
        states = stored.states.get(column.name)
        for index, found in enumerate(table.raw.get(column.name, ())):
            formula = states[index] if states else None
            # What became of a formula of ours is another check's.
            if (formula is None or formula is State.FOREIGN) and not may_be_ours(column, found):
                yield Hit(
                    place=table.place(column.name, index),
                    column=table.heading(column.name),
                    message=f"{shown(found)} is nothing that rosterkit writes here, and was left",
                    fix="Move it to a column of your own, or empty the cell; then run 'rosterkit fill'.",
                )


def _stale(table: Table, roster: Roster, indices: Iterable[int]) -> Iterator[Hit]:
    filled, stored = was_filled(roster), stored_formulas(roster, table.sheet.title)
    if not filled and not stored.carried:
        return
    rows, label = computed_rows(roster, table.sheet.title), _LABELS[table.sheet.title]
    for index in sorted(indices):
        for name, value in rows[index].items():
            found = table.raw[name][index] if name in table.raw else ""
            if table.values[name][index] == value and not isinstance(found, CellError | NoStoredValue):
                continue
            formula = stored.state(name, index)
            # In a workbook that was never filled a value is somebody's own.
            if (filled or formula is not None) and _is_ours(table.sheet[name], found, formula):
                now = "should be blank" if value is None else f"should be {value}"
                who = table.values[label][index] if label in table.raw else None
                named = f"row {table.rows[index]}" if who is None else f"'{who}'"
                yield Hit(
                    place=table.place(name, index),
                    column=table.heading(name),
                    loco=str(who) if who is not None and label == "loco" else None,
                    message=f"{_said(found)} {now} for {named}",
                    fix=RUN_FILL,
                )


def _is_ours(column: Column, found: Raw, formula: State | None) -> bool:
    """Tell whether a cell holds a value that rosterkit may have written, or the result of its formula."""
    if formula is None:
        return found != "" and may_be_ours(column, found)
    return formula not in {State.LOST, State.FOREIGN}


def _said(found: Raw) -> str:
    """Name what is stored in a cell, of a formula its result."""
    result = found.result if isinstance(found, Calculated) else found
    if isinstance(result, NoStoredValue):
        return "the formula has no stored result, and"
    return "the blank" if result == "" else shown(result)
