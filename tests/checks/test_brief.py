"""The brief report: one line an engine, the worst first, and what many rows lack on one line."""

import csv
import io
import json
import re
from collections.abc import Sequence

import pytest
from jsonschema import Draft202012Validator

from rosterkit.checks.framework import RUN_FILL
from rosterkit.checks.report import check_text, printed
from rosterkit.commands.check import check
from rosterkit.findings import Finding, Severity
from rosterkit.roster.schema import schema_file
from tests.checks.test_grouping import finding, report
from tests.samples.__main__ import FOLDER

ERROR, WARNING, NOTE = Severity


@pytest.mark.parametrize(
    ("findings", "lines"),
    [
        pytest.param(
            [
                finding(3, "it is late", loco="A", severity=WARNING, rule="tag-open"),
                finding(3, "it is wrong", loco="A", column=2),
            ],
            ["error   A value-missing B3: it is wrong; tag-open A3"],
            id="the worst of an engine is said in full, of the rest the check and the cell",
        ),
        pytest.param(
            [finding(3, "it is wrong", loco="A"), finding(9, "'A': it is odd", loco="A", sheet="Readings")],
            ["error   A value-missing A3: it is wrong; Readings A9: it is odd"],
            id="every error is said in full, and an engine is named once",
        ),
        pytest.param(
            [
                finding(3, loco="A", severity=NOTE),
                finding(4, "odd", loco="B"),
                finding(5, "late", loco="C", severity=WARNING),
                finding(6, "wrong", loco="D"),
                finding(6, "and odd", loco="D", column=2),
            ],
            [
                "error   D value-missing A6: wrong; B6: and odd",
                "error   B value-missing A4: odd",
                "warning C value-missing A5: late",
                "note    A value-missing A3: it is blank",
            ],
            id="the more severe engine stands first, then the one with more findings",
        ),
        pytest.param(
            [finding(row, "'E' lacks it".replace("E", f"E{row}"), loco=f"E{row}") for row in (3, 4, 7)],
            ["error   3 engines value-missing A3-A4, A7: each lacks it. Fill it in."],
            id="what three engines lack is one line with its fix",
        ),
        pytest.param(
            [finding(row, loco=f"E{row}") for row in (3, 4)],
            ["error   E3 value-missing A3: it is blank", "error   E4 value-missing A4: it is blank"],
            id="what two engines lack stands with each",
        ),
        pytest.param(
            [finding(row, fix=RUN_FILL, rule="computed-stale", severity=WARNING) for row in (3, 4)],
            [
                "warning fill computed-stale A3-A4: 2 computed cells are not as the next fill writes them. "
                "Run 'rosterkit fill'."
            ],
            id="all that the next fill mends is one line",
        ),
        pytest.param(
            [finding(3, sheet="Address ranges"), finding(None, "no such heading", sheet="Readings")],
            [
                "error   Address ranges value-missing A3: it is blank",
                "error   Readings value-missing: no such heading",
            ],
            id="a row of no engine, and a whole sheet, are named by the sheet",
        ),
    ],
)
def test_the_brief_report_of_one_workbook_is(findings: Sequence[Finding], lines: Sequence[str]) -> None:
    text = check_text(report(findings, workbooks=["a.xlsx"]), brief=True)

    assert [
        re.sub(r"(?<=\S) {2,}(?=\S)", lambda m: m[0] if m.start() < 8 else " ", line)
        for line in text.splitlines()[:-1]
    ] == list(lines)


def test_of_several_workbooks_each_line_names_its_own() -> None:
    findings = [finding(3, loco="A"), finding(3, loco="B", workbook="b.xlsx", column=2)]
    findings += [
        finding(7, "late", loco=f"E{n}", workbook=n, severity=NOTE) for n in ("a.xlsx", "b.xlsx", "c.xlsx")
    ]

    lines = check_text(report(findings, workbooks=["a.xlsx", "b.xlsx", "c.xlsx"]), brief=True).splitlines()

    assert lines == [
        "error   a.xlsx A value-missing A3: it is blank",
        "error   b.xlsx B value-missing B3: it is blank",
        "note    3 engines value-missing a.xlsx Locomotives A7, b.xlsx Locomotives A7, "
        "c.xlsx Locomotives A7: late. Fill it in.",
        "27 engines in 3 workbooks: 2 errors, 0 warnings, 3 notes",
    ]


