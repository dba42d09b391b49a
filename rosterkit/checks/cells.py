"""Checks of the sheets themselves: what stands in a cell, which headings there are, what was computed."""

from collections.abc import Iterable, Iterator

from rosterkit.checks.clashes import clashes, same_label
from rosterkit.checks.framework import Scope, check, check_each, rosters
from rosterkit.findings import Hit, Place, Severity
from rosterkit.roster.cell_rules import CellRule
from rosterkit.roster.model import Roster
from rosterkit.roster.rows import Row, hit_at
from rosterkit.roster.schema import SETTING_HEADINGS, Column, sheet
from rosterkit.roster.tables import Table


def _tables(scope: Scope) -> Iterator[Table]:
    for roster in scope.rosters:
        yield from roster.book.tables.values()


def faults_as_hits(scope: Scope, rule: CellRule) -> Iterator[Hit]:
    """Return the cells that were found unreadable, or broke the schema, for a check."""
    for fault in scope.faults(rule):
        labels = fault.table.values.get("loco")
        label = labels[fault.index] if labels else None
        yield Hit(
            place=fault.table.place(fault.column.name, fault.index),
            column=fault.table.heading(fault.column.name),
            loco=None if label is None else str(label),
            message=fault.message,
            fix=fault.fix,
        )


@check(Severity.ERROR)
def value_not_allowed(scope: Scope) -> Iterator[Hit]:
    """A cell holds something that its column cannot take.

    Why: the value cannot be used, so nothing that depends on it is computed.
    Fix: Enter a value that the heading's note allows, or empty the cell.
    """
    return faults_as_hits(scope, CellRule.VALUE_NOT_ALLOWED)


@check(Severity.ERROR)
def value_missing(scope: Scope) -> Iterator[Hit]:
    """A cell that must be filled is blank.

    Why: without it the row cannot be used.
    Fix: Fill the cell, or empty the whole row.
    """
    return faults_as_hits(scope, CellRule.VALUE_MISSING)


@check(Severity.ERROR)
def value_is_error(scope: Scope) -> Iterator[Hit]:
    """A cell shows an error of the spreadsheet, such as #REF!.

    Why: the formula behind it lost a cell that it needs, and its value is gone.
    Fix: Mend the formula, or type the value.
    """
    return faults_as_hits(scope, CellRule.VALUE_IS_ERROR)


@check(Severity.ERROR)
def number_became_date(scope: Scope) -> Iterator[Hit]:
    """The spreadsheet turned what was typed into a date.

    Why: a number such as 1-2 or 3/4 is taken for a day unless the cell is formatted as text.
    Fix: Format the cell as text, then type it again.
    """
    return faults_as_hits(scope, CellRule.NUMBER_BECAME_DATE)


@check(Severity.ERROR)
def number_became_float(scope: Scope) -> Iterator[Hit]:
    """The spreadsheet turned a number on an engine into a calculated one and may have changed it.

    Why: 4E2 is taken for 400, and of more than 15 digits the last are lost.
    Fix: Format the cell as text, then type it again.
    """
    return faults_as_hits(scope, CellRule.NUMBER_BECAME_FLOAT)


@check(Severity.ERROR)
def formula_without_value(scope: Scope) -> Iterator[Hit]:
    """A formula has no stored result.

    Why: a program wrote the workbook without calculating it, so nobody knows the value yet.
    Fix: Open the workbook in a spreadsheet program, let it calculate, and save it.
    """
    return faults_as_hits(scope, CellRule.FORMULA_WITHOUT_VALUE)


@check_each(rosters, Severity.ERROR)
def loco_repeated(roster: Roster) -> Iterator[Hit]:
    """Two rows have the same Loco.

    Why: cards, consists and readings find an engine by its Loco, which must mean one engine only.
    Fix: Give each engine a label of its own.
    """
    yield from repeated(roster.engines, "loco", "Give each engine a label of its own.")


@check_each(rosters, Severity.ERROR)
def decoder_repeated(roster: Roster) -> Iterator[Hit]:
    """Two rows of Decoder types have the same Decoder.

    Why: engines refer to a kind of decoder by that label, which must mean one kind only.
    Fix: Give each kind of decoder a label of its own, or remove one of the rows.
    """
    yield from repeated(roster.decoder_types, "decoder", "Give each kind of decoder its own label.")


