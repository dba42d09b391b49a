"""A finding: something that a check has to say, and the place it says it of."""

from collections import Counter
from collections.abc import Callable, Iterable
from dataclasses import dataclass, fields
from enum import StrEnum
from operator import attrgetter
from typing import Any

from rosterkit.cell_names import column_letters


class Severity(StrEnum):
    """How much a finding matters."""

    ERROR = "error"
    """It will not work, or it will hurt something."""
    WARNING = "warning"
    """It probably is not meant."""
    NOTE = "note"
    """Worth knowing."""


@dataclass(frozen=True, slots=True, order=True)
class Place:
    """Where something stands: a workbook, one of its sheets, and a cell by sheet row and column from 1."""

    workbook: str
    sheet: str | None = None
    row: int | None = None
    column: int | None = None

    def __reduce__(self) -> tuple[type["Place"], tuple[object, ...]]:
        """Go to another process in few bytes: a meet has findings by the ten thousand."""
        return Place, (self.workbook, self.sheet, self.row, self.column)

    @property
    def cell(self) -> str | None:
        """The cell as a spreadsheet names it, such as C7; None for a whole sheet or workbook."""
        if self.row is None or self.column is None:
            return None
        return f"{column_letters(self.column)}{self.row}"

    def __str__(self) -> str:
        return "!".join(part for part in (self.workbook, self.sheet, self.cell) if part)


@dataclass(frozen=True, slots=True, kw_only=True)
class Hit:
    """What is seen at one place; the check that it belongs to makes a finding of it."""

    place: Place
    message: str
    fix: str
    column: str | None = None
    loco: str | None = None
    related: tuple[Place, ...] = ()
    severity: Severity | None = None
    """Set only where this hit matters less or more than the check does as a rule."""
    down_to: int | None = None
    """The last row of the cells below each other of which it says the same; None where it is of one cell."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Finding(Hit):
    """What one check, by its rule, says of one place."""

    severity: Severity
    rule: str

    def __reduce__(self) -> tuple[Callable[..., "Finding"], tuple[object, ...]]:
        """Go to another process in few bytes."""
        return _finding_of, _VALUES(self)


_FIELDS = tuple(one.name for one in fields(Finding))
_VALUES = attrgetter(*_FIELDS)


def _finding_of(*values: Any) -> Finding:
    return Finding(**dict(zip(_FIELDS, values, strict=True)))


_RANK = {severity: rank for rank, severity in enumerate(Severity)}


def in_reading_order(findings: Iterable[Finding]) -> list[Finding]:
    """Sort findings as they are read: workbook, sheet, row, column; in a cell the more severe first."""
    return sorted(
        findings,
        key=lambda f: (
            f.place.workbook,
            f.place.sheet or "",
            f.place.row or 0,
            f.place.column or 0,
            _RANK[f.severity],
            f.rule,
            f.message,
        ),
    )


def counts(findings: Iterable[Finding]) -> dict[str, int]:
    """Count findings by severity; every severity is named, also with 0."""
    found = Counter(finding.severity for finding in findings)
    return {severity.value: found[severity] for severity in Severity}
