"""Findings as text, JSON, CSV and annotations: the same findings in each."""

import csv
import io
import json
import re

import pytest
from jsonschema import Draft202012Validator

from rosterkit.checks.report import (
    CHECK_FORMATS,
    check_annotations,
    check_csv,
    check_json,
    check_text,
    is_failing,
    printed,
    summary,
)
from rosterkit.checks.result import CheckReport
from rosterkit.findings import Finding, Place, Severity
from rosterkit.roster.schema import schema_file
from tests.reports import NOTHING, REPORT
from tests.rosters import brief


def _report(*severities: Severity, workbooks: int = 1) -> CheckReport:
    return CheckReport(
        version="1.2.3",
        workbooks=[(f"{n}.xlsx", 2) for n in range(workbooks)],
        findings=[
            Finding(severity=severity, rule="tag-open", place=Place("0.xlsx"), message="m", fix="Mend it.")
            for severity in severities
        ],
    )


def test_the_roster_of_these_tests_has_findings_of_every_severity() -> None:
    assert brief(REPORT.findings) == [
        ("address-shared", "B2", "error"),
        ("number-repeated", "D2", "warning"),
        ("tag-open", "F2", "note"),
        ("address-shared", "B3", "error"),
        ("number-repeated", "D3", "warning"),
        ("dc-operation-on", "H3", "warning"),
        ("value-not-allowed", "B4", "error"),
        ("tag-open", "F4", "note"),
    ]


def test_text_has_a_line_for_what_is_wrong_and_one_for_what_to_do_and_a_line_of_sums() -> None:
    lines = check_text(REPORT).splitlines()

    assert len(lines) == 2 * 8 + 1
    assert lines[0] == (
        'our, club 100%.xlsx!Locomotives!B2 error address-shared: [A,\\n"B" 100%, DCC address] '
        "long 500 is also the address of '-B' (B3)"
    )
    assert lines[1] == "    fix: Give 'A,\\n\"B\" 100%' or '-B' another address."
    assert lines[-1] == "4 engines: 3 errors, 3 warnings, 2 notes"


def test_text_has_no_control_signs_unless_it_is_for_a_terminal() -> None:
    assert re.findall(r"[\x00-\x09\x0b-\x1f\x7f]", check_text(REPORT)) == []
    assert printed(REPORT, "text", colour=False) == check_text(REPORT)


def test_colours_are_those_of_the_severities_and_nothing_else_changes() -> None:
    coloured = check_text(REPORT, colour=True)

    assert re.sub(r"\x1b\[[0-9;]*m", "", coloured) == check_text(REPORT)
    assert set(re.findall(r"\x1b\[([0-9;]+)m(\w*)", coloured)) == {
        ("31;1", "error"),
        ("33", "warning"),
        ("36", "note"),
        ("0", ""),
    }


@pytest.mark.parametrize("form", ["json", "csv", "annotations"])
def test_only_text_has_colours(form: str) -> None:
    assert printed(REPORT, form, colour=True) == printed(REPORT, form, colour=False)


def test_json_is_as_its_schema_says() -> None:
    schema = schema_file("outputs/check.json")

    for report in (REPORT, NOTHING, _report(Severity.NOTE, workbooks=3)):
        Draft202012Validator(schema).validate(json.loads(check_json(report)))


def test_json_has_all_that_a_finding_has() -> None:
    document = json.loads(check_json(REPORT))

    assert document["rosterkit"] == "1.2.3"
    assert document["workbooks"] == [{"path": "our, club 100%.xlsx", "locomotives": 4}]
    assert document["counts"] == {"error": 3, "warning": 3, "note": 2}
    assert document["findings"][0] == {
        "severity": "error",
        "rule": "address-shared",
        "workbook": "our, club 100%.xlsx",
        "sheet": "Locomotives",
        "cell": "B2",
        "column": "DCC address",
        "loco": 'A,\n"B" 100%',
        "message": "long 500 is also the address of '-B' (B3)",
        "fix": "Give 'A,\n\"B\" 100%' or '-B' another address.",
        "related": [{"workbook": "our, club 100%.xlsx", "sheet": "Locomotives", "cell": "B3"}],
    }


