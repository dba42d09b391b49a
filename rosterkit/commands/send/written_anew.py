"""What rosterkit computed in a workbook, written anew after rows of it changed their places."""

from collections.abc import Iterator

from rosterkit.cards.accessory_cards import accessory_cards
from rosterkit.cards.card import cards_of
from rosterkit.cards.sheet import MOST_CARDS, cards_sheet
from rosterkit.cards.sheet import TITLE as CARDS
from rosterkit.checks import findings_in
from rosterkit.checks.card_errors import device_errors_by_row, errors_by_row
from rosterkit.checks.framework import scope_of
from rosterkit.checks.sheet import TITLE as FINDINGS
from rosterkit.checks.sheet import findings_sheet
from rosterkit.findings import Finding
from rosterkit.live.inputs import typed_in
from rosterkit.live.machinery import TITLE as LIVE
from rosterkit.roster.load import known_sheets, roster_from
from rosterkit.roster.model import Roster
from rosterkit.writeback.formulas import LiveFormulas, live_formulas
from rosterkit.writeback.sheets import formulas_change, sheet_changes
from rosterkit.xlsx.changes import OwnSheet, SheetChange, WorkbookChange
from rosterkit.xlsx.package.opening import Package, opened_in_memory
from rosterkit.xlsx.read.workbook import read_workbook
from rosterkit.xlsx.save.edit import edited

_MENDED = ("computed-stale", "formula-missing", "formula-damaged")
"""What these checks find comes of the very move."""


def written_anew(package: Package) -> Package:
    """Return a workbook with its formulas' results, Check, Live, Findings and Cards as its rows are now.

    A workbook that has no such sheet stays as it is: what was computed stands in its row.

    Raises:
        CannotRunError: somebody typed into a sheet that would be replaced, or a cell cannot be written.
    """
    there = {sheet.title for sheet in package.sheets if sheet.is_own} & {LIVE, FINDINGS, CARDS}
    if not there:
        return package
    workbook = known_sheets(package)
    roster = roster_from(workbook)
    findings = [one for one in findings_in(scope_of([roster])) if one.rule not in _MENDED]
    live = None
    if LIVE in there:
        typed = typed_in(read_workbook(package, {LIVE}.__contains__).grids[LIVE])
        live = live_formulas(
            roster, workbook.grids, findings, title=LIVE, typed=typed, date1904=package.date1904
        )
    change = WorkbookChange(
        sheets=tuple(_sheets(roster, findings, live, filled=bool(there - {LIVE}))),
        own_sheets=tuple(_own_sheets(roster, findings, live, there)),
    )
    return opened_in_memory(edited(package, change).data, package.name)


def _sheets(
    roster: Roster, findings: list[Finding], live: LiveFormulas | None, *, filled: bool
) -> Iterator[SheetChange]:
    if filled:
        yield from sheet_changes(roster, findings, live.sheets if live else None)
    elif live:
        tables = roster.book.tables
        yield from (formulas_change(tables[title], one) for title, one in live.sheets.items())


def _own_sheets(
    roster: Roster, findings: list[Finding], live: LiveFormulas | None, there: set[str]
) -> Iterator[OwnSheet]:
    if FINDINGS in there:
        yield findings_sheet(findings)
    if CARDS in there:
        engines = cards_of(roster, most=MOST_CARDS, errors=errors_by_row(roster, findings))
        devices = accessory_cards(roster, errors=device_errors_by_row(roster, findings))
        left_out = len(roster.engines) - len(engines) + len(devices[MOST_CARDS:])
        yield cards_sheet([*engines, *devices[:MOST_CARDS]], event=roster.layout.event, left_out=left_out)
    if live:
        yield live.sheet
