"""The lists of our own invention: their gold is what stands beside their data, and how well they are read."""

import json
from pathlib import Path

import pytest

from rosterkit.roster.schema import sheet
from tests.lists.gold import Gold, golds
from tests.lists.own.make import FOLDER, LISTS, gold_text
from tests.lists.own.own_list import OwnList
from tests.lists.score import scored

TEXTS = [one for one in LISTS if one.file.endswith((".csv", ".txt"))]

COLUMNS_RIGHT = 0.95
"""Of all columns; what is not right is missed, and none is wrong."""


def test_the_gold_is_what_stands_beside_the_data() -> None:
    assert (FOLDER / "gold.json").read_text(encoding="utf-8") == gold_text()


def test_every_file_of_the_folder_has_its_gold() -> None:
    files = {path.name for path in FOLDER.iterdir() if path.suffix not in {".py", ".json", ""}}

    assert files == {one.file for one in LISTS}


@pytest.mark.parametrize(
    "one", [one for one in LISTS if one.file.endswith((".csv", ".txt"))], ids=lambda one: one.file
)
def test_a_text_file_is_as_its_maker_writes_it(one: OwnList, tmp_path: Path) -> None:
    one.write(tmp_path / one.file)

    assert (tmp_path / one.file).read_bytes() == (FOLDER / one.file).read_bytes()


@pytest.mark.parametrize("gold", golds(FOLDER), ids=lambda gold: gold.file)
def test_nothing_of_a_list_is_read_wrongly_and_no_engine_is_lost(gold: Gold) -> None:
    score = scored(gold, FOLDER)

    assert [fault for fault in score.faults if fault.startswith(_BAD)] == []


_BAD = (
    "columns wrong",
    "engines missing",
    "engines invented",
    "values wrong",
    "extras wrong",
    "consists wrong",
    "unread",
)


def test_of_all_columns_this_much_is_right() -> None:
    counts = [scored(gold, FOLDER).counts for gold in golds(FOLDER)]
    right = sum(one["columns right"] for one in counts)
    missed = sum(one["columns missed"] for one in counts)

    assert right / (right + missed) >= COLUMNS_RIGHT


def test_the_gold_speaks_todays_names() -> None:
    names = {column.name for column in sheet("Locomotives").columns} | {"colour"}
    said = json.loads((FOLDER / "gold.json").read_text(encoding="utf-8"))

    assert {name for one in said for engine in one["engines"].values() for name in engine} <= names
