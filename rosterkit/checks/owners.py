"""The check of member codes: one spelling for each member, wherever it is written."""

from collections import Counter
from collections.abc import Iterator
from dataclasses import dataclass

from rosterkit.checks.clashes import cell_seen_from, grouped
from rosterkit.checks.framework import Scope, check
from rosterkit.findings import Hit, Place, Severity
from rosterkit.roster.model import Roster
from rosterkit.roster.schema import folded
from rosterkit.roster.tables import Table


@dataclass(frozen=True, slots=True)
class _Written:
    """A member code, and the column of the table, by its schema name, and the row where it is written."""

    code: str
    table: Table
    column: str
    index: int
    loco: str | None = None

    @property
    def place(self) -> Place:
        """The cell, worked out for the few that are spelt otherwise."""
        return self.table.place(self.column, self.index)


@check(Severity.NOTE, across=True)
def owner_spelt_otherwise(scope: Scope) -> Iterator[Hit]:
    """A member code is spelt otherwise than in other cells.

    Why: rosterkit takes M01, m01 and M 01 for one member, but people and a spreadsheet's own filters and sums
    may not.
    Fix: Spell it alike everywhere.
    """
    for same in grouped(_written(scope), lambda one: folded(one.code)).values():
        # The spelling that most cells have, of several the first.
        usual = Counter(one.code for one in same).most_common(1)[0][0]
        first = next(one for one in same if one.code == usual)
        for one in same:
            if one.code != usual:
                cell = cell_seen_from(one.place.workbook, first.place)
                at = cell if first.place.sheet == one.place.sheet else f"{first.place.sheet} {cell}"
                yield Hit(
                    place=one.place,
                    column=one.table.heading(one.column),
                    loco=one.loco,
                    message=f"'{one.code}' is spelt '{usual}' elsewhere ({at}): one member",
                    fix=f"Spell it '{usual}', if it is the same member.",
                    related=(first.place,),
                )


def _written(scope: Scope) -> Iterator[_Written]:
    for entry in scope.entries:
        engine = entry.engine
        for column in ("owner", "checked_by"):
            code = getattr(engine, column)
            if code is not None:
                yield _Written(code, engine.table, column, engine.index, engine.loco)
    for roster in scope.rosters:
        yield from _of_the_club(roster)


def _of_the_club(roster: Roster) -> Iterator[_Written]:
    for one in roster.ranges:
        if one.member is not None:
            yield _Written(one.member, one.table, "member", one.index)
    layout = roster.layout
    if layout.club_owner is not None and layout.table is not None:
        yield _Written(layout.club_owner, layout.table, "club_owner", 0)
