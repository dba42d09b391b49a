"""Every check, in the order of the documentation; modules that are not listed here do not run."""

from rosterkit.checks import (
    accessories,
    accessory_addresses,
    accessory_readings,
    addresses,
    cells,
    computed_formulas,
    consist_headlights,
    consists,
    engines,
    momentum,
    other_sheets,
    owners,
    reading_order,
    readings,
)
from rosterkit.checks import address_ranges as ranges
from rosterkit.checks import computed_columns as stale
from rosterkit.checks import decoder_settings as settings
from rosterkit.checks import extra_values as extras
from rosterkit.checks import meet as meets
from rosterkit.checks import references as labels
from rosterkit.checks import speed_goals as speeds
from rosterkit.checks import timed_runs as timing
from rosterkit.checks.framework import Check, Scope, checks_in, findings_of
from rosterkit.errors import CannotRunError
from rosterkit.findings import Finding
from rosterkit.spelling import Spelling

CHECKS: tuple[Check, ...] = (
    *checks_in(addresses),
    *checks_in(ranges),
    *checks_in(settings),
    *checks_in(timing),
    *checks_in(speeds),
    *checks_in(extras),
    *checks_in(consists),
    *checks_in(momentum),
    *checks_in(consist_headlights),
    *checks_in(accessory_addresses),
    *checks_in(accessories),
    *checks_in(accessory_readings),
    *checks_in(reading_order),
    *readings.CHECKS,
    *checks_in(engines),
    *checks_in(meets),
    *checks_in(labels),
    *checks_in(owners),
    *checks_in(cells),
    *checks_in(other_sheets),
    *checks_in(stale),
    *checks_in(computed_formulas),
)

SPEED_RULES = frozenset(check.slug for check in checks_in(timing) + checks_in(speeds))
"""The checks of timed runs and speed goals."""

COMPUTED_RULES = frozenset(check.slug for check in checks_in(stale) + checks_in(computed_formulas))
"""The checks of computed columns, which members do not fill and nobody merges."""

RETIRED = {
    "dc-running-on": "dc-operation-on",
    "dc-running-still-on": "dc-operation-still-on",
    "reading-doubtful": "reading-unreliable",
}
"""Names that checks had before; no other check ever takes one of them."""


def findings_in(scope: Scope) -> list[Finding]:
    """Run every check on a scope."""
    return list(findings_of(CHECKS, scope))


def findings_within(scope: Scope) -> list[Finding]:
    """Run the checks that look at each workbook by itself, also at a meet."""
    return list(findings_of((check for check in CHECKS if not check.across), scope))


def findings_across(scope: Scope) -> list[Finding]:
    """Run the checks that compare the workbooks of a scope with each other."""
    return list(findings_of((check for check in CHECKS if check.across), scope))


def check_named(slug: str) -> Check:
    """Return a check by its slug, or by one that it had before.

    Raises:
        CannotRunError: if there is none; the nearest slug is named.
    """
    by_slug = {check.slug: check for check in CHECKS}
    wanted = RETIRED.get(slug.lower(), slug.lower())
    if wanted in by_slug:
        return by_slug[wanted]
    near = Spelling(by_slug).nearest(slug.lower())
    fix = f"Did you mean '{near}'? " if near else ""
    raise CannotRunError(f"there is no check '{slug}'", f"{fix}Run 'rosterkit rules' for all of them.")
