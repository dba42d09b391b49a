"""One workbook made into what a meet needs of it: the engines that come, and what the checks say of them."""

from collections.abc import Sequence
from dataclasses import dataclass, replace
from pathlib import Path

from rosterkit.book import Book, Table
from rosterkit.errors import CannotRunError
from rosterkit.findings import Finding
from rosterkit.roster import Roster
from rosterkit.rosters import roster_at
from rosterkit.rules import findings_within
from rosterkit.rules.checking import Unread, scope_of
from rosterkit.sheets import folded


@dataclass(frozen=True, slots=True, kw_only=True)
class Registered:
    """What is kept of a workbook for a meet; small, so that it can be sent from one process to another."""

    roster: Roster
    """Without the cells, and without the engines that stay at home."""
    engines: int
    """How many engines are in the workbook."""
    findings: Sequence[Finding]
    """Of the checks that look at this workbook alone."""


def registered(path: Path) -> Registered | Unread:
    """Read a workbook for a meet; one that cannot be read is said to be so."""
    try:
        roster = roster_at(path)
    except CannotRunError as error:
        return Unread(workbook=str(path), message=error.message, fix=error.fix)
    return Registered(
        roster=coming(roster),
        engines=len(roster.engines),
        findings=findings_within(scope_of([roster], meet=True)),
    )


def coming(roster: Roster) -> Roster:
    """Give a roster with the engines that come to the meet only, and without the contents of its cells.

    The rows that are kept still say where they stand.
    """
    tables = {title: _emptied(table) for title, table in roster.book.tables.items()}
    engines = [
        replace(engine, table=tables["Locomotives"]) for engine in roster.engines if engine.at_meet == "yes"
    ]
    labels = {folded(engine.loco) for engine in engines if engine.loco}
    kinds = {label: replace(kind, table=tables["Decoder types"]) for label, kind in roster.decoders.items()}
    members = [
        replace(member, table=tables["Consists"])
        for member in roster.consist_members
        if folded(member.loco or "") in labels
    ]
    readings = {label: rows for label, rows in roster.readings_of.items() if label in labels}
    return replace(
        roster,
        book=Book(name=roster.book.name, tables=tables),
        faults=(),
        layout=replace(roster.layout, table=tables.get("Layout")),
        engines=engines,
        decoder_types=list(kinds.values()),
        decoders=kinds,
        ranges=[replace(one, table=tables["Address ranges"]) for one in roster.ranges],
        consist_members=members,
        consist_of={folded(member.loco or ""): member for member in reversed(members)},
        accessories=(),
        extra_values=(),
        extras_of={},
        speed_tables=(),
        tables={},
        readings=(),
        readings_of={
            label: [replace(row, table=tables["Readings"]) for row in rows]
            for label, rows in readings.items()
        },
    )


def _emptied(table: Table) -> Table:
    return replace(table, raw={}, values={}, spoiled={}, merged=(), own={})
