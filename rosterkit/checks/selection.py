"""Which findings are shown: those of one member's engines, and those that are severe enough.

A finding is a member's if it stands in the row of an engine of theirs, in a row of another sheet that names
one, such as a reading, or in a row that one names: its speed table, its kind of decoder. So it is where it
stands in a row of somebody else and concerns a row of theirs of which the same check says nothing, as where a
consist of another has their engine's address. What is said of a whole workbook, sheet or heading, or of the
layout's settings, is everybody's: a workbook that cannot be read hides their engines too.
"""

from collections.abc import Iterable, Iterator, Mapping, Sequence
from dataclasses import replace

from rosterkit.checks.result import CheckReport, OfOwner
from rosterkit.findings import Finding, Place, Severity
from rosterkit.roster.model import Roster
from rosterkit.roster.owners import nobody_owns, owner_codes, owners_of_labels, owners_of_rows
from rosterkit.roster.schema import folded
from rosterkit.roster.tables import Table

_Row = tuple[str, str, int]
"""A workbook, the title of a sheet, and a row of it."""


def of_owner(report: CheckReport, rosters: Sequence[Roster], code: str) -> CheckReport:
    """Keep a report to the findings of one member's engines, whatever the letter case of their code.

    Raises:
        CannotRunError: no engine belongs to the member; the nearest code is named.
    """
    wanted = folded(code)
    known = [one for roster in rosters for one in owner_codes(roster) if one]
    theirs = [one for one in known if folded(one) == wanted]
    if not theirs:
        where = f"{rosters[0].book.name}: " if len(rosters) == 1 else f"in {len(rosters)} workbooks "
        raise nobody_owns(where, code, known, "--owner")
    rows = dict(_owned_rows(rosters))
    mine, others, nobodys = _parted(report.findings, rows, wanted)
    selection = OfOwner(
        code=max(theirs, key=theirs.count), engines=len(theirs), others=others, nobodys=nobodys
    )
    return replace(report, findings=mine, of_owner=selection)


def at_least(report: CheckReport, severity: Severity) -> CheckReport:
    """Show only findings of a severity and those that are more severe; the others count all the same."""
    ranks = list(Severity)
    enough = set(ranks[: ranks.index(severity) + 1])
    return replace(
        report,
        only=severity,
        findings=[finding for finding in report.findings if finding.severity in enough],
        less_severe=[finding for finding in report.findings if finding.severity not in enough],
    )


def _parted(
    findings: Sequence[Finding], rows: Mapping[_Row, set[str]], wanted: str
) -> tuple[list[Finding], list[Finding], list[Finding]]:
    """Part findings into those of a member, of other members, and of nobody."""
    of = [_owners(finding, rows) for finding in findings]
    said = {
        (finding.rule, row)
        for finding, codes in zip(findings, of, strict=True)
        if codes is None or wanted in codes
        for row in _rows_of(finding)
    }
    mine: list[Finding] = []
    others: list[Finding] = []
    nobodys: list[Finding] = []
    for finding, codes in zip(findings, of, strict=True):
        if codes is None or wanted in codes or _concerns(finding, rows, wanted, said):
            mine.append(finding)
        else:
            (others if codes else nobodys).append(finding)
    return mine, others, nobodys


def _owners(finding: Finding, rows: Mapping[_Row, set[str]]) -> set[str] | None:
    """Return the codes of those whose finding it is; None where it is everybody's."""
    found = [rows[row] for row in _rows_of(finding) if row in rows]
    return set().union(*found) if found else None


def _concerns(
    finding: Finding, rows: Mapping[_Row, set[str]], wanted: str, said: set[tuple[str, _Row]]
) -> bool:
    """Tell whether it names a row of the member's of which the same check says nothing."""
    related = filter(None, map(_row_of, finding.related))
    return any(wanted in rows.get(row, ()) and (finding.rule, row) not in said for row in related)


def _rows_of(finding: Finding) -> Iterator[_Row]:
    first = _row_of(finding.place)
    if first is not None:
        yield from ((*first[:2], row) for row in range(first[2], (finding.down_to or first[2]) + 1))


def _row_of(place: Place) -> _Row | None:
    if place.sheet is None or place.row is None:
        return None
    return place.workbook, place.sheet, place.row


def _owned_rows(rosters: Iterable[Roster]) -> Iterator[tuple[_Row, set[str]]]:
    """Return the owners of each row of a list, none where it is nobody's; settings are no list."""
    for roster in rosters:
        owner_of = owners_of_labels(roster)
        engines = roster.book.tables["Locomotives"]
        for table in roster.book.tables.values():
            if table.sheet.transposed:
                continue
            owners = owners_of_rows(table, owner_of)
            if owners is None:
                owners = _owners_by_use(table, engines, [{folded(code)} for code in owner_codes(roster)])
            for row, codes in zip(table.rows, owners, strict=True):
                yield (table.workbook, table.title, row), codes - {""}
            for row in (*table.orphaned_rows, *table.other_rows):
                yield (table.workbook, table.title, row), set()


def _owners_by_use(table: Table, engines: Table, owners: Sequence[set[str]]) -> list[set[str]]:
    """Return the owners of the engines that name each row of a sheet, such as their speed table."""
    users: dict[str, set[str]] = {}
    column = next(
        (one for one in engines.sheet.columns if one.schema.get("refers") == table.sheet.title), None
    )
    if column is None or not table.sheet.identity:
        return [set() for _ in table.rows]
    for label, codes in zip(engines.values.get(column.name, ()), owners, strict=False):
        if label is not None:
            users.setdefault(folded(str(label)), set()).update(codes)
    labels = table.values[table.sheet.identity[0][0]]
    return [users.get(folded(str(label or "")), set()) for label in labels]
