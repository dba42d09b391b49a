"""Every check, in the order of the documentation; a check that is not listed here does not run."""

from rosterkit.findings import Finding
from rosterkit.rules import addresses, cells, engines, ranges, settings
from rosterkit.rules.checking import Check, Scope, findings_of

CHECKS: tuple[Check, ...] = (
    *addresses.CHECKS,
    *ranges.CHECKS,
    *settings.CHECKS,
    *engines.CHECKS,
    *cells.CHECKS,
)


def findings_in(scope: Scope) -> list[Finding]:
    """Run every check on a scope."""
    return list(findings_of(CHECKS, scope))
