"""Tables that are sheets of a rosterkit workbook are read by the schema, others are not taken for them."""

import pytest

from rosterkit.lists.reading import Sure
from rosterkit.roster.schema import SETTING_HEADINGS, Sheet, all_sheets
from tests.each import for_each
from tests.lists.columns.layouts import read

ROWS = [known for known in all_sheets() if not known.transposed]


@for_each(ROWS, lambda known: known.title)
def test_a_sheet_of_ours_under_another_title_is_read_exactly(ours: Sheet) -> None:
    headings = [column.heading for column in ours.columns]

    reading = read([[*headings, "My own"], ["1"] * (len(headings) + 1)], "export")

    computed = {column.name for column in ours.columns if column.computed}
    expected = ["nothing" if column.name in computed else column.name for column in ours.columns]
    assert reading.subject == ours.title
    assert [one.read_as for one in reading.columns] == [*expected, "own"]
    assert {one.sure for one in reading.columns} == {Sure.SURE}


def test_an_alias_of_ours_is_read_on_a_sheet_of_ours() -> None:
    ours = ["Owner", "Railway", "Number", "Model", "Decoder", "Direction"]
    reading = read([["Engine", *ours, "Home address", "Shelf"], ["1"] * 9], "Locomotives")

    assert reading.subject == "Locomotives"
    assert [one.read_as for one in reading.columns] == ["loco", *map(str.lower, ours), "address", "own"]


def test_a_heading_that_stands_twice_is_read_once() -> None:
    reading = read([["Consist", "Loco", "Address", "Address"], ["C", "A", "3", "8"]], "Consists")

    assert [one.read_as for one in reading.columns] == ["consist", "loco", "address", "own"]


def test_settings_are_read_as_the_sheet_layout() -> None:
    reading = read(
        [list(SETTING_HEADINGS), ["Length unit", "mm", "", "x"], ["DC blocks", "no", "", "y"]], "a"
    )

    assert reading.subject == "Layout"
    assert [one.read_as for one in reading.columns] == ["setting", "value", "nothing", "nothing"]


def test_a_list_that_is_called_locomotives_is_read_by_its_contents_all_the_same() -> None:
    lines = [["Engine", "Address", "Owner"], ["5201", "5201", "M01"], ["54", "54", "M02"]]

    assert [one.read_as for one in read(lines, "Locomotives").columns] == ["number", "address", "owner"]


@pytest.mark.parametrize(
    ("headings", "title"),
    [
        pytest.param(["Engine", "Address", "Notes"], "roster", id="three headings that are ours by chance"),
        pytest.param(["Date", "Loco", "CV", "Value"], "log", id="readings of somebody else"),
        pytest.param(["Loco", "CV", "Value"], "x", id="CVs below each other"),
        pytest.param(["Setting", "Value"], "x", id="settings of something else"),
    ],
)
def test_a_list_is_not_taken_for_a_sheet_of_ours(headings: list[str], title: str) -> None:
    reading = read([headings, ["1"] * len(headings), ["2"] * len(headings)], title)

    assert reading.subject in {"", "Locomotives"}
