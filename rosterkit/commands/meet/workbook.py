"""One workbook made into what a meet needs of it: the engines that come, and what the checks say of them."""

from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass, field, replace
from hashlib import sha256
from pathlib import Path

from rosterkit.cards.known_errors import KnownError, row_of
from rosterkit.checks import findings_in, findings_within
from rosterkit.checks.card_errors import errors_by_row
from rosterkit.checks.framework import scope_of
from rosterkit.commands.meet.given import LeftOut, as_earlier, as_plan
from rosterkit.errors import CannotRunError
from rosterkit.findings import Finding, Hit, Place
from rosterkit.roster.build import roster_of
from rosterkit.roster.load import package_at, roster_in
from rosterkit.roster.model import Roster
from rosterkit.roster.rows import Fault, Row
from rosterkit.roster.schema import folded
from rosterkit.roster.tables import Book, Table


@dataclass(frozen=True, slots=True, kw_only=True)
class Registered:
    """What is kept of a workbook for a meet; small, so that it is soon sent from one process to another."""

    book: Book
    """Without the cells as they were typed, and without the rows of engines that stay at home."""
    faults: Sequence[Fault]
    """Of the cells that are kept."""
    engines: int
    """How many engines are in the workbook."""
    findings: Sequence[Finding]
    """Of the checks that look at this workbook alone."""
    at_home: Mapping[int, Sequence[KnownError]] = field(default_factory=dict)
    """What its checks say of the engines that come, as they are at home, by sheet row."""
    digest: str = ""
    """SHA-256 of the file as it was read."""


def registered(path: Path) -> Registered | LeftOut | Hit:
    """Read a workbook for a meet; one that is no member's, or cannot be read, is said to be so."""
    try:
        if left := as_earlier(path):
            return left
        package = package_at(path)
        if left := as_plan(package):
            return left
        roster = roster_in(package)
    except CannotRunError as error:
        return Hit(place=Place(str(path)), message=error.message, fix=error.fix)
    found = coming(roster, findings_within(scope_of([roster], meet=True)))
    return replace(found, at_home=_at_home(roster), digest=sha256(package.raw).hexdigest())


def _at_home(roster: Roster) -> dict[int, Sequence[KnownError]]:
    """Return what is wrong with the engines that come, as their cards for after the meet say it."""
    rows = {row_of(engine) for engine in roster.engines if engine.at_meet == "yes"}
    errors = errors_by_row(roster, findings_in(scope_of([roster])))
    return {row: said for row, said in errors.items() if row in rows}


def coming(roster: Roster, findings: Sequence[Finding]) -> Registered:
    """Keep of a roster what concerns the engines that come; the rows still say where they stand."""
    engines = [engine for engine in roster.engines if engine.at_meet == "yes"]
    labels = {folded(engine.loco) for engine in engines if engine.loco}
    # Devices do not come, but the numbers that they answer count; what was read of them says how.
    devices = {folded(one.accessory) for one in roster.accessories if one.accessory}
    members = [member for member in roster.consist_members if folded(member.loco or "") in labels]
    readings = [
        row for label, rows in roster.readings_of.items() if label in labels | devices for row in rows
    ]
    kept: dict[str, Sequence[Row]] = {
        "Decoder types": roster.decoder_types,
        "Address ranges": roster.ranges,
        "Locomotives": engines,
        "Consists": members,
        "Readings": readings,
        "Accessories": roster.accessories,
    }
    tables: dict[str, Table] = {}
    faults: list[Fault] = []
    for title, table in roster.book.tables.items():
        indexes = range(1) if table.sheet.transposed else sorted(row.index for row in kept.get(title, ()))
        if title in kept or table.sheet.transposed:
            tables[title] = _lightened(table, indexes)
            faults += _moved(roster.faults_in(title), tables[title], indexes)
    return Registered(
        book=Book(name=roster.book.name, tables=tables),
        faults=faults,
        engines=len(roster.engines),
        findings=findings,
    )


def _lightened(table: Table, indexes: Sequence[int]) -> Table:
    """Return a table with some of its rows only, and with what members fill, as it is understood."""
    whole = len(indexes) == len(table.rows)
    columns = {column.name: table.values[column.name] for column in table.sheet.filled_by_members}
    return replace(
        table,
        rows=table.rows if whole else [table.rows[index] for index in indexes],
        raw={},
        values=columns
        if whole
        else {name: [cells[index] for index in indexes] for name, cells in columns.items()},
        unreadable={},
        orphaned_rows=(),
        merged=(),
        own={},
        formulas={},
    )


def _moved(faults: Iterable[Fault], table: Table, indexes: Sequence[int]) -> list[Fault]:
    place = {index: at for at, index in enumerate(indexes)}
    return [replace(one, table=table, index=place[one.index]) for one in faults if one.index in place]


def enrolled(one: Registered) -> Roster:
    """Make the roster of what was kept; the faults of its cells are among the findings already."""
    return replace(roster_of(one.book, one.faults), faults=())
