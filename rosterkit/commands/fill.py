"""The command ``fill``: computed columns, Check, Findings and Cards written into a workbook."""

from pathlib import Path

from rosterkit.cards.accessory_cards import accessory_cards
from rosterkit.cards.card import cards_of
from rosterkit.cards.sheet import MOST_CARDS, cards_sheet
from rosterkit.checks import findings_in
from rosterkit.checks.card_errors import device_errors_by_row, errors_by_row
from rosterkit.checks.framework import scope_of
from rosterkit.checks.result import report_of
from rosterkit.checks.sheet import findings_sheet
from rosterkit.commands.common import require_same_kind
from rosterkit.commands.results import Filled, filled_from
from rosterkit.live.machinery import TITLE as LIVE
from rosterkit.roster.load import known_sheets, roster_from
from rosterkit.writeback.formulas import live_formulas
from rosterkit.writeback.sheets import refuse_foreign_checks, sheet_changes
from rosterkit.writeback.typed_values import refuse_typed_values
from rosterkit.xlsx.changes import WorkbookChange
from rosterkit.xlsx.package.opening import Package, opened
from rosterkit.xlsx.patch.sheet_titles import own_title
from rosterkit.xlsx.save.save import save

_STALE = "computed-stale"
"""What this check finds is mended by the very run of fill that would report it."""


def fill(path: Path, out: Path | None = None, *, replace: bool = False, values: bool = False) -> Filled:
    """Check a workbook, and write computed columns, Check, Findings and Cards into it or into a copy.

    What somebody typed into the earlier Findings or Cards is lost only if it is to be replaced.

    Raises:
        CannotRunError: if it cannot be read or written without harm; nothing is written then.
    """
    require_same_kind(path, out)
    package = opened(path)
    workbook = known_sheets(package)
    roster = roster_from(workbook)
    refuse_foreign_checks(roster)
    refuse_typed_values(roster)
    findings = [f for f in findings_in(scope_of([roster])) if f.rule != _STALE]
    cards = cards_of(roster, most=MOST_CARDS, errors=errors_by_row(roster, findings))
    devices = accessory_cards(roster, errors=device_errors_by_row(roster, findings))
    left_out = len(roster.engines) - len(cards) + len(devices[MOST_CARDS:])
    devices = devices[:MOST_CARDS]
    live = (
        None
        if values
        else live_formulas(
            roster, workbook.grids, findings, title=_live_title(package), date1904=package.date1904
        )
    )
    change = WorkbookChange(
        sheets=sheet_changes(roster, findings, live.sheets if live else None),
        own_sheets=(
            findings_sheet(findings),
            cards_sheet([*cards, *devices], event=roster.layout.event, left_out=left_out),
            *([live.sheet] if live else []),
        ),
        replaces_typed=replace,
    )
    saved = save(package, change, out)
    return filled_from(saved, path, out, report_of([roster], findings))


def _live_title(package: Package) -> str:
    """Return the title of the sheet Live, which formulas name: another where a member's sheet has it."""
    own = [sheet.title for sheet in package.sheets if sheet.is_own and sheet.kind == "worksheet"]
    others = [sheet.title for sheet in package.sheets if sheet.title not in own]
    return own_title(LIVE, own=own, others=others)
