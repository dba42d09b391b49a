"""The lists of our own invention: their gold is what stands beside their data, and how well they are read."""

import json
from functools import cache
from pathlib import Path

import pytest

from rosterkit.roster.schema import sheet
from tests.lists.figures import Score
from tests.lists.gold import Gold, golds
from tests.lists.own.make import FOLDER, LISTS, gold_text
from tests.lists.own.own_list import OwnList
from tests.lists.score import scored, together

TEXTS = [one for one in LISTS if one.file.endswith((".csv", ".txt"))]

COLUMNS_RIGHT, ENGINES, VALUES_RIGHT, EXTRAS_RIGHT, CONSISTS_RIGHT, DOUBTS_RIGHT = 283, 330, 3513, 5, 2, 8
"""At least so many in all lists together, which is all that there are; of none is one wrong."""


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


@cache
def _score(file: str) -> Score:
    return next(scored(gold, FOLDER) for gold in golds(FOLDER) if gold.file == file)


@pytest.mark.parametrize("gold", golds(FOLDER), ids=lambda gold: gold.file)
def test_nothing_of_a_list_is_read_wrongly_and_no_engine_is_lost(gold: Gold) -> None:
    score = _score(gold.file)

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


def test_no_less_is_right_than_there_is() -> None:
    scores = [_score(gold.file) for gold in golds(FOLDER)]
    total = together(scores).counts

    assert total["columns right"] >= COLUMNS_RIGHT
    assert total["engines found"] >= ENGINES
    assert total["values right"] >= VALUES_RIGHT
    assert total["extras right"] >= EXTRAS_RIGHT
    assert total["consists right"] >= CONSISTS_RIGHT
    assert total["doubts right"] >= DOUBTS_RIGHT
    missed = "columns missed", "values missed", "extras missed", "consists missed", "doubts missed"
    assert {name: total[name] for name in missed if total.get(name)} == {}


def test_the_gold_speaks_todays_names() -> None:
    names = {column.name for column in sheet("Locomotives").columns} | {"colour"}
    said = json.loads((FOLDER / "gold.json").read_text(encoding="utf-8"))

    assert {name for one in said for engine in one["engines"].values() for name in engine} <= names
