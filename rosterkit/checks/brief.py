"""The findings of a run on as few lines as there are engines with some, for the evening before a meet.

A line is an engine, or a row of another list that names none. What is worst of it is said in full, and what
else there is by the names of the checks and the cells. What one sentence mends in three rows or more, or all
that the next fill mends, is one line whatever the engines, with the fix. The worst line stands first: by its
most severe finding, then by how many there are of each severity, then in reading order.

Every error is named with its cell. Of warnings and notes it names some cells, and how many
more there are.

It is not what a terminal gets unasked: it has few fixes, and what one sees there is what one sends.
"""

from collections import Counter
from collections.abc import Mapping, Sequence
from dataclasses import dataclass

from rosterkit.checks.cell_runs import Run
from rosterkit.checks.clashes import file_name
from rosterkit.checks.grouping import Group, grouped, sheet_word
from rosterkit.checks.result import CheckReport
from rosterkit.findings import Finding, Place, Severity, counts
from rosterkit.roster.schema import folded

_MANY = 3
"""Rows that lack the same thing, from which on they are one line."""
_MOST_RUNS = 12
"""Runs of cells that a line names of warnings and notes."""
_ENGINES = "Locomotives"
_Subject = tuple[str, str | None, str | int | None]
"""A workbook, and an engine by its label (and no sheet), or a row of a sheet, or a sheet, or nothing."""


@dataclass(frozen=True, slots=True, kw_only=True)
class BriefLine:
    """What a line says."""

    groups: tuple[Group, ...]
    """The worst first."""
    of_many: bool
    """It is of one thing in many rows, not of one engine or row."""
    names: Mapping[str, str]
    """What the workbooks are called, where there are several."""

    @property
    def lead(self) -> Finding:
        """The worst finding, whose cell stands for the line where only one can."""
        return self.groups[0].lead

    @property
    def findings(self) -> tuple[Finding, ...]:
        """All that the line stands for."""
        return tuple(finding for group in self.groups for finding in group.findings)

    @property
    def fix(self) -> str:
        """What to do about the worst."""
        return self.groups[0].fix

    @property
    def subject(self) -> str:
        """Whom it is of, in words."""
        place = self.lead.place
        if self.of_many:
            return self.groups[0].subject or "fill"
        named = self.lead.loco or sheet_word(place.sheet).strip()
        if self.names or not named:
            return f"{self.names.get(place.workbook, place.workbook)} {named}".strip()
        return named

    @property
    def message(self) -> str:
        """What is wrong: the worst in full, of the rest the checks and cells."""
        if self.of_many:
            first = self.groups[0]
            return _by(first.rules, f"{self._named(first)}: {first.message}")
        said: dict[tuple[str, ...], list[str]] = {}
        less: dict[tuple[str, ...], list[Finding]] = {}
        for group in self.groups:
            if group.lead.severity is self.lead.severity:
                words = group.message.removeprefix(f"'{group.lead.loco}': ")  # the line has named the engine
                said.setdefault(group.rules, []).append(f"{self._named(group)}: {words}")
            else:
                less.setdefault(group.rules, []).extend(group.findings)
        for rules, findings in less.items():
            said.setdefault(rules, []).append(self._named(Group(tuple(findings))))
        return "; ".join(_by(rules, "; ".join(words)) for rules, words in said.items())

    def _named(self, group: Group) -> str:
        """Name the cells: all of errors; none where the line is of a whole sheet or workbook."""
        lead = group.lead
        if lead.place.cell is None and not self.of_many:
            return ""
        seen_from = Place(lead.place.workbook, _ENGINES)
        if self.of_many and self.names:
            seen_from = Place("")
        elif not lead.loco or folded(lead.place.sheet or "") == folded(_ENGINES):
            seen_from = lead.place
        runs = list(group.runs(seen_from, self.names))
        return _some(runs, len(runs) if lead.severity is Severity.ERROR else _MOST_RUNS)


def _by(rules: tuple[str, ...], words: str) -> str:
    """Put the check before what it says, unless the cells say which they are of."""
    if len(rules) > 1:
        return words
    return f"{rules[0]}{'' if words.startswith(':') else ' '}{words}".rstrip()


def _some(runs: Sequence[Run], most: int) -> str:
    left = sum(run.cells for run in runs[most:])
    return ", ".join(run.text for run in runs[:most]) + (f" and {left} more" if left else "")


def brief_lines(report: CheckReport) -> list[BriefLine]:
    """Return the lines of a report, the worst first."""
    names = _names([path for path, _ in report.workbooks])
    lines: dict[object, list[Group]] = {}
    for group in grouped(report.findings, across=True):
        subjects = {_subject(finding) for finding in group.findings}
        if len(subjects) >= _MANY or group.is_for_fill:
            lines[group] = [group]
        elif len(subjects) == 1:
            lines.setdefault(subjects.pop(), []).append(group)
        else:
            for finding in group.findings:
                lines.setdefault(_subject(finding), []).append(Group((finding,)))
    made = [
        BriefLine(
            groups=tuple(sorted(groups, key=lambda group: _RANK[group.lead.severity])),
            of_many=isinstance(key, Group),
            names=names,
        )
        for key, groups in lines.items()
    ]
    return sorted(made, key=_gravity)


def _names(paths: Sequence[str]) -> Mapping[str, str]:
    """Return what several workbooks are called: by the names of their files, where these tell them apart."""
    if len(paths) <= 1:
        return {}
    often = Counter(map(file_name, paths))
    return {path: file_name(path) if often[file_name(path)] == 1 else path for path in paths}


_RANK = {severity: rank for rank, severity in enumerate(Severity)}


def _gravity(line: BriefLine) -> tuple[int, ...]:
    found = counts(line.findings)
    return _RANK[line.lead.severity], *(-found[severity.value] for severity in Severity)


def _subject(finding: Finding) -> _Subject:
    place = finding.place
    if finding.loco:
        return place.workbook, None, folded(finding.loco)
    return place.workbook, place.sheet, place.row
