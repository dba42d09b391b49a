"""The sheet Findings: severity, the place as a link, what is wrong, and what to do."""

from collections.abc import Sequence

from rosterkit.findings import Finding, Place, Severity, in_reading_order
from rosterkit.xlsx.changes import LINE, Look, Page, PageCell, lines_of

TITLE = "Findings"
_HEADINGS = ("Severity", "Place", "Loco", "Column", "What is wrong", "What to do", "Check")
_WIDTHS = (11, 22, 16, 16, 62, 52, 26)
_LOOKS = {Severity.ERROR: Look.ERROR, Severity.WARNING: Look.WARNING, Severity.NOTE: Look.NOTE}


MOST_FINDINGS = 20_000
"""Findings on the sheet at most; nobody reads on from there, and a sheet has an end."""


def findings_page(findings: Sequence[Finding]) -> Page:
    """Make the sheet: the graver first, within a severity in the order of the workbook."""
    ordered = in_reading_order(findings)
    by_gravity = [finding for severity in Severity for finding in ordered if finding.severity is severity]
    beyond = len(by_gravity) - MOST_FINDINGS
    by_gravity = by_gravity[:MOST_FINDINGS]
    rows = [[PageCell(heading, Look.HEADING) for heading in _HEADINGS]]
    rows += [_row(finding) for finding in by_gravity]
    if not by_gravity:
        rows.append(
            [PageCell(None), PageCell(None), PageCell(None), PageCell(None), PageCell("Nothing found.")]
        )
    if beyond > 0:
        text = f"{beyond} more are not on this sheet; 'rosterkit check' prints all."
        rows.append([*(PageCell(None) for _ in range(4)), PageCell(text, Look.CAUTION)])
    lines = [max(lines_of(f.message, _WIDTHS[4]), lines_of(f.fix, _WIDTHS[5])) for f in by_gravity]
    return Page(
        title=TITLE,
        rows=rows,
        widths=_WIDTHS,
        frozen_rows=1,
        filtered=bool(by_gravity),
        heights={row: LINE * count for row, count in enumerate(lines, 2) if count > 1},
    )


def _row(finding: Finding) -> list[PageCell]:
    return [
        PageCell(finding.severity.value, _LOOKS[finding.severity]),
        _place(finding.place),
        PageCell(finding.loco),
        PageCell(finding.column),
        PageCell(finding.message, Look.WRAPPED),
        PageCell(finding.fix, Look.WRAPPED),
        PageCell(finding.rule),
    ]


def _place(place: Place) -> PageCell:
    if place.sheet is None:
        return PageCell("the workbook")
    if place.cell is None:
        return PageCell(place.sheet)
    return PageCell(f"{place.sheet} {place.cell}", Look.LINK, link=(place.sheet, place.cell))
