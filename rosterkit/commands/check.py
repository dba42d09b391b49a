"""The command ``check``: workbooks in, findings out."""

from collections.abc import Sequence
from pathlib import Path

from rosterkit.checks import findings_across, findings_in, findings_within
from rosterkit.checks.framework import scope_of
from rosterkit.checks.result import CheckReport, report_of
from rosterkit.checks.selection import at_least, of_owner
from rosterkit.commands.common import each_file_once
from rosterkit.errors import CannotRunError
from rosterkit.findings import Hit, Place, Severity
from rosterkit.roster.load import roster_at
from rosterkit.roster.model import Roster


def check(
    paths: Sequence[Path],
    *,
    meet: bool = False,
    together: bool = False,
    owner: str | None = None,
    only: str | None = None,
) -> CheckReport:
    """Check workbooks, each on its own, or for a meet all together.

    Args:
        paths: The workbooks; one that is named twice counts once.
        meet: Look only at engines that come to the meet, across all workbooks.
        together: Each is checked on its own, and compared with the others by the home addresses too.
        owner: The code of a member: only what was found of their engines is shown, and counts.
        only: A severity: only what is as severe or more is shown; the rest counts all the same.

    Raises:
        CannotRunError: if not one of them can be read, or the member owns no engine in them. One among
            several that cannot be read becomes a finding.
    """
    rosters: list[Roster] = []
    unread: list[Hit] = []
    paths = each_file_once(paths)
    for path in paths:
        try:
            rosters.append(roster_at(path))
        except CannotRunError as error:
            if len(paths) == 1:
                raise
            unread.append(Hit(place=Place(str(path)), message=error.message, fix=error.fix))
    if not rosters:
        raise CannotRunError(unread[0].message, unread[0].fix)
    if meet:
        findings = findings_in(scope_of(rosters, meet=True))
    elif together:
        findings = [found for roster in rosters for found in findings_within(scope_of([roster]))]
        findings += findings_across(scope_of(rosters))
    else:
        findings = [found for roster in rosters for found in findings_in(scope_of([roster]))]
    findings += findings_in(scope_of([], unread=unread))
    report = report_of(rosters, findings)
    if owner is not None:
        report = of_owner(report, rosters, owner)
    return report if only is None else at_least(report, Severity(only))
