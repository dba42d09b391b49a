"""What a report keeps to: one member's engines, and what is severe enough; and what it says is left out."""

import json
from collections.abc import Mapping, Sequence
from pathlib import Path

import pytest
from jsonschema import Draft202012Validator

from rosterkit.checks import findings_in
from rosterkit.checks.framework import scope_of
from rosterkit.checks.report import check_text
from rosterkit.checks.result import CheckReport, report_of
from rosterkit.checks.selection import at_least, of_owner
from rosterkit.findings import Finding, Place, Severity
from rosterkit.roster.model import Roster
from rosterkit.roster.schema import schema_file
from tests.command_line import run, written
from tests.rosters import Rows, roster, workbook

ENGINES = [
    {"Loco": "A", "Address": 12, "Owner": "M01"},
    {"Loco": "B", "Address": 500, "Owner": "M02"},
    {"Loco": "C", "Address": 501, "Owner": ""},
]


def _report(*rosters: Roster, owner: str = "M01") -> CheckReport:
    found = [one for each in rosters for one in findings_in(scope_of([each]))]
    return of_owner(report_of(rosters, found), rosters, owner)


def _cells(findings: Sequence[Finding]) -> list[str]:
    return [f"{one.rule} {one.place.sheet} {one.place.cell}" for one in findings]


@pytest.mark.parametrize(
    ("sheets", "theirs", "others", "nobodys"),
    [
        pytest.param(
            {"engines": [{**one, "Fault": "bent"} for one in ENGINES]},
            ["tag-open Locomotives D2"],
            ["tag-open Locomotives D3"],
            ["tag-open Locomotives D4"],
            id="a row of Locomotives is its owner's",
        ),
        pytest.param(
            {"engines": [{**one, "Address": 12} for one in ENGINES[:2]]},
            ["address-shared Locomotives B2"],
            ["address-shared Locomotives B3"],
            [],
            id="of a clash that the check states on both sides, each has the own side",
        ),
        pytest.param(
            {"readings": [{"Loco": name, "CV": 29, "Value": 999} for name in ("a", "B", "C", "D")]},
            ["value-not-allowed Readings C2"],
            ["value-not-allowed Readings C3"],
            ["value-not-allowed Readings C4", "loco-unknown Readings A5", "value-not-allowed Readings C5"],
            id="a row of another sheet is the owner's of the engine that it names",
        ),
        pytest.param(
            {
                "consists": [
                    {"Consist": "Ore", "Address": 12, "Loco": "B", "Position": 1},
                    {"Consist": "Ore", "Address": 12, "Loco": "C", "Position": 2, "Facing": "reverse"},
                ]
            },
            ["consist-address-shared Consists B2"],
            [],
            [],
            id="a consist of another that has their engine's address is theirs too",
        ),
        pytest.param(
            {
                "engines": [
                    {**one, "Speed curve": "table", "Speed table": table}
                    for one, table in zip(ENGINES, ("T", "U", "U"), strict=True)
                ],
                "tables": [{"Table": "T", "1": 3}, {"Table": "u", "1": 3}, {"Table": "V", "1": 3}],
            },
            ["speed-table-incomplete Speed tables A2"],
            ["speed-table-incomplete Speed tables A3"],
            ["speed-table-incomplete Speed tables A4"],
            id="a speed table is theirs whose engines run by it",
        ),
        pytest.param(
            {"layout": {"Scale": "none", "Length unit": "mm"}},
            ["value-not-allowed Layout B2"],
            [],
            [],
            id="a setting of the layout is everybody's",
        ),
        pytest.param(
            {"engines": [{**one, "Lenght": ""} for one in ENGINES]},
            ["heading-unknown Locomotives D1"],
            [],
            [],
            id="a heading is everybody's",
        ),
        pytest.param(
            {"ranges": [{"Kind": "long", "From": 900, "To": 800, "Use": "engines"}]},
            [],
            [],
            ["range-impossible Address ranges C2"],
            id="a row that names no engine is nobody's",
        ),
    ],
)
def test_of_a_member_are(
    sheets: Mapping[str, object], theirs: Sequence[str], others: Sequence[str], nobodys: Sequence[str]
) -> None:
    made: dict[str, object] = {"engines": ENGINES, **sheets}
    found = _report(roster(**made))  # type: ignore[arg-type]

    assert found.of_owner is not None
    assert (_cells(found.findings), _cells(found.of_owner.others), _cells(found.of_owner.nobodys)) == (
        list(theirs),
        list(others),
        list(nobodys),
    )


