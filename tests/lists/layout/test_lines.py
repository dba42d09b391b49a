"""Lines below headings that are no engines: groups, totals, notes, legends; and those that only look so."""

import pytest

from rosterkit.lists.tables import Origin
from tests.lists.layout.drawing import drawn, rows, whys

TABLE = "Owner | Number | Address | Type\n"


@pytest.mark.parametrize(
    ("drawing", "groups"),
    [
        pytest.param(
            "NORTHERN EXTENSION | < | < | <\nM01 | 5201 | 5201 | GP\nM01 | 5202 | 5202 | GP\n"
            "JUNIPER VALLEY | < | < | <\nM02 | 12 | 12 | railcar",
            {"3": "NORTHERN EXTENSION", "4": "NORTHERN EXTENSION", "6": "JUNIPER VALLEY"},
            id="merged rows are groups",
        ),
        pytest.param(
            "Northern Extension\nM01 | 5201 | 5201 | GP\nM01 | 5202 | 5202 | GP\n\n"
            "Juniper Valley\nM02 | 12 | 12 | railcar",
            {"3": "Northern Extension", "4": "Northern Extension", "7": "Juniper Valley"},
            id="lone texts after a blank row are groups",
        ),
        pytest.param(
            "M01 | 5201 | 5201 | GP\nM01 | 5202 | 5202 | GP\nM02\nM02 | 12 | 12 | railcar",
            {"2": "", "3": "", "4": "", "5": ""},
            id="an owner without an engine, whom the column knows, is a record",
        ),
        pytest.param(
            "M17\nM01 | NE 5201 | 5201 | GP\nM02 | NE 5202 | 5202 | GP\nM18\nM02 | JV 12 | 12 | cab",
            {"2": "", "3": "", "4": "", "5": "", "6": ""},
            id="texts made like those of their column are records",
        ),
        pytest.param(
            "Northern (2)\nM01 | 5201 | 5201 | GP\nM01 | 5202 | 5202 | GP\nJuniper (1)\nM02 | 12 | 12 | cab",
            {"3": "Northern (2)", "4": "Northern (2)", "6": "Juniper (1)"},
            id="a group right below the headings is no second row of them",
        ),
        pytest.param(
            "A\nM01 | Amsel | 5 | GP\nM01 | Albatros | 6 | GP\nB\nM02 | Bussard | 7 | cab",
            {"3": "A", "4": "A", "6": "B"},
            id="letters of an alphabet",
        ),
        pytest.param(
            "K1\nNE | 5201 | 5201 | GP\nNE | 5202 | 5202 | GP\nK2\nJV | 12 | 12 | cab",
            {"3": "K1", "4": "K1", "6": "K2"},
            id="a text made like the group above is a group",
        ),
    ],
)
def test_group_rows(drawing: str, groups: dict[str, str]) -> None:
    (table,) = drawn(TABLE + drawing).tables

    number = next((n for n, one in enumerate(table.headings) if one.origin is Origin.GROUP_ROW), -1)
    held = {
        one.key.removeprefix("List!"): one.cells[number].cell.text if number in one.cells else ""
        for one in table.records
    }
    assert held == groups


def test_a_group_that_says_what_it_is_has_that_as_its_heading() -> None:
    (table,) = drawn(
        "Engine | Address | Type\nOwner: M01\nNE 5201 | 5201 | GP\nNE 5202 | 5202 | GP\n"
        "Owner: M02\nJV 12 | 12 | cab"
    ).tables

    assert [one.text for one in table.headings if one.origin is Origin.GROUP_ROW] == ["Owner"]
    assert rows(table) == {
        "3": ["NE 5201", "5201", "GP", "M01"],
        "4": ["NE 5202", "5202", "GP", "M01"],
        "6": ["JV 12", "12", "cab", "M02"],
    }


def test_an_engine_of_which_only_the_name_is_known_is_a_record() -> None:
    (table,) = drawn(
        "Engine | Address | Type\nNE 5201 | 5201 | GP\nNE 5202\nNE 5203 | 5203 | GP\n"
        "work train\nJV 12 | 12 | cab"
    ).tables

    assert list(rows(table)) == ["2", "3", "4", "5", "6"]


def test_merged_owners_are_filled_down_and_others_are_not() -> None:
    (table,) = drawn(
        TABLE + "M01 | 5201 | 5201 | GP\n^ | 5202 | 5202 | GP\nM02 | 12 | 12 | cab\n | 13 | 13 | cab"
    ).tables

    assert [row[0] for row in rows(table).values()] == ["M01", "M01", "M02", ""]


