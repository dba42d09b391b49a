"""Equal findings taken together, so that a list says a thing once and names every cell of which it is so.

Equal are findings of one check, severity, sheet and column, whose message and fix are the same but for the
engine or row that they name. All that the next fill mends by itself is one group, whatever its check, as one
fix does for all of it. No finding is in two groups, and none in no group.
"""

from collections.abc import Iterable, Iterator, Mapping, Sequence
from dataclasses import dataclass
from functools import cached_property
from itertools import groupby

from rosterkit.checks.cell_runs import Run, cell_runs
from rosterkit.checks.framework import RUN_FILL
from rosterkit.findings import Finding, Place
from rosterkit.formats import number_of
from rosterkit.roster.schema import folded

_Sheet = tuple[str, str | None]
"""A workbook, and one of its sheets or all of it."""


@dataclass(frozen=True)
class Group:
    """Findings that are equal, in their order; often a single one."""

    findings: tuple[Finding, ...]

    @property
    def lead(self) -> Finding:
        """The first of them, whose cell stands for the group where only one can."""
        return self.findings[0]

    @property
    def rules(self) -> tuple[str, ...]:
        """The checks that made them: one, but where all that it takes is to run fill."""
        return tuple(dict.fromkeys(finding.rule for finding in self.findings))

    @cached_property
    def engines(self) -> frozenset[tuple[str, str]]:
        """The engines that they name, by workbook and label; empty where one names none."""
        named = {(f.place.workbook, folded(f.loco)) if f.loco else None for f in self.findings}
        return frozenset(one for one in named if one) if None not in named else frozenset()

    @property
    def is_for_fill(self) -> bool:
        """Several findings that the next fill mends, perhaps of several checks."""
        return len(self.findings) > 1 and self.lead.fix == RUN_FILL

    @property
    def count(self) -> int:
        """How many cells there are, a whole sheet or workbook counted as one."""
        parts = groupby(sorted(self.findings, key=_sheet), key=_sheet)
        return sum(sum(run.cells for run in cell_runs(some)) or 1 for _, some in parts)

    @property
    def subject(self) -> str | None:
        """Whom they are of: an engine by its label, else how many engines or cells; None of nobody."""
        if self.is_for_fill:
            return None
        if len(self.findings) == 1 or len(self.engines) == 1:
            return self.lead.loco
        if self.engines:
            return number_of(len(self.engines), "engine")
        return number_of(self.count, "cell")

    @property
    def message(self) -> str:
        """What is wrong, in words that go for each of them."""
        if len(self.findings) == 1:
            return self.lead.message
        if self.is_for_fill:
            count = self.count
            them = (
                "is not as the next fill writes it" if count == 1 else "are not as the next fill writes them"
            )
            return f"{number_of(count, 'computed cell')} {them}"
        return self._for_each(self.lead.message).removeprefix("each: ")

    @property
    def fix(self) -> str:
        """What to do, in words that go for each of them."""
        return self.lead.fix if len(self.findings) == 1 else self._for_each(self.lead.fix)

    def _for_each(self, text: str) -> str:
        # What is said several times of one engine keeps its name.
        return _for_each(text, self.lead, named=len(self.engines) == 1)

    def runs(self, seen_from: Place | None = None, names: Mapping[str, str] | None = None) -> Iterator[Run]:
        """Return all cells in runs; the workbook and sheet are named where they differ from those before.

        Args:
            seen_from: The sheet that need not be named; None for that of the first finding.
            names: What workbooks are called; the others by their paths.
        """
        at = seen_from or self.lead.place
        here = (at.workbook, at.sheet)
        rules = {rule: rank for rank, rule in enumerate(self.rules)}
        of_several = len(rules) > 1
        by_rule = sorted(self.findings, key=lambda f: rules[f.rule]) if of_several else self.findings
        for rule, of_rule in groupby(by_rule, key=lambda f: f.rule):
            for place, some in groupby(of_rule, key=lambda f: (f.place.workbook, f.place.sheet)):
                runs = list(cell_runs(some))
                if runs:
                    runs[0] = Run(f"{_prefix(place, here, names or {})}{runs[0].text}", runs[0].cells)
                else:
                    runs = [Run(_whole(place, here, names or {}), 1)]
                if of_several:
                    runs[-1] = Run(f"{runs[-1].text} ({rule})", runs[-1].cells)
                here = place
                yield from runs

    def cells(self) -> str:
        """Return all cells in words, as seen from the first one: A3, A5-A9."""
        return ", ".join(run.text for run in self.runs())


def _sheet(finding: Finding) -> tuple[str, str]:
    return finding.place.workbook, finding.place.sheet or ""


def _prefix(place: _Sheet, before: _Sheet, names: Mapping[str, str]) -> str:
    (workbook, sheet), named = place, sheet_word(place[1])
    if workbook != before[0]:
        return f"{names.get(workbook, workbook)} {named}"
    return named if sheet != before[1] else ""


def _whole(place: _Sheet, before: _Sheet, names: Mapping[str, str]) -> str:
    """Name a sheet, or a workbook."""
    workbook, sheet = place
    if workbook == before[0]:
        return sheet or "the workbook"
    return f"{names.get(workbook, workbook)} {sheet or ''}".strip()


def sheet_word(sheet: str | None) -> str:
    """Return a sheet's title with a blank behind it, as it stands before its cells."""
    return f"{sheet} " if sheet else ""


def grouped(findings: Sequence[Finding], *, across: bool = False) -> list[Group]:
    """Take equal findings together; the groups stand in the order of their first findings.

    Args:
        findings: In the order in which they are to be read.
        across: Those of several workbooks are taken together too.
    """
    buckets: dict[object, list[int]] = {}
    for at, finding in enumerate(findings):
        place = finding.place
        workbook = None if across else place.workbook
        if finding.fix == RUN_FILL:
            buckets.setdefault((workbook, RUN_FILL, finding.severity), []).append(at)
        else:
            # Severities are compared by identity, as hashing them takes longer than all else here.
            key = workbook, finding.rule, id(finding.severity), place.sheet, finding.column
            buckets.setdefault(key, []).append(at)
    parts = [part for bucket in buckets.values() for part in _equal(bucket, findings)]
    return [Group(tuple([findings[at] for at in part])) for part in sorted(parts, key=lambda part: part[0])]


def _equal(bucket: list[int], findings: Sequence[Finding]) -> Iterable[list[int]]:
    """Part findings of one check by their words, which are looked at only where several may be alike."""
    if len(bucket) == 1 or findings[bucket[0]].fix == RUN_FILL:
        return (bucket,)
    parts: dict[tuple[str, str], list[int]] = {}
    for at in bucket:
        parts.setdefault(_words(findings[at]), []).append(at)
    return parts.values()


def _words(finding: Finding) -> tuple[str, str]:
    return _for_each(finding.message, finding), _for_each(finding.fix, finding)


def _for_each(text: str, finding: Finding, *, named: bool = False) -> str:
    """Return a text of a finding in words that go for others too: its engine and its row are not named."""
    if finding.loco and not named:
        text = text.replace(f"'{finding.loco}'", "each")
    if finding.place.row is not None and "row " in text:
        first, *others = text.split(f"row {finding.place.row}")
        text = first + "".join(_behind_row(finding.place.row, other) for other in others)
    return text


def _behind_row(row: int, text: str) -> str:
    """Put a row's number back before what follows it where it is part of a longer one."""
    return f"row {row}{text}" if text[:1].isdigit() else f"each row{text}"