def repeated(rows: Iterable[Row], column: str, fix: str) -> Iterator[Hit]:
    """Return a hit at each row whose label stands in another row too, whatever its letter case."""
    for same in same_label(rows, column).values():
        for row, _, where in clashes([same], lambda one: one.place(column)):
            message = f"'{getattr(row, column)}' appears {len(same)} times (also in {where[0].cell})"
            yield hit_at(row, column, message, fix, related=where)


@check_each(rosters, Severity.ERROR, also=(Severity.WARNING,))
def heading_missing(roster: Roster) -> Iterator[Hit]:
    """A heading that is needed is not there.

    Why: a column is found by its heading, so what stands below a missing one is not read.
    Fix: Add the heading, or spell it as in a workbook made by 'rosterkit new'.
    """
    for table in roster.book.tables.values():
        for column in table.sheet.columns:
            if column.required and column.name not in table.headings.columns:
                yield Hit(
                    place=Place(table.workbook, table.title, table.headings.row, 1),
                    message=f"the sheet has no column '{column.heading}'",
                    fix=_heading_fix(table, column),
                )
    for title in roster.book.without_headings:
        yield Hit(
            place=Place(roster.book.name, title),
            message=f"no row of '{title}' has this sheet's headings, so nothing of it was read",
            fix=f"Put {_needed_headings(title)} above its rows, or give it another title if it is yours.",
            severity=Severity.WARNING,
        )


def _heading_fix(table: Table, column: Column) -> str:
    """Propose to respell a heading that looks like the missing one; else to add it."""
    for heading in table.headings.misspelt:
        if heading.meant == column.heading and heading.row and heading.column:
            cell = Place(table.workbook, table.title, heading.row, heading.column).cell
            return f"Spell '{heading.text}' in {cell} as '{column.heading}', or add that heading."
    return f"Add the heading '{column.heading}' in row {table.headings.row}."


def _needed_headings(title: str) -> str:
    known = sheet(title)
    needed = [column.heading for column in known.columns if column.required] or ["Loco"]
    return " and ".join(SETTING_HEADINGS[:2] if known.transposed else needed)


@check_each(rosters, Severity.NOTE)
def heading_unknown(roster: Roster) -> Iterator[Hit]:
    """A heading or sheet title looks like a misspelling of one of ours.

    Why: it was taken for the member's own, and what stands below it was not read.
    Fix: Spell it as proposed if it was meant so; else leave it.
    """
    for title in roster.book.misspelt_titles:
        yield Hit(
            place=Place(roster.book.name, title.text),
            message=f"the sheet '{title.text}' was not read; it looks like '{title.meant}'",
            fix=f"Rename it to '{title.meant}' if it is meant so.",
        )
    for table in roster.book.tables.values():
        for heading in table.headings.misspelt:
            yield Hit(
                place=Place(table.workbook, table.title, heading.row, heading.column),
                column=heading.text,
                message=f"'{heading.text}' was not read; it looks like '{heading.meant}'",
                fix=f"Spell it '{heading.meant}' if it is meant so.",
            )


@check_each(_tables, Severity.WARNING)
def cells_merged(table: Table) -> Iterator[Hit]:
    """Cells of several rows or columns are merged into one.

    Why: only the first of them holds the value; the others count as blank.
    Fix: Unmerge the cells and fill each.
    """
    if table.sheet.transposed:
        return
    names = {at: name for name, at in table.headings.columns.items() if not table.sheet[name].computed}
    for area in table.merged:
        below = area.bottom > table.headings.row
        touched = [at for at in range(area.left, min(area.right, max(names, default=0)) + 1) if at in names]
        if below and touched and (area.bottom > area.top or len(touched) > 1):
            first = Place(table.workbook, table.title, area.top, area.left)
            last = Place(table.workbook, table.title, area.bottom, area.right)
            yield Hit(
                place=first,
                column=table.headings.texts[names[touched[0]]],
                message=f"the cells {first.cell} to {last.cell} are merged: only {first.cell} counts",
                fix="Unmerge the cells and fill each.",
            )


@check(Severity.ERROR, across=True)
def workbook_unread(scope: Scope) -> Iterable[Hit]:
    """One of several workbooks could not be read.

    Why: its engines are missing from every comparison with the others.
    Fix: Do what the message says, and run the check again.
    """
    return scope.unread