def test_a_run_of_cells_is_theirs_if_one_of_them_is() -> None:
    made = roster([{**one, "Owner": code} for one, code in zip(ENGINES, ("M02", "M01", "M02"), strict=True)])
    run_of_cells = Finding(
        severity=Severity.WARNING,
        rule="formula-missing",
        place=Place("club.xlsx", "Locomotives", 2, 3),
        message="gone",
        fix="Run 'rosterkit fill'.",
        down_to=3,
    )
    found = of_owner(report_of([made], [run_of_cells]), [made], "M01")

    assert found.findings == [run_of_cells]
    assert of_owner(report_of([made], [run_of_cells]), [made], "m 02").findings == [run_of_cells]


def test_a_workbook_that_cannot_be_read_is_everybody_s(tmp_path: Path) -> None:
    path = written(tmp_path / "a.xlsx", workbook(ENGINES))
    (tmp_path / "b.xlsx").write_bytes(b"PK torn")

    ran = run("check", path, tmp_path / "b.xlsx", "--owner", "M01")

    assert (ran.status, "workbook-unread" in ran.out) == (1, True)


_FAULTY: Rows = [
    {"Loco": "A", "Address": 12, "Owner": "M01", "Fault": "bent"},
    {"Loco": "B", "Address": 3, "Owner": "M01"},
    {"Loco": "C", "Address": "x", "Owner": "M02"},
    {"Loco": "D", "Address": "x", "Owner": ""},
]


@pytest.fixture
def club(tmp_path: Path) -> Path:
    return written(tmp_path / "club.xlsx", workbook(_FAULTY))


@pytest.mark.parametrize(
    ("options", "status", "last"),
    [
        pytest.param([], 1, ["4 engines: 2 errors, 1 warning, 1 note"], id="without options"),
        pytest.param(
            ["--only", "error"],
            1,
            ["4 engines: 2 errors, 1 warning, 1 note", "not shown: 1 warning and 1 note"],
            id="only errors: the sums are those of all",
        ),
        pytest.param(
            ["--only", "warning"],
            1,
            ["4 engines: 2 errors, 1 warning, 1 note", "not shown: 1 note"],
            id="only warnings and errors",
        ),
        pytest.param(
            ["--owner", "M01"],
            0,
            [
                "2 engines of M01: 0 errors, 1 warning, 1 note",
                "not shown: 1 finding (1 error) of other members; 1 finding (1 error) of no member",
            ],
            id="one member: errors of others do not fail, and are not passed over in silence",
        ),
        pytest.param(
            ["--owner", "m01", "--only", "error", "--strict"],
            1,
            [
                "2 engines of M01: 0 errors, 1 warning, 1 note",
                "not shown: 1 warning and 1 note; 1 finding (1 error) of other members; "
                "1 finding (1 error) of no member",
            ],
            id="a warning that is not shown fails where warnings do",
        ),
        pytest.param(
            ["--owner", "M02"],
            1,
            [
                "1 engine of M02: 1 error, 0 warnings, 0 notes",
                "not shown: 2 findings of other members; 1 finding (1 error) of no member",
            ],
            id="the other member",
        ),
    ],
)
@pytest.mark.parametrize("brief", [[], ["--brief"]])
def test_check_ends_with(
    club: Path, options: Sequence[str], status: int, last: Sequence[str], brief: Sequence[str]
) -> None:
    ran = run("check", club, *options, *brief)

    assert (ran.status, ran.err) == (status, "")
    assert ran.out.splitlines()[-len(last) :] == list(last)
    assert ran.out.count("address-shared") == 0


