"""The command ``fill``: computed columns, Check, Findings and Cards written into a workbook."""

import dataclasses
from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from pathlib import Path

from rosterkit.cards.accessory_cards import accessory_cards
from rosterkit.cards.card import cards_of
from rosterkit.cards.sheet import MOST_CARDS, cards_sheet
from rosterkit.cards.sheet import TITLE as CARDS
from rosterkit.cards.typed_lines import TypedLine, typed_lines
from rosterkit.checks import findings_in
from rosterkit.checks.card_errors import device_errors_by_row, errors_by_row
from rosterkit.checks.framework import scope_of
from rosterkit.checks.result import report_of
from rosterkit.checks.sheet import findings_sheet
from rosterkit.commands.common import now, require_same_kind
from rosterkit.commands.results import Filled, filled_from
from rosterkit.cv.readings import Moment
from rosterkit.findings import Finding
from rosterkit.live.facts import NOT_COUNTED
from rosterkit.live.inputs import typed_in
from rosterkit.live.machinery import TITLE as LIVE
from rosterkit.roster.load import known_sheets, package_at, roster_from
from rosterkit.roster.model import Roster
from rosterkit.writeback.formula_cells import SheetFormulas
from rosterkit.writeback.formulas import live_formulas, no_live_sheet, plain_values
from rosterkit.writeback.kept_on_cards import OnNewCards, on_new_cards, refuse_homeless, taken_over_words
from rosterkit.writeback.new_readings import with_readings
from rosterkit.writeback.read_back import FromCards, read_back
from rosterkit.writeback.sheets import refuse_foreign_checks, sheet_changes
from rosterkit.writeback.typed_values import refuse_typed_values
from rosterkit.xlsx.changes import OwnSheet, WorkbookChange
from rosterkit.xlsx.grid import Workbook
from rosterkit.xlsx.package.opening import Package
from rosterkit.xlsx.patch.sheet_titles import own_title
from rosterkit.xlsx.read.workbook import read_workbook
from rosterkit.xlsx.save.save import save

_MENDED = ("computed-stale", "formula-missing", "formula-damaged")
"""What these checks find is mended by the very run of fill that would report it."""


def fill(
    path: Path,
    out: Path | None = None,
    *,
    replace: bool = False,
    values: bool = False,
    moment: Moment | None = None,
) -> Filled:
    """Check a workbook, and write computed columns, Check, Findings and Cards into it or into a copy.

    What was read back on the earlier Cards goes into Readings, and ticks stay on their lines. What else
    somebody typed into the earlier Findings or Cards is lost only if it is to be replaced.

    Args:
        path: The workbook.
        out: The copy; None to fill it in place.
        replace: What was typed into sheets of ours is replaced too.
        values: Values are written in place of formulas.
        moment: The day and time of what was read back; now, if it is not given.

    Raises:
        CannotRunError: if it cannot be read or written without harm; nothing is written then.
    """
    require_same_kind(path, out)
    package = package_at(path)
    workbook = known_sheets(package)
    roster = roster_from(workbook)
    refuse_foreign_checks(roster)
    refuse_typed_values(roster)
    typed = read_back(_typed_on_cards(package), roster, moment or now())
    with_new = with_readings(workbook, roster, typed.rows)
    workbook, roster = with_new.workbook, with_new.roster
    findings = [f for f in findings_in(scope_of([roster])) if f.rule not in _MENDED]
    page, kept = _cards_page(roster, findings, typed)
    if not replace:
        refuse_homeless(package.name, kept.homeless)
    live = _live(package, workbook, roster, findings, values=values)
    change = WorkbookChange(
        sheets=with_new.sheet_changes(sheet_changes(roster, findings, live.formulas)),
        own_sheets=(*with_new.own_sheets(), findings_sheet(findings), page, *live.sheets),
        replaces_typed=replace,
    )
    saved = save(package, change, out)
    remarks = [*taken_over_words(typed, kept), *([live.remark] if live.remark else ())]
    return filled_from(saved, path, out, report_of([roster], findings), remarks)


def _cards_page(roster: Roster, findings: Sequence[Finding], typed: FromCards) -> tuple[OwnSheet, OnNewCards]:
    """Return the sheet Cards, and what becomes on it of what was typed into the earlier one."""
    engines = cards_of(roster, most=MOST_CARDS, errors=errors_by_row(roster, findings))
    devices = accessory_cards(roster, errors=device_errors_by_row(roster, findings))
    left_out = len(roster.engines) - len(engines) + len(devices[MOST_CARDS:])
    cards = [*engines, *devices[:MOST_CARDS]]
    kept = on_new_cards(typed, cards, roster)
    page = cards_sheet(cards, event=roster.layout.event, left_out=left_out, typed=kept.placed)
    return dataclasses.replace(page, taken_over=kept.taken_over), kept


def _typed_on_cards(package: Package) -> list[TypedLine]:
    title = _title_of(package, CARDS)
    there = any(sheet.is_own and sheet.title == title for sheet in package.sheets)
    return typed_lines(read_workbook(package, {title}.__contains__).grids[title]) if there else []


@dataclass(frozen=True, slots=True, kw_only=True)
class _Live:
    """What computes in the workbook, or takes the place of what did."""

    formulas: Mapping[str, SheetFormulas]
    """By our own titles of sheets."""
    sheets: Sequence[OwnSheet] = ()
    """The sheet Live, where there is one."""
    remark: str | None = None


def _live(
    package: Package, workbook: Workbook, roster: Roster, findings: Sequence[Finding], *, values: bool
) -> _Live:
    title = _title_of(package, LIVE)
    there = any(sheet.is_own and sheet.title == title for sheet in package.sheets)
    typed = typed_in(read_workbook(package, {title}.__contains__).grids[title]) if there else {}
    if values:
        sheets = [no_live_sheet(title, typed)] if there else []
        return _Live(formulas=plain_values(roster, workbook.grids), sheets=sheets)
    live = live_formulas(
        roster, workbook.grids, findings, title=title, typed=typed, date1904=package.date1904
    )
    remark = None if live.counted else NOT_COUNTED
    return _Live(formulas=live.sheets, sheets=[live.sheet], remark=remark)


def _title_of(package: Package, wanted: str) -> str:
    """Return the title of a sheet of ours: another where a member's sheet has it; formulas name Live."""
    own = [sheet.title for sheet in package.sheets if sheet.is_own and sheet.kind == "worksheet"]
    others = [sheet.title for sheet in package.sheets if sheet.title not in own]
    return own_title(wanted, own=own, others=others)
