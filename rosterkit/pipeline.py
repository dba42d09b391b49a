"""What each command does, as a short list of calls; what only some commands need is imported by them."""

import os
from collections.abc import Collection, Sequence
from pathlib import Path
from typing import TYPE_CHECKING

from rosterkit import __version__
from rosterkit.errors import CannotRunError
from rosterkit.findings import Finding, Severity, in_reading_order
from rosterkit.rendering.check_reports import CheckReport
from rosterkit.roster import Roster
from rosterkit.rosters import own_sheets, roster_at, roster_in
from rosterkit.rules import SPEED_RULES, findings_in
from rosterkit.rules.checking import Unread, scope_of
from rosterkit.standards.speed_curve import TABLE_STEPS
from rosterkit.xlsx.package.opening import opened

if TYPE_CHECKING:
    from rosterkit.cards import Card, Wishes
    from rosterkit.comparison.comparing import Comparison
    from rosterkit.rendering.fill_reports import Filled
    from rosterkit.rendering.speed_figures import SpeedReport
    from rosterkit.xlsx.editing.saving import Saved

_STALE = "computed-stale"
"""What this check finds is mended by the very run of fill that would report it."""
_TOO_LONG = "engine-too-long"
"""The card says it by itself, beside the list to go through before."""
_NOT_APPLIED = "goal-not-applied"
"""And this by the run of speed."""
_SPEED_SHEETS = ("Speed runs", "Speed goals")
"""Sheets of which every finding matters to the speed report: a pass that cannot be read is left out."""


def check(paths: Sequence[Path], *, meet: bool = False) -> CheckReport:
    """Check workbooks, each on its own, or for a meet all together.

    Raises:
        CannotRunError: if not one of them can be read. One among several becomes a finding.
    """
    rosters: list[Roster] = []
    unread: list[Unread] = []
    paths = each_file_once(paths)
    for path in paths:
        try:
            rosters.append(roster_at(path))
        except CannotRunError as error:
            if len(paths) == 1:
                raise
            unread.append(Unread(workbook=str(path), message=error.message, fix=error.fix))
    if not rosters:
        raise CannotRunError(unread[0].message, unread[0].fix)
    groups = [rosters] if meet else [[roster] for roster in rosters]
    findings = [f for group in groups for f in findings_in(scope_of(group, meet=meet))]
    findings += findings_in(scope_of([], unread=unread))
    return _report(rosters, findings)


def fill(path: Path, out: Path | None = None) -> "Filled":
    """Check a workbook, and write computed columns, Check, Findings and Cards into it or into a copy.

    Raises:
        CannotRunError: if it cannot be read or written without harm; nothing is written then.
    """
    from rosterkit.cards import cards_of
    from rosterkit.filling import refuse_foreign_checks, sheet_changes
    from rosterkit.pages import WorkbookChange
    from rosterkit.rendering.cards_page import MOST_CARDS, cards_page
    from rosterkit.rendering.findings_page import findings_page
    from rosterkit.xlsx.editing.saving import save

    _require_same_kind(path, out)
    package = opened(path)
    roster = roster_in(package)
    refuse_foreign_checks(roster)
    findings = [f for f in findings_in(scope_of([roster])) if f.rule != _STALE]
    cards = cards_of(roster, most=MOST_CARDS, errors=_errors_by_row(roster, findings))
    change = WorkbookChange(
        sheets=sheet_changes(roster, findings),
        pages=(
            findings_page(findings),
            cards_page(cards, event=roster.layout.event, left_out=len(roster.engines) - len(cards)),
        ),
    )
    saved = save(package, change, out)
    return _filled(saved, path, out, _report([roster], findings))


def speed(path: Path, out: Path | None = None, *, all_steps: bool = False) -> tuple["SpeedReport", "Filled"]:
    """Make speed tables and trims of a workbook's timed runs, and write them into it or into a copy.

    The report has the speeds at some of the 28 steps, or at all.

    Raises:
        CannotRunError: if there are no timed runs, or the workbook cannot be read or written without harm.
    """
    from rosterkit.pages import WorkbookChange
    from rosterkit.rendering.speed_figures import SHOWN_STEPS, SpeedReport, figures_of
    from rosterkit.rendering.speed_page import speed_page
    from rosterkit.speed_filling import speed_changes
    from rosterkit.xlsx.editing.saving import save

    _require_same_kind(path, out)
    package = opened(path)
    roster = roster_in(package)
    if not roster.speed_runs:
        raise CannotRunError(
            f"{path}: there are no timed runs", "Enter them in the sheet Speed runs, one pass a row."
        )
    scope = scope_of([roster])
    speeds = scope.speeds[0][1]
    findings = [f for f in findings_in(scope) if f.rule not in (_STALE, _NOT_APPLIED)]
    titles = {roster.book.tables[title].title for title in _SPEED_SHEETS if title in roster.book.tables}
    report = SpeedReport(
        version=__version__,
        workbook=roster.book.name,
        unit=roster.layout.speed_unit,
        length_unit=roster.layout.length_unit,
        engines=figures_of(roster, speeds, TABLE_STEPS if all_steps else SHOWN_STEPS),
        findings=in_reading_order([f for f in findings if f.rule in SPEED_RULES or f.place.sheet in titles]),
    )
    sheets, pages = speed_changes(roster, speeds, findings)
    saved = save(package, WorkbookChange(sheets=sheets, pages=(*pages, speed_page(report))), out)
    return report, _filled(saved, path, out, _report([roster], report.findings))


