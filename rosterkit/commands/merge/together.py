"""Errors that arise only together: in the merged workbook, and in none of those that went into it."""

import re
from collections.abc import Iterable, Mapping, Set
from dataclasses import replace

from rosterkit.checks import CHECKS, COMPUTED_RULES
from rosterkit.checks.framework import findings_of, scope_of
from rosterkit.findings import Finding, Severity, in_reading_order
from rosterkit.roster.model import Roster
from rosterkit.roster.schema import folded

# Rows stand elsewhere in each workbook; CV29 is no cell.
_PLACES = re.compile(r"\b(?!CV[0-9])[A-Z]{1,3}[0-9]+\b|\brow [0-9]+")
ErrorMark = tuple[str, ...]
"""What tells an error from others, wherever its row stands."""


def errors_only_together(
    merged: Roster, known: Set[ErrorMark], renamed: Mapping[str, str] | None = None
) -> list[Finding]:
    """Return the errors of a merged workbook that nothing that went into it has alone, in reading order.

    Args:
        merged: the workbook that the copies came to.
        known: the errors of the base, the master and each copy.
        renamed: the labels that engines had before, by those that they have now.
    """
    before = renamed or {}
    return in_reading_order(
        one for one in _errors(merged) if not known & {_mark(one), _mark(_by_earlier_labels(one, before))}
    )


def _by_earlier_labels(one: Finding, before: Mapping[str, str]) -> Finding:
    """Return a finding as it was said while engines had their earlier labels."""
    message = one.message
    for now, was in before.items():
        message = message.replace(f"'{now}'", f"'{was}'")
    return replace(one, loco=before.get(one.loco or "", one.loco), message=message)


def error_marks(roster: Roster) -> frozenset[ErrorMark]:
    """Return what tells the errors of a workbook from others."""
    return frozenset(map(_mark, _errors(roster)))


def _errors(roster: Roster) -> Iterable[Finding]:
    # What computed cells are behind in until the workbook is filled is no error of the members'.
    checks = (check for check in CHECKS if check.slug not in COMPUTED_RULES)
    found = findings_of(checks, scope_of([roster]))
    return (one for one in found if one.severity is Severity.ERROR)


def _mark(one: Finding) -> ErrorMark:
    loco, column = folded(one.loco or ""), folded(one.column or "")
    return one.rule, folded(one.place.sheet or ""), column, loco, _PLACES.sub("·", one.message)
