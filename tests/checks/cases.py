"""What a line in the tables of checks is: workbooks, and the cells at which one check finds something."""

from collections.abc import Mapping, Sequence
from dataclasses import dataclass

from rosterkit.checks import findings_in
from rosterkit.checks.framework import scope_of
from rosterkit.findings import Finding, Hit
from rosterkit.xlsx.grid import Workbook
from tests.rosters import Rows, brief, enrolled, workbook

Found = Sequence[tuple[str | None, str]]
"""Cell and severity of each finding, in the order of workbooks and cells."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Case:
    """One line: what the check of that name finds in these workbooks."""

    check: str
    says: str
    workbooks: Sequence[Workbook]
    found: Found
    meet: bool = False
    unread: Sequence[Hit] = ()
    unplaced: Sequence[Hit] = ()

    def __str__(self) -> str:
        return f"{self.check}: {self.says}"

    def findings(self) -> list[Finding]:
        """Run every check on the workbooks together, and give what this one found."""
        rosters = [enrolled(source) for source in self.workbooks]
        scope = scope_of(rosters, meet=self.meet, unread=self.unread, unplaced=self.unplaced)
        return [finding for finding in findings_in(scope) if finding.rule == self.check]

    def briefly(self) -> list[tuple[str | None, str]]:
        """Return the cells and severities of what the check found."""
        return [(cell, severity) for _, cell, severity in brief(self.findings())]


@dataclass(frozen=True, slots=True)
class Table:
    """The lines of one check."""

    check: str

    def line(
        self,
        says: str,
        engines: Rows,
        found: Found = (),
        *,
        layout: Mapping[str, object] | None = None,
        ranges: Rows = (),
        decoders: Rows = (),
        meet: bool = False,
        filled: bool = False,
        **others: Rows,
    ) -> Case:
        """Make a line about one workbook; nothing found unless cells are given."""
        source = workbook(
            engines,
            layout=layout,
            ranges=ranges,
            decoders=decoders,
            name="club.xlsx",
            filled=filled,
            **others,
        )
        return Case(check=self.check, says=says, workbooks=[source], found=found, meet=meet)

    def across(
        self, says: str, workbooks: Sequence[Workbook], found: Found = (), *, meet: bool = False
    ) -> Case:
        """Make a line about workbooks that are given whole."""
        return Case(check=self.check, says=says, workbooks=workbooks, found=found, meet=meet)
