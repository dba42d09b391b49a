"""The documentation of checks and columns, made from their sources."""

import textwrap
from collections.abc import Iterable

from rosterkit.checks.framework import Check
from rosterkit.roster.schema import Column, Sheet

_WIDTH = 80


def check_list(checks: Iterable[Check]) -> str:
    """Return one line per check: severity, slug, and the fault."""
    return "\n".join(f"{check.severity.value:<8} {check.slug:<26} {check.what}" for check in checks)


def check_page(check: Check) -> str:
    """Return all that a check says of itself."""
    parts = [f"{check.slug} ({check.severity.value})", check.what, f"Why: {check.why}", f"Fix: {check.fix}"]
    return "\n".join(textwrap.fill(part, _WIDTH, subsequent_indent="  ") for part in parts)


def check_table(checks: Iterable[Check]) -> str:
    """Return the checks as a Markdown table."""
    rows = [f"| `{check.slug}` | {check.severity.value} | {check.what} {check.fix} |" for check in checks]
    return "\n".join(["| check | severity | what it says, and what to do |", "|---|---|---|", *rows])


def column_tables(sheets: Iterable[Sheet]) -> str:
    """Return the columns of every sheet as Markdown tables."""
    return "\n\n".join(_column_table(sheet) for sheet in sheets)


def _column_table(sheet: Sheet) -> str:
    first = "setting" if sheet.transposed else "column"
    rows = [_column_row(column) for column in sheet.columns]
    return "\n".join(
        [
            f"**{sheet.title}** - {sheet.description}",
            "",
            f"| {first} | takes | blank means | what it is for |",
            "|---|---|---|---|",
            *rows,
        ]
    )


def _column_row(column: Column) -> str:
    blank = "" if column.default is None else str(column.default)
    if column.required:
        blank = "(needed)"
    if column.computed:
        blank = "(computed)"
    takes = column.limits + (f" {column.unit}" if column.unit else "")
    return f"| {column.heading} | {takes} | {blank} | {column.description} |"
