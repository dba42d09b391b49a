"""What a run of the checks came to, for whoever prints it."""

from collections.abc import Sequence
from dataclasses import dataclass

from rosterkit import __version__
from rosterkit.findings import Finding, Severity, in_reading_order
from rosterkit.roster.model import Roster


@dataclass(frozen=True, slots=True, kw_only=True)
class OfOwner:
    """The engines of one member, to which a report keeps, and what was found of others."""

    code: str
    """As most of their engines have it."""
    engines: int
    """How many they own in all workbooks."""
    others: Sequence[Finding] = ()
    """Findings of other members' engines."""
    nobodys: Sequence[Finding] = ()
    """Findings of engines without an owner, and of rows that no engine of anybody's names."""


@dataclass(frozen=True, slots=True, kw_only=True)
class CheckReport:
    """What a run of the checks came to."""

    version: str
    workbooks: Sequence[tuple[str, int]]
    """Path as given, and number of engines."""
    findings: Sequence[Finding]
    """Those to be shown, in reading order."""
    only: Severity | None = None
    """No finding is shown that is less severe; None where all are."""
    less_severe: Sequence[Finding] = ()
    """Those that are therefore not shown; they count all the same, also for the exit status."""
    of_owner: OfOwner | None = None
    """Where the report keeps to one member's engines; what was found of others does not count."""

    @property
    def counted(self) -> Sequence[Finding]:
        """All findings of the selection, by which the sums and the exit status go."""
        return [*self.findings, *self.less_severe] if self.less_severe else self.findings


def report_of(rosters: Sequence[Roster], findings: Sequence[Finding]) -> CheckReport:
    """Return the findings of some rosters in reading order, with how many engines each has."""
    return CheckReport(
        version=__version__,
        workbooks=[(roster.book.name, len(roster.engines)) for roster in rosters],
        findings=in_reading_order(findings),
    )
