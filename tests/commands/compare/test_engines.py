"""Two workbooks compared: what is recognised, and what is said of it."""

import csv
import io
import json
from pathlib import Path

import pytest
from jsonschema import Draft202012Validator
from typer.testing import CliRunner

from rosterkit.cli.app import app
from rosterkit.commands.compare.engines import Comparison, comparison
from rosterkit.commands.compare.report import compare_csv, compare_json, compare_text
from rosterkit.roster.schema import schema_file
from rosterkit.template.new_workbook import new_workbook
from rosterkit.versions.rows import ChangeKind, Difference
from rosterkit.xlsx.grid import CellError
from tests.rosters import Rows, roster

_A = {"Loco": "A", "Owner": "M01", "Railway": "Elm", "Number": "7", "Address": 12, "Deceleration": 4}
_B = {"Loco": "B", "Owner": "M01", "Railway": "Elm", "Number": "8", "Address": 13, "Deceleration": 4}


def between(old: Rows, new: Rows) -> Comparison:
    return comparison(roster(old, name="old.xlsx"), roster(new, name="new.xlsx"))


def briefly(found: Comparison) -> list[tuple[str, str]]:
    return [(one.fate.value, one.loco) for one in found.engines]


def test_the_same_rows_in_another_order_are_no_change() -> None:
    found = between([_A, _B], [_B, _A])

    assert found.engines == ()
    assert found.same == 2


def test_a_new_address_is_said_as_column_and_as_cvs() -> None:
    found = between([_A], [{**_A, "Address": 2107}])

    source = "NMRA S-9.2.2 (Jul 2012), CV1, CV17/18 and CV29; 2107 is 200 - 192 = 8 times 256 and 59, derived"
    assert found.engines[0].columns == (Difference(name="Address", old=12, new=2107),)
    assert found.engines[0].cvs == (
        Difference(name="CV17", old=None, new=200),
        Difference(name="CV18", old=None, new=59),
        Difference(name="CV29", old=2, new=34),
        Difference(name="CV1", old=12, new=None),
    ), source


@pytest.mark.parametrize(
    ("new", "expected"),
    [
        pytest.param(
            {**_A, "Loco": "Lady"}, [("changed", "Lady")], id="by railway and number, if relabelled"
        ),
        pytest.param(
            {**_A, "Loco": "a", "Railway": "Oak"}, [("changed", "a")], id="by owner and label, if repainted"
        ),
        pytest.param(
            {**_A, "Owner": "M02", "Railway": "Oak"}, [("changed", "A")], id="by its label alone, if sold"
        ),
        pytest.param(
            {**_A, "Loco": "Z", "Number": "99"},
            [("added", "Z"), ("gone", "A")],
            id="not at all, if all is new",
        ),
    ],
)
def test_an_engine_is_recognised(new: dict[str, object], expected: list[tuple[str, str]]) -> None:
    found = between([_A, _B], [new, _B])

    assert briefly(found) == expected


def test_what_stands_twice_is_recognised_by_nothing_that_it_shares() -> None:
    twin = {**_A, "Loco": "A2"}

    found = between([_A, twin], [{**_A, "Loco": "X"}, {**twin, "Loco": "Y"}])

    assert briefly(found) == [("added", "X"), ("added", "Y"), ("gone", "A"), ("gone", "A2")]


def test_an_engine_without_a_number_is_not_recognised_by_its_railway_alone() -> None:
    found = between([{**_A, "Number": ""}], [{**_A, "Loco": "X", "Number": ""}])

    assert briefly(found) == [("added", "X"), ("gone", "A")]


def test_an_engine_that_was_added_is_told_whole() -> None:
    found = between([_A], [_A, {**_B, "Deceleration": ""}])

    assert found.engines[0].fate is ChangeKind.ADDED
    assert [(one.name, one.new) for one in found.engines[0].columns] == [
        ("Loco", "B"),
        ("Owner", "M01"),
        ("Railway", "Elm"),
        ("Number", "8"),
        ("Address", 13),
    ]


def test_what_the_schema_refuses_is_told_as_it_was_typed() -> None:
    found = between([_A], [{**_A, "Address": "twelve", "Deceleration": CellError("#REF!")}])

    assert found.engines[0].columns == (
        Difference(name="Address", old=12, new="twelve"),
        Difference(name="Deceleration", old=4, new="#REF!"),
    )


def test_settings_that_changed_are_told() -> None:
    old = roster([_A], layout={"Scale": "HO", "Long addresses from": 128})
    new = roster([_A], layout={"Scale": "N", "Long addresses from": 128})

    assert comparison(old, new).settings == (Difference(name="Scale", old="HO", new="N"),)


def test_every_form_says_the_same() -> None:
    found = between([_A, _B], [{**_A, "Deceleration": 6, "Notes": "=1+1"}])

    assert compare_text(found).splitlines() == [
        "A (M01) changed",
        "    Deceleration: 4 -> 6",
        "    Notes: blank -> '=1+1'",
        "    CVs: CV4 4 -> 6",
        "B (M01) gone, Address 13",
        "engines: 1 changed, 0 added, 1 gone, 0 as before",
    ]
    document = json.loads(compare_json(found))
    Draft202012Validator(schema_file("outputs/compare.json")).validate(document)
    assert document["engines"][0]["cvs"] == [{"name": "CV4", "old": 4, "new": 6}]
    rows = list(csv.reader(io.StringIO(compare_csv(found))))
    assert rows[:3] == [
        ["change", "owner", "loco", "what", "name", "old", "new", "sheet", "row"],
        ["changed", "M01", "A", "column", "Deceleration", "4", "6", "Locomotives", ""],
        ["changed", "M01", "A", "column", "Notes", "", "'=1+1", "Locomotives", ""],
    ]


def test_the_command_compares_two_files(tmp_path: Path) -> None:
    for name, address in (("old", 12), ("new", 13)):
        content = new_workbook({"Locomotives": [{"loco": "A", "address": address}]})
        (tmp_path / f"{name}.xlsx").write_bytes(content)

    result = CliRunner().invoke(app, ["compare", str(tmp_path / "old.xlsx"), str(tmp_path / "new.xlsx")])

    assert result.exit_code == 0
    assert "    Address: 12 -> 13\n    CVs: CV1 12 -> 13\n" in result.stdout
