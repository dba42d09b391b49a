"""What a report does not show, in words and in figures: nobody is to take a part for the whole."""

from collections.abc import Iterator, Sequence

from rosterkit.checks.result import CheckReport
from rosterkit.findings import Finding, Severity, counts
from rosterkit.formats import number_of
from rosterkit.printable import printable


def left_out_words(report: CheckReport) -> str | None:
    """Say in one line which findings are not shown; None where all are."""
    parts = list(_parts(report))
    return printable(f"not shown: {'; '.join(parts)}") if parts else None


def _parts(report: CheckReport) -> Iterator[str]:
    if report.less_severe:
        yield _by_severity(report.less_severe)
    if report.of_owner and report.of_owner.others:
        yield f"{_findings(report.of_owner.others)} of other members"
    if report.of_owner and report.of_owner.nobodys:
        yield f"{_findings(report.of_owner.nobodys)} of no member"


def _by_severity(findings: Sequence[Finding]) -> str:
    found = counts(findings)
    named = [
        number_of(found[severity.value], severity.value) for severity in Severity if found[severity.value]
    ]
    return " and ".join(named)


def _findings(findings: Sequence[Finding]) -> str:
    """Return how many findings there are, and how many of them are errors."""
    errors = counts(findings)[Severity.ERROR.value]
    among = f" ({number_of(errors, 'error')})" if errors else ""
    return f"{number_of(len(findings), 'finding')}{among}"


def left_out_counts(report: CheckReport) -> dict[str, dict[str, int]]:
    """Return by severity how many findings are not shown, and why; nothing where no option leaves any out."""
    found: dict[str, dict[str, int]] = {}
    if report.only:
        found["less_severe"] = counts(report.less_severe)
    if report.of_owner:
        found["other_members"] = counts(report.of_owner.others)
        found["no_member"] = counts(report.of_owner.nobodys)
    return found