def test_workbooks_are_called_by_the_names_of_their_files_where_these_tell_them_apart() -> None:
    paths = ["in/a.xlsx", "in/b.xlsx", "more/b.xlsx"]
    findings = [finding(3, loco="A", workbook=path, column=n) for n, path in enumerate(paths, 1)]

    lines = check_text(report(findings, workbooks=paths), brief=True).splitlines()

    assert [line.split()[1] for line in lines[:3]] == ["a.xlsx", "in/b.xlsx", "more/b.xlsx"]


@pytest.mark.parametrize(
    ("severity", "named"),
    [
        pytest.param(NOTE, "A2, A4, A6, A8, A10, A12, A14, A16, A18, A20, A22, A24 and 8 more", id="notes"),
        pytest.param(ERROR, ", ".join(f"A{row}" for row in range(2, 42, 2)), id="errors, all of them"),
    ],
)
def test_of_very_many_cells_it_names(severity: Severity, named: str) -> None:
    findings = [finding(row, loco=f"E{row}", severity=severity) for row in range(2, 42, 2)]

    assert f"value-missing {named}: " in check_text(report(findings, workbooks=["a.xlsx"]), brief=True)


def test_the_demo_club_fits_on_a_screen_of_40_lines_and_no_error_is_hidden() -> None:
    found = check([FOLDER / "demo_club.xlsx"])

    lines = check_text(found, brief=True).splitlines()

    # As a terminal of 80 columns shows them: what is longer goes on in the next line.
    assert sum(-(-len(line) // 80) for line in lines) <= 40
    errors = [one for one in found.findings if one.severity is ERROR]
    assert len(errors) == 12
    for one in errors:
        at = one.place.cell if one.place.sheet == "Locomotives" else f"{one.place.sheet} {one.place.cell}"
        assert [line for line in lines if line.startswith("error") and f" {at}: {one.message}" in line], one
    cells = {(one.rule, one.place.cell) for one in found.findings}
    rows = check_text(found, brief=True)
    assert {
        (rule, cell) for rule, cell in cells if rule in rows and cell in re.findall(r"[A-Z]+\d+", rows)
    } >= {(rule, cell) for rule, cell in cells if rule != "goal-not-applied"}
    assert "4 engines goal-not-applied Speed goals A2-A5: " in rows


def test_the_other_forms_have_an_entry_a_line_and_lose_nothing() -> None:
    found = check([FOLDER / "demo_club.xlsx"])
    lines = check_text(found, brief=True).splitlines()[:-1]

    document = json.loads(printed(found, "json", brief=True))
    rows = list(csv.DictReader(io.StringIO(printed(found, "csv", brief=True))))
    annotations = printed(found, "annotations", brief=True).splitlines()

    Draft202012Validator(schema_file("outputs/check.json")).validate(document)
    assert [len(document["findings"]), len(rows), len(annotations)] == [len(lines)] * 3
    assert [(one["rule"], one["cell"]) for one in document["findings"]] == [
        (row["rule"], row["cell"]) for row in rows
    ]
    assert all(row["message"] in line for row, line in zip(rows, lines, strict=True))
    inside = [
        one
        for first in document["findings"]
        for one in (first, *(other for other in first["related"] if "rule" in other))
    ]
    assert sorted((one["rule"], one["cell"], one["message"], one["fix"]) for one in inside) == sorted(
        (one.rule, str(one.place.cell), one.message, one.fix) for one in found.findings
    )


def test_colours_are_those_of_the_severities() -> None:
    found = report([finding(3, loco="A")])

    coloured = printed(found, "text", brief=True, colour=True)

    assert coloured.startswith("\033[31;1merror  \033[0m ")
    assert re.sub(r"\x1b\[[0-9;]*m", "", coloured) == printed(found, "text", brief=True)


def test_where_nothing_is_found_only_the_sums_are_said() -> None:
    assert (
        check_text(report([], workbooks=["a.xlsx"]), brief=True) == "9 engines: 0 errors, 0 warnings, 0 notes"
    )
