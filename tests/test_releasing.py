"""Free addresses over workbooks, and the command that prints them."""

import json
from collections.abc import Mapping, Sequence
from pathlib import Path

import pytest
from jsonschema import Draft202012Validator
from typer.testing import CliRunner

from rosterkit.cli import app
from rosterkit.errors import CannotRunError
from rosterkit.planning import Wanted
from rosterkit.releasing import free
from rosterkit.sheets import schema_file
from rosterkit.xlsx.template import new_workbook

Cell = str | int | float | None
Records = Mapping[str, Sequence[Mapping[str, Cell]]]


def book(path: Path, *, scale: str = "HO", **engine: str | int) -> Path:
    rows: Records = {
        "Layout": [{"scale": scale, "short_range": "1-9"}],
        "Locomotives": [{"loco": "A", **engine}],
    }
    path.write_bytes(new_workbook(rows))
    return path


def numbers(paths: list[Path], wanted: Wanted, most: int = 20) -> list[int]:
    return [one.number for one in free(paths, wanted, most)]


def test_home_and_meet_addresses_of_all_workbooks_are_taken(tmp_path: Path) -> None:
    one = book(tmp_path / "a.xlsx", address=1, meet_address=4)
    other = book(tmp_path / "b.xlsx", address=5)

    assert numbers([one, other], Wanted(kind="short")) == [2, 6, 7, 8, 9]


def test_engines_of_another_gauge_take_nothing_away(tmp_path: Path) -> None:
    one = book(tmp_path / "a.xlsx", address=1)
    other = book(tmp_path / "b.xlsx", address=2, scale="N")

    assert numbers([one, other], Wanted(kind="short"), 2) == [2, 4]


def test_the_address_of_a_consist_is_taken(tmp_path: Path) -> None:
    path = tmp_path / "a.xlsx"
    consist: Mapping[str, Cell] = {
        "consist": "C",
        "address": 2,
        "position": 1,
        "loco": "A",
        "facing": "forward",
    }
    path.write_bytes(new_workbook({"Locomotives": [{"loco": "A", "address": 1}], "Consists": [consist]}))

    assert numbers([path], Wanted(kind="short"), 2) == [4, 5]


def test_a_workbook_that_cannot_be_read_stops_it_because_its_addresses_are_not_known(tmp_path: Path) -> None:
    one = book(tmp_path / "a.xlsx", address=1)
    broken = tmp_path / "b.xlsx"
    broken.write_bytes(b"PK\x03\x04 and no more")

    with pytest.raises(CannotRunError):
        free([one, broken], Wanted(), 5)


def test_the_json_form_is_as_its_schema_says(tmp_path: Path) -> None:
    path = book(tmp_path / "a.xlsx", address=1)

    result = CliRunner().invoke(
        app, ["free", str(path), "--near", "2107", "--count", "1", "--format", "json"]
    )

    document = json.loads(result.stdout)
    Draft202012Validator(schema_file("outputs/free.json")).validate(document)
    assert document == {"addresses": [{"kind": "long", "address": 2107, "because": "the number 2107 itself"}]}


def test_the_text_form_is_a_line_an_address(tmp_path: Path) -> None:
    path = book(tmp_path / "a.xlsx", address=1)

    result = CliRunner().invoke(app, ["free", str(path), "--kind", "short", "--near", "5", "--count", "2"])

    assert result.stdout.splitlines() == [
        "short        5  the number 5 itself",
        "short        4  the nearest free to 5",
    ]