@pytest.mark.parametrize(
    ("drawing", "skipped"),
    [
        pytest.param("Subtotal | 3 | |", True, id="a word for totals"),
        pytest.param("Summe | 3 | |", True, id="a German word for totals"),
        pytest.param("| 3 | |", True, id="the count of the engines above, without a word"),
        pytest.param("| 15606 | |", True, id="the sum of the numbers above"),
        pytest.param("carried over | 3 | | | | |", True, id="a text with the count at the end of a page"),
        pytest.param("work train | 77 | | | | |", False, id="a name with a number that adds up nothing"),
        pytest.param("together | | =SUM(C2:C4) | | | |", True, id="a sum without a stored result"),
        pytest.param("| 77 | |", False, id="a number that adds up nothing"),
        pytest.param("M02 | 3 | 3 | tram", False, id="an engine whose number is the count of those above"),
    ],
)
def test_totals(drawing: str, skipped: bool) -> None:
    headings = "Owner | Number | Address | Type | Decoder | Notes\n"
    engines = "M01 | 5201 | 5201 | GP\nM01 | 5202 | 5202 | GP\nM01 | 5203 | 5203 | GP\n"

    found = drawn(headings + engines + drawing)

    assert ("5" not in rows(found.tables[0])) is skipped
    assert ("a total" in whys(found).values()) is skipped


def test_notes_below_the_table_are_named() -> None:
    found = drawn(
        TABLE + "M01 | 5201 | 5201 | GP\nM01 | 5202 | 5202 | GP\n\nprinted for the show\nask M01 for changes"
    )

    assert list(rows(found.tables[0])) == ["2", "3"]
    assert whys(found) == {"A5": "a note"}


def test_a_row_that_continues_the_one_above_is_added_to_it_and_named() -> None:
    found = drawn(
        "Engine | Address | Decoder | Notes\nNE 5201 | 5201 | plain | pulls well\n | | | but only uphill\n"
        "NE 5202 | 5202 | plain |\n | | | lost\nNE 5203 | 5203 | plain |"
    )

    assert {key: row[3] for key, row in rows(found.tables[0]).items()} == {
        "2": "pulls well; but only uphill",
        "4": "lost",
        "6": "",
    }
    assert whys(found) == {"D3": "continues the row above"}


LEGEND = (
    "Engine | Address | Notes\n[FF9999] NE 5201 | 5201 |\n[FFFF99] NE 5202 | 5202 |\nNE 5203 | 5203 |\n\n"
)


@pytest.mark.parametrize(
    ("legend", "colours"),
    [
        pytest.param(
            "[FF9999] red = needs work\n[FFFF99] yellow = check",
            {"FF9999": "needs work", "FFFF99": "check"},
            id="colours by name, in their colour",
        ),
        pytest.param(
            "[FF9999] needs work\n[FFFF99] check",
            {"FF9999": "needs work", "FFFF99": "check"},
            id="meanings in colours that engines have",
        ),
        pytest.param(
            "[FF9999] | needs work\n[FFFF99] | check",
            {"FF9999": "needs work", "FFFF99": "check"},
            id="swatches with the meaning to the right",
        ),
        pytest.param(
            "[FF9999] pink | needs work",
            {"FF9999": "needs work"},
            id="a colour by name, its meaning beside it",
        ),
        pytest.param("[AAAAAA] printed for the show", {}, id="a note in a colour of its own is no legend"),
    ],
)
def test_legends(legend: str, colours: dict[str, str]) -> None:
    found = drawn(LEGEND + legend)

    assert found.colours == {("List", colour): text for colour, text in colours.items()}
    assert list(rows(found.tables[0])) == ["2", "3", "4"]


def test_groups_in_two_levels_hold_until_the_next_of_their_level() -> None:
    (table,) = drawn(
        "Number | Address | Type\nNORTHERN EXTENSION | < | <\nDiesel\n5201 | 5201 | GP\nSteam\n"
        "7 | 7 | 2-8-0\nJUNIPER VALLEY | < | <\nDiesel\n12 | 12 | cab"
    ).tables

    assert {key: row[3:] for key, row in rows(table).items()} == {
        "4": ["NORTHERN EXTENSION", "Diesel"],
        "6": ["NORTHERN EXTENSION", "Steam"],
        "9": ["JUNIPER VALLEY", "Diesel"],
    }


@pytest.mark.parametrize(
    ("beside", "why"),
    [
        pytest.param("[FFFF00] Gult = to the bench", {"F1": "a legend"}, id="a colour and its meaning"),
        pytest.param("[FFFF00] Shelf = drawer", {}, id="no colour is named"),
    ],
)
def test_a_legend_may_stand_beside_the_headings(beside: str, why: dict[str, str]) -> None:
    found = drawn(f"Owner | Number | Address | Type | | {beside}\nM01 | 5201 | 5201 | GP\nM01 | 12 | 12 | GP")

    assert whys(found) == why
    assert len(found.tables[0].records) == 2
    assert dict(found.colours) == ({("List", "FFFF00"): "to the bench"} if why else {})
