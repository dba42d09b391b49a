"""The command ``rules``: every check in one line, or all that one of them says of itself."""

import textwrap
from collections.abc import Iterable

from rosterkit.checks.framework import Check

_WIDTH = 80


def check_list(checks: Iterable[Check]) -> str:
    """Return one line per check: severity, slug, and the fault."""
    listed = list(checks)
    width = max((len(_severities(check, "/")) for check in listed), default=0)
    return "\n".join(f"{_severities(one, '/'):<{width}} {one.slug:<26} {one.what}" for one in listed)


def _severities(check: Check, between: str) -> str:
    """Return every severity that a check can have, the usual one first."""
    return between.join(severity.value for severity in check.severities)


def check_page(check: Check) -> str:
    """Return all that a check says of itself."""
    parts = [
        f"{check.slug} ({_severities(check, ', or ')})",
        check.what,
        f"Why: {check.why}",
        f"Fix: {check.fix}",
    ]
    return "\n".join(textwrap.fill(part, _WIDTH, subsequent_indent="  ") for part in parts)
