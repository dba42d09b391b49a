"""What group rows and titles say of the engines below them."""

import pytest

from rosterkit.lists.columns.recognise import recognised
from rosterkit.lists.tables import Layout, Origin
from tests.lists.columns.layouts import NOTHING_SAID, table

WITH_OWNER = [["Number", "Addr", "Owner"], ["5201", "5201", "M01"], ["54", "54", "M02"]]
WITH_RAILWAY = [["Road", "Number", "Addr"], ["NE", "5201", "5201"], ["JV", "54", "54"]]
PLAIN = [["Number", "Addr", "Decoder"], ["5201", "5201", "a"], ["54", "54", "b"]]
LABELS = [["Engine", "Addr"], ["NE 1", "1"], ["NE 2", "2"]]


@pytest.mark.parametrize(
    ("lines", "origin", "texts", "read_as"),
    [
        pytest.param(WITH_RAILWAY, Origin.GROUP_ROW, ["M01", "M02"], "owner", id="codes of members"),
        pytest.param(PLAIN, Origin.SHEET_TITLE, ["M09 (guest)"] * 2, "owner", id="a sheet per member"),
        pytest.param(WITH_OWNER, Origin.GROUP_ROW, ["M01", "M02"], "own", id="not where an owner stands"),
        pytest.param(
            WITH_OWNER, Origin.GROUP_ROW, ["NORTHERN EXTENSION", "JUNIPER VALLEY"], "railway", id="names"
        ),
        pytest.param(
            PLAIN,
            Origin.GROUP_ROW,
            ["NORTHERN EXTENSION", "JUNIPER VALLEY"],
            "own",
            id="names, owner unknown",
        ),
        pytest.param(
            PLAIN, Origin.GROUP_ROW, ["Tannwalder Kreisbahn", "Suhlauer Hafenbahn"], "railway", id="by a word"
        ),
        pytest.param(
            PLAIN, Origin.TABLE_TITLE, ["Bärentaler Talbahn (BTB)"] * 2, "railway", id="with brackets"
        ),
        pytest.param(LABELS, Origin.TABLE_TITLE, ["Northern Extension"] * 2, "railway", id="by initials"),
        pytest.param(WITH_OWNER, Origin.GROUP_ROW, ["Steam", "Diesel"], "own", id="kinds of engines"),
        pytest.param(WITH_OWNER, Origin.GROUP_ROW, ["Shelf A", "Shelf B"], "own", id="places"),
        pytest.param(WITH_OWNER, Origin.SHEET_TITLE, ["Fleet"] * 2, "nothing", id="one title for all"),
        pytest.param(WITH_OWNER, Origin.SHEET_TITLE, ["My engines", "Sheet1"], "nothing", id="no names"),
        pytest.param(
            WITH_OWNER, Origin.SHEET_TITLE, ["Northern Extension", "JV"], "railway", id="names of sheets"
        ),
        pytest.param(
            WITH_OWNER, Origin.SHEET_TITLE, ["Northern Extension", "Read me"], "own", id="not all names"
        ),
        pytest.param(WITH_OWNER, Origin.SHEET_TITLE, ["Steam", "Diesel"], "own", id="kinds on their sheets"),
        pytest.param(WITH_OWNER, Origin.BLOCK_TITLE, ["ENGINE CARD"] * 2, "nothing", id="a title of cards"),
    ],
)
def test_a_title_is_read_as(lines: list[list[str]], origin: Origin, texts: list[str], read_as: str) -> None:
    one = table(lines, titles={origin: texts})

    assert recognised(Layout((one,)), NOTHING_SAID)[0].columns[-1].read_as == read_as


def test_the_title_of_a_form_is_its_engine_where_nothing_else_names_it() -> None:
    one = table([["address", "CV2"], ["1", "3"], ["2", "4"]], titles={Origin.BLOCK_TITLE: ["NE 1", "JV 2"]})

    assert recognised(Layout((one,)), NOTHING_SAID)[0].columns[-1].read_as == "engine"


def test_the_title_of_a_sheet_with_one_form_is_its_label_where_the_number_stands_in_the_form() -> None:
    lines = [["Number", "Addr"], ["1", "1"], ["2", "2"]]
    one = table(lines, titles={Origin.SHEET_TITLE: ["NE 1", "JV 2"]})

    assert recognised(Layout((one,)), NOTHING_SAID)[0].columns[-1].read_as == "loco"


def test_titles_of_tables_without_engines_make_no_difference() -> None:
    one = table(PLAIN, "Depot list", titles={Origin.SHEET_TITLE: ["Depot list"] * 2})
    other = table([["Turnout", "Addr"], ["T1", "1"]], "Points", titles={Origin.SHEET_TITLE: ["Points"]})

    assert recognised(Layout((one, other)), NOTHING_SAID)[0].columns[-1].read_as == "nothing"


def test_a_title_is_an_owner_that_another_sheet_has_in_a_column() -> None:
    one = table(PLAIN, "Pim", titles={Origin.SHEET_TITLE: ["Pim", "Pim"]})
    other = table([["Engine", "Addr", "Owner"], ["NE 1", "1", "Pim"], ["NE 2", "2", "Bo"]], "all")

    assert recognised(Layout((one, other)), NOTHING_SAID)[0].columns[-1].read_as == "owner"
