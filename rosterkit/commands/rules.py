"""The command ``rules``: every check in one line, or all that one of them says of itself."""

import textwrap
from collections.abc import Iterable

from rosterkit.checks.framework import Check

_WIDTH = 80


def check_list(checks: Iterable[Check]) -> str:
    """Return one line per check: severity, slug, and the fault."""
    return "\n".join(f"{check.severity.value:<8} {check.slug:<26} {check.what}" for check in checks)


def check_page(check: Check) -> str:
    """Return all that a check says of itself."""
    parts = [f"{check.slug} ({check.severity.value})", check.what, f"Why: {check.why}", f"Fix: {check.fix}"]
    return "\n".join(textwrap.fill(part, _WIDTH, subsequent_indent="  ") for part in parts)
