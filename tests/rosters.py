"""Rosters made of a few rows written down in a test, by the path that a workbook's sheets take."""

from collections.abc import Iterable, Mapping, Sequence

from rosterkit.checks import findings_in
from rosterkit.checks.framework import scope_of
from rosterkit.findings import Finding
from rosterkit.roster.build import roster_of
from rosterkit.roster.model import Roster
from rosterkit.roster.tables import book_of
from rosterkit.roster.validation import faults_of
from rosterkit.xlsx.grid import Grid, MergedRange, Raw, Workbook

TITLES = {
    "consists": "Consists",
    "accessories": "Accessories",
    "extras": "Extra values",
    "runs": "Speed runs",
    "goals": "Speed goals",
    "tables": "Speed tables",
    "readings": "Readings",
}
"""Sheets that can be given by these names, beside those that have a name of their own."""

Rows = Sequence[Mapping[str, object]]
"""One mapping of heading to cell a row. The headings stand in row 1 in the order in which they first come
up, so the first key of the first row is column A, and the first row is sheet row 2."""


def grid(title: str, *rows: Sequence[object], merged: tuple[MergedRange, ...] = ()) -> Grid:
    """Make a sheet of rows of cells."""
    return Grid(title=title, rows=[[_cell(content) for content in row] for row in rows], merged=merged)


def _cell(content: object) -> Raw:
    if not isinstance(content, Raw):
        raise TypeError(f"no cell holds {content!r}")
    return content


def sheet_of(title: str, rows: Rows) -> Grid:
    """Make a sheet of records."""
    headings = list(dict.fromkeys(heading for row in rows for heading in row))
    return grid(title, headings, *([row.get(heading, "") for heading in headings] for row in rows))


def workbook_of(
    *grids: Grid,
    name: str = "club.xlsx",
    titles: Sequence[str] | None = None,
    filled: bool = False,
    beginnings: Mapping[str, Sequence[Sequence[str]]] | None = None,
) -> Workbook:
    """Make a workbook of sheets; its titles are theirs unless more are given.

    ``beginnings`` are the first rows of sheets that are not read.
    """
    return Workbook(
        name=name,
        titles=tuple(sheet.title for sheet in grids) if titles is None else tuple(titles),
        grids={sheet.title: sheet for sheet in grids},
        own_titles=("Findings", "Cards") if filled else (),
        beginnings=beginnings or {},
    )


def workbook(
    engines: Rows,
    *,
    layout: Mapping[str, object] | None = None,
    ranges: Rows = (),
    decoders: Rows = (),
    name: str = "club.xlsx",
    filled: bool = False,
    **others: Rows,
) -> Workbook:
    """Make a workbook; the settings of ``layout`` stand in column A, their values in column B.

    Further sheets are given by the names in TITLES.
    """
    grids = [sheet_of("Locomotives", engines)]
    if layout is not None:
        grids.append(grid("Layout", ("Setting", "Value"), *layout.items()))
    if ranges:
        grids.append(sheet_of("Address ranges", ranges))
    if decoders:
        grids.append(sheet_of("Decoder types", decoders))
    grids += [sheet_of(TITLES[title], rows) for title, rows in others.items() if rows]
    return workbook_of(*grids, name=name, filled=filled)


def enrolled(source: Workbook) -> Roster:
    """Make a roster of a workbook's sheets."""
    book = book_of(source)
    return roster_of(book, faults_of(book))


def roster(
    engines: Rows,
    *,
    layout: Mapping[str, object] | None = None,
    ranges: Rows = (),
    decoders: Rows = (),
    name: str = "club.xlsx",
    **others: Rows,
) -> Roster:
    """Make a roster of a few rows."""
    return enrolled(
        workbook(engines, layout=layout, ranges=ranges, decoders=decoders, name=name, filled=False, **others)
    )


def findings(*sources: Workbook | Roster, meet: bool = False) -> list[Finding]:
    """Run every check on workbooks together."""
    rosters = [enrolled(source) if isinstance(source, Workbook) else source for source in sources]
    return findings_in(scope_of(rosters, meet=meet))


def brief(found: Iterable[Finding], rule: str | None = None) -> list[tuple[str, str | None, str]]:
    """Return findings as (check, cell, severity), in the order of the cells; of one check or of all."""
    return [
        (finding.rule, finding.place.cell, finding.severity.value)
        for finding in sorted(found, key=lambda f: (f.place, f.rule, f.message))
        if rule in (None, finding.rule)
    ]
