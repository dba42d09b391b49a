"""What a run of the checks came to, for whoever prints it."""

from collections.abc import Sequence
from dataclasses import dataclass

from rosterkit import __version__
from rosterkit.findings import Finding, in_reading_order
from rosterkit.roster.model import Roster


@dataclass(frozen=True, slots=True, kw_only=True)
class CheckReport:
    """What a run of the checks came to."""

    version: str
    workbooks: Sequence[tuple[str, int]]
    """Path as given, and number of engines."""
    findings: Sequence[Finding]
    """In reading order."""


def report_of(rosters: Sequence[Roster], findings: Sequence[Finding]) -> CheckReport:
    """Return the findings of some rosters in reading order, with how many engines each has."""
    return CheckReport(
        version=__version__,
        workbooks=[(roster.book.name, len(roster.engines)) for roster in rosters],
        findings=in_reading_order(findings),
    )