def cards(path: Path, labels: Collection[str] = (), wishes: "Wishes | None" = None) -> "list[Card]":
    """Make the cards of a workbook's engines, or of those with the given labels.

    Raises:
        CannotRunError: if the workbook cannot be read, or has no engine of one of the labels.
    """
    from rosterkit.cards import cards_of, unknown_labels
    from rosterkit.meets.trip_cards import away_of, trip_cards

    roster = roster_at(path)
    unknown = unknown_labels(roster, labels)
    if unknown:
        names = ", ".join(f"'{label}'" for label in unknown)
        raise CannotRunError(
            f"{path}: there is no engine {names}", "Give --loco as it stands in the column Loco."
        )
    if wishes and wishes.trip:
        return trip_cards(roster, away_of(roster), wishes.trip, wishes, labels)
    errors = _errors_by_row(roster, findings_in(scope_of([roster])))
    return cards_of(roster, labels, wishes=wishes, errors=errors)


def compare(old: Path, new: Path) -> "Comparison":
    """Read two workbooks, and compare them: engines with their registers, and the rows of all other sheets.

    Raises:
        CannotRunError: if one of them cannot be read.
    """
    from rosterkit.comparison.comparing import comparison

    before, after = opened(old), opened(new)
    return comparison(roster_in(before), roster_in(after), (own_sheets(before), own_sheets(after)))


def record(path: Path, labels: Sequence[str], texts: Sequence[str], day: str) -> "Saved":
    """Write what was read of one engine into its workbook's sheet Readings, as new rows.

    Args:
        path: the workbook; it is changed in place, the earlier file kept.
        labels: the engine's label, one only.
        texts: what was read, as CV=VALUE pairs.
        day: the day of the readings, as 2026-05-31.

    Raises:
        CannotRunError: if it is not one engine of the workbook, a pair is none, or the workbook cannot be
            read or written without harm; nothing is written then.
    """
    from rosterkit.recording import noted, recorded
    from rosterkit.xlsx.editing.saving import save

    if len(labels) != 1:
        raise CannotRunError("readings are of one engine at a time", "Name it by --loco, once.")
    readings = noted(texts)
    package = opened(path)
    return save(package, recorded(roster_in(package), labels[0], readings, day))


def _filled(saved: "Saved", path: Path, out: Path | None, report: CheckReport) -> "Filled":
    from rosterkit.rendering.fill_reports import Filled

    is_copy = out is not None and len(each_file_once((path, out))) > 1
    return Filled(
        target=out or path,
        kept=saved.kept,
        written=saved.changed or is_copy,
        renamed={title: used for title, used in saved.titles.items() if title != used},
        report=report,
    )


def _require_same_kind(path: Path, out: Path | None) -> None:
    if out is not None and out.is_dir():
        raise CannotRunError(f"cannot write {out}: it is a folder", "Give a file name inside it.")
    if out is not None and out.suffix.lower() != path.suffix.lower() and path.is_file():
        name = out.with_suffix(path.suffix).name
        raise CannotRunError(
            f"'{out}' does not end in {path.suffix} as the workbook does", f"Name it {name}."
        )


def _errors_by_row(roster: Roster, findings: Sequence[Finding]) -> dict[int, list[str]]:
    """Give what is known to be wrong with engines, by sheet row, beyond what their cards say anyway."""
    title = roster.book.tables["Locomotives"].title
    said: dict[int, list[str]] = {}
    for finding in findings:
        here = finding.place.sheet == title and finding.rule != _TOO_LONG
        if here and finding.severity is Severity.ERROR:
            words = f"Error in {finding.column or 'its row'}: {finding.message}."
            said.setdefault(finding.place.row or 0, []).append(words)
    return said


def each_file_once(paths: Sequence[Path]) -> Sequence[Path]:
    """Give each file once, as it is named first: no engine clashes with itself."""
    first: dict[str, Path] = {}
    for path in paths:
        first.setdefault(os.path.realpath(path), path)
    return list(first.values())


def _report(rosters: Sequence[Roster], findings: Sequence[Finding]) -> CheckReport:
    return CheckReport(
        version=__version__,
        workbooks=[(roster.book.name, len(roster.engines)) for roster in rosters],
        findings=in_reading_order(findings),
    )
