"""The sheet Findings: severity, the place as a link, what is wrong, and what to do.

Equal findings are one row: the link leads to the first cell, and the message names all of them, as A3, A5-A9.
Where that is more than a cell can show, they go on in a further row, with a link of its own.
"""

from collections.abc import Iterator, Sequence

from rosterkit.checks.grouping import Group, grouped
from rosterkit.findings import Finding, Place, Severity, in_reading_order
from rosterkit.xlsx.changes import LINE, CellStyle, OwnCell, OwnSheet, lines_of

TITLE = "Findings"
_HEADINGS = ("Severity", "Place", "Loco", "Column", "What is wrong", "What to do", "Check")
_WIDTHS = (11, 22, 16, 16, 62, 52, 26)
_LOOKS = {Severity.ERROR: CellStyle.ERROR, Severity.WARNING: CellStyle.WARNING, Severity.NOTE: CellStyle.NOTE}


MOST_FINDINGS = 20_000
"""Rows of findings on the sheet at most; nobody reads on from there, and a sheet has an end."""
_MOST_CHARACTERS = 600
"""Cells named in one row, in characters: ten lines, as a row has an end too."""


def findings_sheet(findings: Sequence[Finding]) -> OwnSheet:
    """Make the sheet: the more severe first, within a severity in the order of the workbook."""
    groups = grouped(in_reading_order(findings))
    by_gravity = [group for severity in Severity for group in groups if group.lead.severity is severity]
    shown = [part for group in by_gravity[:MOST_FINDINGS] for part in _parts(group)]
    beyond = sum(len(group.findings) for group in shown[MOST_FINDINGS:] + by_gravity[MOST_FINDINGS:])
    shown = shown[:MOST_FINDINGS]
    rows = [[OwnCell(heading, CellStyle.HEADING) for heading in _HEADINGS]]
    rows += [_row(group) for group in shown]
    if not shown:
        rows.append([OwnCell(None), OwnCell(None), OwnCell(None), OwnCell(None), OwnCell("Nothing found.")])
    if beyond > 0:
        text = f"{beyond} more are not on this sheet; 'rosterkit check' prints all."
        rows.append([*(OwnCell(None) for _ in range(4)), OwnCell(text, CellStyle.CAUTION)])
    lines = [max(lines_of(_message(group), _WIDTHS[4]), lines_of(group.fix, _WIDTHS[5])) for group in shown]
    return OwnSheet(
        title=TITLE,
        rows=rows,
        widths=_WIDTHS,
        frozen_rows=1,
        filtered=bool(shown),
        heights={row: LINE * count for row, count in enumerate(lines, 2) if count > 1},
    )


def _parts(group: Group) -> Iterator[Group]:
    """Halve a group until the cells of each part fit into a row."""
    if len(group.findings) == 1 or len(group.cells()) <= _MOST_CHARACTERS:
        yield group
        return
    half = len(group.findings) // 2
    yield from _parts(Group(group.findings[:half]))
    yield from _parts(Group(group.findings[half:]))


def _message(group: Group) -> str:
    return group.message if len(group.findings) == 1 else f"{group.message} ({group.cells()})"


def _row(group: Group) -> list[OwnCell]:
    lead = group.lead
    return [
        OwnCell(lead.severity.value, _LOOKS[lead.severity]),
        _place(lead.place),
        OwnCell(group.subject),
        OwnCell(None if group.is_for_fill else lead.column),
        OwnCell(_message(group), CellStyle.WRAPPED),
        OwnCell(group.fix, CellStyle.WRAPPED),
        OwnCell(", ".join(group.rules)),
    ]


def _place(place: Place) -> OwnCell:
    if place.sheet is None:
        return OwnCell("the workbook")
    if place.cell is None:
        return OwnCell(place.sheet)
    return OwnCell(f"{place.sheet} {place.cell}", CellStyle.LINK, link=(place.sheet, place.cell))
