"""The sheet Findings: severity, the place as a link, what is wrong, and what to do."""

from collections.abc import Sequence

from rosterkit.findings import Finding, Place, Severity, in_reading_order
from rosterkit.xlsx.changes import LINE, CellStyle, OwnCell, OwnSheet, lines_of

TITLE = "Findings"
_HEADINGS = ("Severity", "Place", "Loco", "Column", "What is wrong", "What to do", "Check")
_WIDTHS = (11, 22, 16, 16, 62, 52, 26)
_LOOKS = {Severity.ERROR: CellStyle.ERROR, Severity.WARNING: CellStyle.WARNING, Severity.NOTE: CellStyle.NOTE}


MOST_FINDINGS = 20_000
"""Findings on the sheet at most; nobody reads on from there, and a sheet has an end."""


def findings_sheet(findings: Sequence[Finding]) -> OwnSheet:
    """Make the sheet: the more severe first, within a severity in the order of the workbook."""
    ordered = in_reading_order(findings)
    by_gravity = [finding for severity in Severity for finding in ordered if finding.severity is severity]
    beyond = len(by_gravity) - MOST_FINDINGS
    by_gravity = by_gravity[:MOST_FINDINGS]
    rows = [[OwnCell(heading, CellStyle.HEADING) for heading in _HEADINGS]]
    rows += [_row(finding) for finding in by_gravity]
    if not by_gravity:
        rows.append([OwnCell(None), OwnCell(None), OwnCell(None), OwnCell(None), OwnCell("Nothing found.")])
    if beyond > 0:
        text = f"{beyond} more are not on this sheet; 'rosterkit check' prints all."
        rows.append([*(OwnCell(None) for _ in range(4)), OwnCell(text, CellStyle.CAUTION)])
    lines = [max(lines_of(f.message, _WIDTHS[4]), lines_of(f.fix, _WIDTHS[5])) for f in by_gravity]
    return OwnSheet(
        title=TITLE,
        rows=rows,
        widths=_WIDTHS,
        frozen_rows=1,
        filtered=bool(by_gravity),
        heights={row: LINE * count for row, count in enumerate(lines, 2) if count > 1},
    )


def _row(finding: Finding) -> list[OwnCell]:
    return [
        OwnCell(finding.severity.value, _LOOKS[finding.severity]),
        _place(finding.place),
        OwnCell(finding.loco),
        OwnCell(finding.column),
        OwnCell(finding.message, CellStyle.WRAPPED),
        OwnCell(finding.fix, CellStyle.WRAPPED),
        OwnCell(finding.rule),
    ]


def _place(place: Place) -> OwnCell:
    if place.sheet is None:
        return OwnCell("the workbook")
    if place.cell is None:
        return OwnCell(place.sheet)
    return OwnCell(f"{place.sheet} {place.cell}", CellStyle.LINK, link=(place.sheet, place.cell))