def test_csv_has_a_heading_and_a_row_a_finding() -> None:
    rows = list(csv.reader(io.StringIO(check_csv(REPORT))))

    assert rows[0] == [
        "severity",
        "rule",
        "workbook",
        "sheet",
        "cell",
        "column",
        "loco",
        "message",
        "fix",
        "related",
    ]
    assert len(rows) == 1 + 8
    assert rows[1][-1] == "our, club 100%.xlsx!Locomotives!B3"


def test_no_cell_of_the_csv_begins_a_formula() -> None:
    cells = [cell for row in csv.reader(io.StringIO(check_csv(REPORT))) for cell in row]

    assert [cell for cell in cells if cell[:1] in "=+-@\t\r" and cell] == []
    assert "'-B" in cells


def test_github_has_an_annotation_a_finding_with_its_signs_escaped() -> None:
    lines = check_annotations(REPORT).splitlines()

    assert [line.split(" ")[0] for line in lines] == [
        "::error",
        "::warning",
        "::notice",
        "::error",
        "::warning",
        "::warning",
        "::error",
        "::notice",
    ]
    assert lines[0] == (
        "::error file=our%2C club 100%25.xlsx,title=address-shared::Locomotives B2: "
        "[A,\\n\"B\" 100%25] long 500 is also the address of '-B' (B3). "
        "Give 'A,\\n\"B\" 100%25' or '-B' another address."
    )


def test_every_format_has_the_same_findings() -> None:
    text = re.findall(r"!(\w+)!(\w+) (\w+) ([a-z-]+): ", check_text(REPORT))
    document = json.loads(check_json(REPORT))["findings"]
    table = list(csv.DictReader(io.StringIO(check_csv(REPORT))))
    notes = re.findall(
        r"^::(\w+) file=.*?,title=([a-z-]+)::(\w+) (\w+): ", check_annotations(REPORT), re.MULTILINE
    )

    keys = ("sheet", "cell", "severity", "rule")
    assert text == [tuple(finding[key] for key in keys) for finding in document]
    assert text == [tuple(row[key] for key in keys) for row in table]
    assert text == [
        (sheet, cell, "note" if level == "notice" else level, rule) for level, rule, sheet, cell in notes
    ]


@pytest.mark.parametrize(
    ("form", "nothing"),
    [
        pytest.param("text", "1 engine: 0 errors, 0 warnings, 0 notes", id="the sums, as text"),
        pytest.param(
            "csv", "severity,rule,workbook,sheet,cell,column,loco,message,fix,related", id="csv: headings"
        ),
        pytest.param("annotations", "", id="annotations: nothing"),
    ],
)
def test_where_nothing_is_found_is_printed(form: str, nothing: str) -> None:
    assert CHECK_FORMATS[form](NOTHING) == nothing


@pytest.mark.parametrize(
    ("report", "sums"),
    [
        pytest.param(_report(), "2 engines: 0 errors, 0 warnings, 0 notes", id="none"),
        pytest.param(
            _report(Severity.ERROR), "2 engines: 1 error, 0 warnings, 0 notes", id="one is singular"
        ),
        pytest.param(
            _report(Severity.NOTE, workbooks=3),
            "6 engines in 3 workbooks: 0 errors, 0 warnings, 1 note",
            id="workbooks",
        ),
    ],
)
def test_the_sums_are(report: CheckReport, sums: str) -> None:
    assert summary(report) == sums


@pytest.mark.parametrize(
    ("severities", "strict", "failing"),
    [
        pytest.param([], True, False, id="nothing never fails"),
        pytest.param([Severity.NOTE], True, False, id="a note never fails"),
        pytest.param([Severity.WARNING], False, False, id="a warning does not fail"),
        pytest.param([Severity.WARNING], True, True, id="a warning fails where that is asked for"),
        pytest.param([Severity.ERROR], False, True, id="an error fails"),
    ],
)
def test_a_report_fails(severities: list[Severity], strict: bool, failing: bool) -> None:
    assert is_failing(_report(*severities), strict=strict) is failing
