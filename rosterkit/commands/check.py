"""The command ``check``: workbooks in, findings out."""

from collections.abc import Sequence
from pathlib import Path

from rosterkit.checks import findings_across, findings_in, findings_within
from rosterkit.checks.framework import scope_of
from rosterkit.checks.result import CheckReport, report_of
from rosterkit.commands.common import each_file_once
from rosterkit.errors import CannotRunError
from rosterkit.findings import Hit, Place
from rosterkit.roster.load import roster_at
from rosterkit.roster.model import Roster


def check(paths: Sequence[Path], *, meet: bool = False, together: bool = False) -> CheckReport:
    """Check workbooks, each on its own, or for a meet all together.

    Together each is checked on its own, and compared with the others by the home addresses too.

    Raises:
        CannotRunError: if not one of them can be read. One among several becomes a finding.
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
    return report_of(rosters, findings)
