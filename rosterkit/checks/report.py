"""The findings of a run as text, JSON, CSV or annotations for a code host."""

from collections.abc import Callable, Mapping

from rosterkit.checks.result import CheckReport
from rosterkit.findings import Finding, Severity, counts
from rosterkit.formats import as_csv, as_json
from rosterkit.printable import printable

_COLOURS = {Severity.ERROR: "31;1", Severity.WARNING: "33", Severity.NOTE: "36"}
_KEYS = ("severity", "rule", "workbook", "sheet", "cell", "column", "loco", "message", "fix", "related")
_ANNOTATIONS = {Severity.ERROR: "error", Severity.WARNING: "warning", Severity.NOTE: "notice"}


def check_text(report: CheckReport, *, colour: bool = False) -> str:
    """Return one line per finding, with what to do in a second, and a line of sums at the end."""
    lines = []
    for finding in report.findings:
        severity = finding.severity.value
        if colour:
            severity = f"\033[{_COLOURS[finding.severity]}m{severity}\033[0m"
        subject = ", ".join(part for part in (finding.loco, finding.column) if part)
        about = f"[{subject}] " if subject else ""
        said = printable(f"{about}{finding.message}")
        lines.append(f"{printable(str(finding.place))} {severity} {finding.rule}: {said}")
        lines.append(f"    fix: {printable(finding.fix)}")
    return "\n".join([*lines, summary(report)])


def summary(report: CheckReport) -> str:
    """Return the sums in one line: engines, and findings by severity."""
    engines = sum(number for _, number in report.workbooks)
    found = counts(report.findings)
    parts = [number_of(found[severity.value], severity.value) for severity in Severity]
    books = f" in {len(report.workbooks)} workbooks" if len(report.workbooks) > 1 else ""
    return f"{number_of(engines, 'engine')}{books}: {', '.join(parts)}"


def number_of(count: int, word: str) -> str:
    """Return a count with its word, in the plural unless it is 1."""
    return f"{count} {word}" if count == 1 else f"{count} {word}s"


def finding_record(finding: Finding) -> dict[str, object]:
    """Return a finding as the JSON form has it."""
    return {
        "severity": finding.severity.value,
        "rule": finding.rule,
        "workbook": finding.place.workbook,
        "sheet": finding.place.sheet,
        "cell": finding.place.cell,
        "column": finding.column,
        "loco": finding.loco,
        "message": finding.message,
        "fix": finding.fix,
        "related": [
            {"workbook": place.workbook, "sheet": place.sheet, "cell": place.cell}
            for place in finding.related
        ],
    }


def check_json(report: CheckReport) -> str:
    """Return one object with version, workbooks, counts and findings (schema/outputs/check.json)."""
    return as_json(
        {
            "rosterkit": report.version,
            "workbooks": [{"path": path, "locomotives": number} for path, number in report.workbooks],
            "counts": counts(report.findings),
            "findings": [finding_record(finding) for finding in report.findings],
        }
    )


def check_csv(report: CheckReport) -> str:
    """Return one row per finding; related places stand in the last column, separated by blanks."""
    records = [
        finding_record(finding) | {"related": " ".join(map(str, finding.related))}
        for finding in report.findings
    ]
    return as_csv(_KEYS, [[record[key] for key in _KEYS] for record in records])


def check_annotations(report: CheckReport) -> str:
    """Return one workflow annotation per finding."""
    return "\n".join(map(_annotation, report.findings))


def _annotation(finding: Finding) -> str:
    at = f"{finding.place.sheet or ''} {finding.place.cell or ''}".strip()
    subject = f"[{finding.loco}] " if finding.loco else ""
    said = _data(f"{at}: {subject}{finding.message}. {finding.fix}")
    file, title = _property(finding.place.workbook), _property(finding.rule)
    return f"::{_ANNOTATIONS[finding.severity]} file={file},title={title}::{said}"


def _data(text: str) -> str:
    return printable(text).replace("%", "%25")


def _property(text: str) -> str:
    return _data(text).replace(":", "%3A").replace(",", "%2C")


CHECK_FORMATS: Mapping[str, Callable[[CheckReport], str]] = {
    "text": check_text,
    "json": check_json,
    "csv": check_csv,
    "annotations": check_annotations,
}


def printed(report: CheckReport, form: str, *, colour: bool) -> str:
    """Return the findings in one of the forms; only text for a terminal has colours."""
    return check_text(report, colour=colour) if form == "text" else CHECK_FORMATS[form](report)


def is_failing(report: CheckReport, *, strict: bool) -> bool:
    """Tell whether there is an error, or, where that is asked for, a warning."""
    failing = {Severity.ERROR, Severity.WARNING} if strict else {Severity.ERROR}
    return any(finding.severity in failing for finding in report.findings)
