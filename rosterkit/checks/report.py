"""The findings of a run as text, JSON, CSV or annotations for a code host.

Text and JSON take equal findings together (``grouping``); CSV and annotations have one entry a finding. In
brief (``brief``) all of them have one entry an engine, the worst first. The sums and the exit status go by
all findings of the selection, also by those that are too little severe to be shown.
"""

from collections.abc import Callable, Mapping, Sequence
from functools import partial

from rosterkit.checks.brief import BriefLine, brief_lines
from rosterkit.checks.grouping import Group, grouped
from rosterkit.checks.left_out import left_out_counts, left_out_words
from rosterkit.checks.result import CheckReport
from rosterkit.findings import Finding, Severity, counts
from rosterkit.formats import as_csv, as_json, number_of
from rosterkit.printable import printable

_COLOURS = {Severity.ERROR: "31;1", Severity.WARNING: "33", Severity.NOTE: "36"}
_KEYS = ("severity", "rule", "workbook", "sheet", "cell", "column", "loco", "message", "fix", "related")
_ANNOTATIONS = {Severity.ERROR: "error", Severity.WARNING: "warning", Severity.NOTE: "notice"}
_WIDEST = 16
"""Characters to which what a line of the brief report is of is filled up."""


def check_text(report: CheckReport, *, brief: bool = False, colour: bool = False) -> str:
    """Return the findings, then a line of sums, and one of what is not shown.

    A finding, or several that are equal, is a line, with what to do in a second. In brief it is a line an
    engine, the worst first.
    """
    if brief:
        lines = _brief_lines(report, colour=colour)
    else:
        lines = [line for group in grouped(report.findings) for line in _lines(group, colour=colour)]
    left_out = left_out_words(report)
    return "\n".join([*lines, summary(report), *([left_out] if left_out else [])])


def _lines(group: Group, *, colour: bool) -> tuple[str, str]:
    lead = group.lead
    if len(group.findings) == 1:
        rules, subject, message, fix = lead.rule, (lead.loco, lead.column), lead.message, lead.fix
    else:
        column = None if group.is_for_fill else lead.column
        rules, subject, fix = ", ".join(group.rules), (group.subject, column), group.fix
        message = f"{group.message} ({group.cells()})"
    about = ", ".join([part for part in subject if part])
    said = printable(f"[{about}] {message}" if about else message)
    severity = _coloured(lead.severity, lead.severity.value, colour=colour)
    return (
        f"{printable(str(lead.place))} {severity} {rules}: {said}",
        f"    fix: {printable(fix)}",
    )


def _brief_lines(report: CheckReport, *, colour: bool) -> list[str]:
    lines = brief_lines(report)
    width = min(max((len(line.subject) for line in lines if not line.of_many), default=0), _WIDEST)
    return [
        f"{_coloured(line.lead.severity, f'{line.lead.severity.value:7}', colour=colour)} "
        f"{printable(line.subject):{width}} {printable(line.message)}"
        + (f". {printable(line.fix)}" if line.of_many else "")
        for line in lines
    ]


def _coloured(severity: Severity, text: str, *, colour: bool) -> str:
    return f"\033[{_COLOURS[severity]}m{text}\033[0m" if colour else text


def summary(report: CheckReport) -> str:
    """Return the sums in one line: engines, and findings by severity."""
    owner = report.of_owner
    engines = owner.engines if owner else sum(number for _, number in report.workbooks)
    found = counts(report.counted)
    parts = [number_of(found[severity.value], severity.value) for severity in Severity]
    whose = printable(f" of {owner.code}") if owner else ""
    books = f" in {len(report.workbooks)} workbooks" if len(report.workbooks) > 1 else ""
    return f"{number_of(engines, 'engine')}{whose}{books}: {', '.join(parts)}"


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
        "related": _places(finding),
    }


def _places(finding: Finding) -> list[dict[str, object]]:
    return [
        {"workbook": place.workbook, "sheet": place.sheet, "cell": place.cell} for place in finding.related
    ]


def check_json(report: CheckReport, *, brief: bool = False) -> str:
    """Return one object with version, workbooks, counts and findings (schema/outputs/check.json).

    Findings that are taken together stand whole among the ``related`` of the first of them.
    """
    entries: Sequence[Group | BriefLine] = brief_lines(report) if brief else grouped(report.findings)
    left_out = left_out_counts(report)
    return as_json(
        {
            "rosterkit": report.version,
            "workbooks": [{"path": path, "locomotives": number} for path, number in report.workbooks],
            "counts": counts(report.counted),
            **({"not_shown": left_out} if left_out else {}),
            "findings": [_record(entry) for entry in entries],
        }
    )


def _record(entry: Group | BriefLine) -> dict[str, object]:
    lead, *others = entry.findings
    return finding_record(lead) | {"related": [*_places(lead), *map(finding_record, others)]}


def check_csv(report: CheckReport, *, brief: bool = False) -> str:
    """Return one row per finding; related places stand in the last column, separated by blanks."""
    records = [
        finding_record(entry.lead)
        | {"message": entry.message, "fix": entry.fix, "related": " ".join(_related(entry))}
        for entry in _entries(report, brief=brief)
    ]
    return as_csv(_KEYS, [[record[key] for key in _KEYS] for record in records])


def _related(entry: Group | BriefLine) -> list[str]:
    lead, *others = entry.findings
    return list(map(str, [*lead.related, *(finding.place for finding in others)]))


def check_annotations(report: CheckReport, *, brief: bool = False) -> str:
    """Return one workflow annotation per finding."""
    return "\n".join(map(_annotation, _entries(report, brief=brief)))


def _entries(report: CheckReport, *, brief: bool) -> Sequence[Group | BriefLine]:
    return brief_lines(report) if brief else [Group((finding,)) for finding in report.findings]


def _annotation(entry: Group | BriefLine) -> str:
    finding = entry.lead
    at = f"{finding.place.sheet or ''} {finding.place.cell or ''}".strip()
    subject = f"[{finding.loco}] " if finding.loco else ""
    said = _data(f"{at}: {subject}{entry.message}. {entry.fix}")
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
_BRIEF_FORMATS: Mapping[str, Callable[[CheckReport], str]] = {
    "text": partial(check_text, brief=True),
    "json": partial(check_json, brief=True),
    "csv": partial(check_csv, brief=True),
    "annotations": partial(check_annotations, brief=True),
}


def printed(report: CheckReport, form: str, *, brief: bool = False, colour: bool = False) -> str:
    """Return the findings in one of the forms; only text for a terminal has colours."""
    if form == "text":
        return check_text(report, brief=brief, colour=colour)
    return (_BRIEF_FORMATS if brief else CHECK_FORMATS)[form](report)


def unsaid(report: CheckReport, form: str) -> str | None:
    """Say what is not shown, where the form has no place for it itself."""
    return left_out_words(report) if form in ("csv", "annotations") else None


def is_failing(report: CheckReport, *, strict: bool) -> bool:
    """Tell whether there is an error, or, where that is asked for, a warning, shown or not."""
    failing = {Severity.ERROR, Severity.WARNING} if strict else {Severity.ERROR}
    return any(finding.severity in failing for finding in report.counted)
