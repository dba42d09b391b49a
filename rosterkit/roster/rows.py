"""What every row of our sheets has, a fault of one of its cells, and a hit at one."""

from collections.abc import Iterable
from dataclasses import dataclass

from rosterkit.findings import Hit, Place, Severity
from rosterkit.roster.cell_rules import CellRule
from rosterkit.roster.schema import Column
from rosterkit.roster.tables import Table


@dataclass(frozen=True, slots=True)
class Fault:
    """A cell whose content its column cannot take, or that must not be blank."""

    table: Table
    column: Column
    index: int
    rule: CellRule
    message: str
    fix: str


@dataclass(frozen=True, slots=True, kw_only=True)
class Row:
    """A row of one of our sheets; values that the schema refuses are absent, and named in ``unusable``."""

    table: Table
    index: int
    unusable: frozenset[str]

    def place(self, column: str) -> Place:
        """Return the cell of a column in this row."""
        return self.table.place(column, self.index)

    def heading(self, column: str) -> str:
        """Return the heading of a column as the member spells it."""
        return self.table.heading(column)


def hit_at(
    row: Row,
    column: str,
    message: str,
    fix: str,
    *,
    related: Iterable[Place] = (),
    severity: Severity | None = None,
) -> Hit:
    """Make a hit at one cell of a row."""
    return Hit(
        place=row.place(column),
        column=row.heading(column),
        loco=getattr(row, "loco", None),
        message=message,
        fix=fix,
        related=tuple(related),
        severity=severity,
    )
