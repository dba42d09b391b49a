"""The command ``speed``: speed tables and trims of timed runs, written into a workbook."""

from pathlib import Path

from rosterkit import __version__
from rosterkit.checks import SPEED_RULES, findings_in
from rosterkit.checks.framework import scope_of
from rosterkit.checks.result import report_of
from rosterkit.commands.common import require_same_kind
from rosterkit.commands.results import Filled, filled_from
from rosterkit.commands.speed.changes import speed_changes
from rosterkit.commands.speed.figures import SHOWN_STEPS, SpeedReport, figures_of
from rosterkit.commands.speed.sheet import speed_sheet
from rosterkit.errors import CannotRunError
from rosterkit.findings import in_reading_order
from rosterkit.planning.speed.from_roster import speeds_of
from rosterkit.roster.load import package_at, roster_in
from rosterkit.standards.speed_curve import TABLE_STEPS
from rosterkit.xlsx.changes import WorkbookChange
from rosterkit.xlsx.save.save import save

_LEFT_OUT = ("computed-stale", "formula-missing", "formula-damaged", "goal-not-applied")
"""What these checks find is mended by this very run, or by the run of fill after it."""
_SPEED_SHEETS = ("Speed runs", "Speed goals")
"""Sheets of which every finding matters to the speed report: a run that cannot be read is left out."""


def speed(
    path: Path, out: Path | None = None, *, all_steps: bool = False, replace: bool = False
) -> tuple[SpeedReport, Filled]:
    """Make speed tables and trims of a workbook's timed runs, and write them into it or into a copy.

    The report has the speeds at some of the 28 steps, or at all. What somebody typed into the earlier sheet
    Speed is lost only if it is to be replaced.

    Raises:
        CannotRunError: if there are no timed runs, or the workbook cannot be read or written without harm.
    """
    require_same_kind(path, out)
    package = package_at(path)
    roster = roster_in(package)
    if not roster.speed_runs:
        raise CannotRunError(
            f"{path}: there are no timed runs", "Enter them in the sheet Speed runs, one run a row."
        )
    speeds = speeds_of(roster)
    findings = [f for f in findings_in(scope_of([roster])) if f.rule not in _LEFT_OUT]
    titles = {roster.book.tables[title].title for title in _SPEED_SHEETS if title in roster.book.tables}
    report = SpeedReport(
        version=__version__,
        workbook=roster.book.name,
        unit=roster.layout.speed_unit,
        length_unit=roster.layout.length_unit,
        engines=figures_of(roster, speeds, TABLE_STEPS if all_steps else SHOWN_STEPS),
        findings=in_reading_order([f for f in findings if f.rule in SPEED_RULES or f.place.sheet in titles]),
    )
    sheets, own_sheets = speed_changes(roster, speeds, findings)
    change = WorkbookChange(
        sheets=sheets, own_sheets=(*own_sheets, speed_sheet(report)), replaces_typed=replace
    )
    saved = save(package, change, out)
    return report, filled_from(saved, path, out, report_of([roster], report.findings))