def test_json_says_how_many_are_left_out_and_why(club: Path) -> None:
    ran = run("check", club, "--owner", "M01", "--only", "warning", "--format", "json")
    document = json.loads(ran.out)

    Draft202012Validator(schema_file("outputs/check.json")).validate(document)
    assert document["counts"] == {"error": 0, "warning": 1, "note": 1}
    assert document["not_shown"] == {
        "less_severe": {"error": 0, "warning": 0, "note": 1},
        "other_members": {"error": 1, "warning": 0, "note": 0},
        "no_member": {"error": 1, "warning": 0, "note": 0},
    }
    assert [one["rule"] for one in document["findings"]] == ["address-default"]
    assert "not_shown" not in json.loads(run("check", club, "--format", "json").out)


@pytest.mark.parametrize("form", ["csv", "annotations"])
def test_forms_without_a_place_for_it_leave_it_to_the_other_stream(club: Path, form: str) -> None:
    ran = run("check", club, "--only", "error", "--format", form)

    assert (ran.err, "not shown" in ran.out) == ("not shown: 1 warning and 1 note\n", False)


@pytest.mark.parametrize(
    ("code", "said"),
    [
        pytest.param(
            "MO1",
            "no engine belongs to 'MO1'; the nearest code is 'M01'. Give --owner 'M01'.",
            id="the nearest code is named",
        ),
        pytest.param(
            "zebra",
            "no engine belongs to 'zebra'. Give a code that stands in the column Owner, "
            "or leave --owner out.",
            id="nothing is like it",
        ),
    ],
)
def test_an_unknown_member_is_one_sentence(club: Path, code: str, said: str) -> None:
    ran = run("check", club, "--owner", code)
    both = run("check", club, written(club.with_name("b.xlsx"), workbook(ENGINES)), "--owner", code)

    assert (ran.status, ran.out, ran.err) == (2, "", f"rosterkit: {club}: {said}\n")
    assert (both.status, both.out, both.err) == (2, "", f"rosterkit: in 2 workbooks {said}\n")


@pytest.mark.parametrize("way", ["--meet", "--together"])
def test_across_workbooks_a_member_sees_the_own_side_of_a_clash(tmp_path: Path, way: str) -> None:
    rows = {
        name: [
            {
                "Loco": name[0].upper(),
                "Address": 12,
                "Owner": code,
                "At meet": "yes",
                "Checked by": "M09",
                "Checked on": "2026-04-11",
            }
        ]
        for name, code in (("a.xlsx", "M01"), ("b.xlsx", "M02"))
    }
    paths = [written(tmp_path / name, workbook(engines)) for name, engines in rows.items()]

    ran = run("check", *paths, way, "--owner", "M02", "--brief", "--only", "error")

    assert (ran.status, ran.err) == (1, "")
    assert ran.out.splitlines() == [
        "error   b.xlsx B address-shared B2: short 12 is also the address of 'A' (a.xlsx B2)",
        "1 engine of M02 in 2 workbooks: 1 error, 0 warnings, 0 notes",
        "not shown: 1 finding (1 error) of other members",
    ]


def test_only_shows_what_is_severe_enough() -> None:
    made = roster(_FAULTY)
    found = report_of([made], findings_in(scope_of([made])))

    shown = {one: at_least(found, one) for one in Severity}

    assert [len(shown[one].findings) for one in Severity] == [2, 3, 4]
    assert all(sorted(map(id, one.counted)) == sorted(map(id, found.findings)) for one in shown.values())
    assert check_text(shown[Severity.NOTE]) == check_text(found)
