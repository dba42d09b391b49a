"""Cards of accessories from a real workbook: printed, written by fill, held back where checks object."""

from pathlib import Path

import pytest
from openpyxl import load_workbook
from typer.testing import CliRunner

from rosterkit.cli.app import app
from rosterkit.commands.cards import cards as cards_for
from rosterkit.commands.fill import fill
from rosterkit.errors import CannotRunError
from rosterkit.template.new_workbook import new_workbook

Cell = str | int | float | None


def _club(path: Path, *devices: dict[str, Cell]) -> Path:
    rows: dict[str, list[dict[str, Cell]]] = {
        "Locomotives": [{"loco": "A", "address": 12}],
        "Accessories": list(devices),
    }
    path.write_bytes(new_workbook(rows))
    return path


def test_cards_are_of_the_engines_and_then_of_the_accessories(tmp_path: Path) -> None:
    path = _club(tmp_path / "club.xlsx", {"accessory": "Yard throat", "address": 17})

    assert [card.loco for card in cards_for(path)] == ["A", "Yard throat"]
    assert [card.loco for card in cards_for(path, ["yard throat"])] == ["Yard throat"]
    assert [card.loco for card in cards_for(path, ["A"])] == ["A"]


def test_a_label_that_neither_an_engine_nor_an_accessory_has_is_refused(tmp_path: Path) -> None:
    path = _club(tmp_path / "club.xlsx", {"accessory": "Yard throat", "address": 17})

    with pytest.raises(CannotRunError) as refused:
        cards_for(path, ["Yard throat", "Yard"])

    assert refused.value.message.endswith("there is no engine 'Yard'")


def test_a_device_that_clashes_has_the_error_on_its_card_and_nothing_to_key_in(tmp_path: Path) -> None:
    path = _club(
        tmp_path / "club.xlsx",
        {"accessory": "Yard throat", "address": 17, "outputs": 8},
        {"accessory": "Far", "address": 21, "method": "output"},
        {"accessory": "Farther", "address": 25},
    )

    _, throat, far, farther = cards_for(path)

    assert list(throat.steps) == list(far.steps) == []
    assert throat.cautions[1] == (
        "Error in Address: 21 is also answered by 'Far' (C3), whose decoder answers 21."
    )
    assert [step.value for step in farther.steps if step.cv == 1] == [7]


def test_fill_writes_accessory_cards_below_those_of_the_engines(tmp_path: Path) -> None:
    path = _club(tmp_path / "club.xlsx", {"accessory": "Yard throat", "address": 17})

    fill(path)

    column = [cell.value for cell in load_workbook(path)["Cards"]["A"]]
    assert column.index("A") < column.index("Yard throat")
    assert any(str(text).startswith("Accessories: one decoder alone") for text in column)


def test_what_is_recorded_of_a_device_leaves_only_the_rest_to_key_in(tmp_path: Path) -> None:
    path = _club(tmp_path / "club.xlsx", {"accessory": "Yard throat", "address": 17})
    words = ["cards", str(path), "--loco", "Yard throat", "--record", "1=5 9=0 29=160"]

    told = CliRunner().invoke(app, words)

    assert told.exit_code == 0
    assert "Nothing to do: Yard throat" in told.stdout
    # Bit 5 was read, so fill keeps it.
    fill(path)
    headings, row = list(load_workbook(path, data_only=True)["Accessories"].values)[:2]
    assert dict(zip(headings, row, strict=True))["CV29"] == 160
