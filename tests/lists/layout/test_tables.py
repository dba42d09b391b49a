"""Tables with headings above records: where they begin and end, and what in them is no record."""

import pytest

from rosterkit.errors import CannotRunError
from rosterkit.lists.tables import Origin
from tests.lists.layout.drawing import drawn, layout, rows, sheet, texts, whys


def test_a_table_with_headings_above_it() -> None:
    found = drawn(
        """
Road | No. | Address
NE | 5201 | 5201
JV | 12 | 12
"""
    )

    (table,) = found.tables
    assert texts(table) == ["Road", "No.", "Address"]
    assert [one.key for one in table.headings] == ["List!A", "List!B", "List!C", "List!title"]
    assert rows(table) == {"2": ["NE", "5201", "5201"], "3": ["JV", "12", "12"]}
    assert (table.heading_row, found.skipped) == (1, ())


@pytest.mark.parametrize(
    "first",
    [
        pytest.param("NE 5200 | 5200 | plain", id="an engine like those below it"),
        pytest.param("JV 7 | 7 | small", id="an engine of another railway"),
        pytest.param("KC 14 geared | 14 | plain", id="an engine with more words"),
    ],
)
def test_no_engine_is_taken_for_a_heading(first: str) -> None:
    (table,) = drawn(first + "\nNE 5201 | 5201 | plain\nNE 5202 | 5202 | small\nJV 12 | 12 | plain").tables

    assert texts(table) == ["", "", ""]
    assert table.heading_row == 0
    assert list(rows(table)) == ["1", "2", "3", "4"]


def test_headings_in_a_language_that_nobody_knows_stand_over_numbers() -> None:
    (table,) = drawn("Qwyx | Zorp | Plin\nNE | 5201 | 90\nNE | 5202 | 91\nJV | 12 | 92").tables

    assert texts(table) == ["Qwyx", "Zorp", "Plin"]


def test_blank_rows_and_columns_do_not_cut_a_table() -> None:
    (table,) = drawn(
        """
Road | No. | | Address | Notes
NE | 5201 | | 5201 |
JV | 12 | | 12 |

KC | 14 | | 14 |
SM | 3 | | 3 |
"""
    ).tables

    assert texts(table) == ["Road", "No.", "Address", "Notes"]
    assert list(rows(table)) == ["2", "3", "5", "6"]


def test_a_column_without_a_heading_belongs_to_the_table() -> None:
    (table,) = drawn("Engine | Address |\nNE 5201 | 5201 | box 3\nNE 5202 | 5202 | box 4").tables

    assert texts(table) == ["Engine", "Address", ""]
    assert rows(table)["2"] == ["NE 5201", "5201", "box 3"]


def test_titles_stand_above_a_table_and_are_offered_for_every_engine() -> None:
    (table,) = drawn("M05\n\nEngine | Address\nNE 5201 | 5201\nNE 5202 | 5202").tables

    title = next(one for one in table.headings if one.origin is Origin.TABLE_TITLE)
    assert title.key == "List!heading"
    assert rows(table) == {"4": ["NE 5201", "5201", "M05"], "5": ["NE 5202", "5202", "M05"]}


def test_a_title_that_says_what_it_is_has_that_as_its_heading() -> None:
    (table,) = drawn("Owner: | M05\nEngine | Address | Notes\nNE 5201 | 5201\nNE 5202 | 5202").tables

    (title,) = [one for one in table.headings if one.origin is Origin.TABLE_TITLE]
    assert title.text == "Owner"
    assert rows(table)["3"] == ["NE 5201", "5201", "", "M05"]


@pytest.mark.parametrize(
    ("drawing", "expected"),
    [
        pytest.param(
            "ENGINE | < | CV | < | <\nRoad | No. | 2 | 3 | 29\n"
            "NE | 5201 | 4 | 8 | 34\nNE | 5202 | 4 | 8 | 34",
            ["ENGINE Road", "ENGINE No.", "CV 2", "CV 3", "CV 29"],
            id="merged upper headings spread over what they cover",
        ),
        pytest.param(
            "ENGINE | | CV | |\nRoad | No. | 2 | 3 | 29\nNE | 5201 | 4 | 8 | 34\nNE | 5202 | 4 | 8 | 34",
            ["ENGINE Road", "No.", "CV 2", "CV 3", "CV 29"],
            id="the word CV holds for the numbers to its right, merged or not",
        ),
        pytest.param(
            "ID | Name | Address | Address\n | road | home | at shows\n"
            "NE 5201 | NE | 5201 | 4201\nNE 5202 | NE | 5202 | 4202",
            ["ID", "Name road", "Address home", "Address at shows"],
            id="two rows of headings",
        ),
        pytest.param(
            "Engine | Address | Length\n | | (mm)\nNE 5201 | 5201 | 190\nNE 5202 | 5202 | 180",
            ["Engine", "Address", "Length (mm)"],
            id="units in a row of their own",
        ),
        pytest.param(
            "Engine | Address | Notes\nNE 5201 | see card | lost\nNE 5202 | 5202 |\nNE 5203 | 5203 |",
            ["Engine", "Address", "Notes"],
            id="an engine without a number is no second row of headings",
        ),
        pytest.param(
            "Engine | Decoder | Notes\nNE 1 | sound | decoder\nNE 2 | sound | address\nNE 3 | plain | length",
            ["Engine", "Decoder", "Notes"],
            id="an engine whose values are words of headings is none either",
        ),
        pytest.param(
            "Timestamp | What is the DCC address of the engine you bring? | Your name\n"
            "2021-01-02 | 5201 | M01\n2021-01-03 | 12 | M02",
            ["Timestamp", "What is the DCC address of the engine you bring?", "Your name"],
            id="long questions over short answers",
        ),
        pytest.param(
            "Table | 1 | 2 | 3 | 4 | 5 | 6\nfast | 9 | 13 | 17 | 22 | 27 | 32\nslow | 5 | 6 | 7 | 8 | 9 | 10",
            ["Table", "1", "2", "3", "4", "5", "6"],
            id="steps counted from 1",
        ),
    ],
)
def test_headings_of_several_rows(drawing: str, expected: list[str]) -> None:
    (table,) = drawn(drawing).tables

    assert texts(table) == expected


def test_headings_repeated_on_each_page_are_no_record() -> None:
    found = drawn(
        """
Our engines
Engine | Address | Owner
NE 5201 | 5201 | M01
NE 5202 | 5202 | M01

Our engines
Engine | Address | Owner
JV 12 | 12 | M02
JV 13 | 13 | M02
"""
    )

    (table,) = found.tables
    assert list(rows(table)) == ["3", "4", "8", "9"]
    assert whys(found) == {"A6": "the headings again"}


def test_tables_above_each_other_with_titles_of_their_own_stay_apart() -> None:
    first, second = drawn(
        """
M01
Engine | Address | Decoder
NE 5201 | 5201 | plain
NE 5202 | 5202 | plain

M02
Engine | Address | Decoder
JV 12 | 12 | small
JV 13 | 13 | small
"""
    ).tables

    assert rows(first) == {"3": ["NE 5201", "5201", "plain", "M01"], "4": ["NE 5202", "5202", "plain", "M01"]}
    assert rows(second) == {"8": ["JV 12", "12", "small", "M02"], "9": ["JV 13", "13", "small", "M02"]}


def test_a_second_table_with_other_headings_is_keyed_by_its_row() -> None:
    first, second = drawn(
        """
Engine | Address | Decoder
NE 5201 | 5201 | plain
NE 5202 | 5202 | plain

Turnout | Address | Notes
yard 1 | 17 | west
yard 2 | 18 | west
"""
    ).tables

    assert texts(first) == ["Engine", "Address", "Decoder"]
    assert [one.key for one in second.headings][:3] == ["List!A5", "List!B", "List!C5"]
    assert list(rows(second)) == ["6", "7"]


def test_the_heading_row_that_somebody_names_is_taken() -> None:
    found = layout(
        sheet("Engine | Address\nLok | Adresse\nNE 5201 | 5201\nNE 5202 | 5202"), heading_rows={"List": 2}
    )

    assert found.tables[0].heading_row == 2


def test_a_heading_row_in_which_nothing_stands_is_refused_with_others_named() -> None:
    with pytest.raises(CannotRunError) as refused:
        layout(sheet("Engine | Address\nNE 5201 | 5201\nNE 5202 | 5202"), heading_rows={"List": 9})

    assert refused.value.message == "nothing stands in row 9 of sheet 'List'"
    assert "'List!1'" in refused.value.fix


def test_a_heading_row_of_a_sheet_that_is_not_there_is_refused() -> None:
    with pytest.raises(CannotRunError, match="no sheet 'Lst'"):
        layout(sheet("Engine | Address\nNE 5201 | 5201"), heading_rows={"Lst": 1})


def test_sheets_of_notes_and_our_own_made_sheets_are_skipped_whole() -> None:
    found = layout(
        sheet("Everybody fills in his own sheet.\nPlease no colours!", "READ ME"),
        sheet("Engine | Address\nNE 5201 | 5201\nNE 5202 | 5202", "Findings", own="Findings"),
        sheet("Engine | Address\nNE 5201 | 5201\nNE 5202 | 5202", "copied", own="Copy"),
        sheet("", "blank"),
    )

    assert found.tables == ()
    assert [(str(one.place), one.why) for one in found.skipped] == [
        ("READ ME!A1", "no table there"),
        ("Findings!A1", "a sheet that rosterkit made"),
        ("copied!A1", "a copy of a list"),
    ]


def test_our_own_list_of_settings_is_an_ordinary_table() -> None:
    (table,) = drawn(
        "Setting | Value | Unit | What it is for\nScale | HO | | The scale.\nLength unit | mm | | The unit.\n"
        "Speed steps | 28/128 | |\nShort address range | 1-99 | |"
    ).tables

    assert texts(table) == ["Setting", "Value", "Unit", "What it is for"]
    assert rows(table)["3"] == ["Length unit", "mm", "", "The unit."]


@pytest.mark.parametrize(
    ("drawing", "expected"),
    [
        pytest.param(
            "NE | 5201 | 5201\nplain | M01 | good\nJV | 12 | 12\nsmall | M02 | bad",
            {
                "3": ["NE", "5201", "5201", "plain", "M01", "good"],
                "5": ["JV", "12", "12", "small", "M02", "bad"],
            },
            id="records of two lines have the headings of both",
        ),
        pytest.param(
            "NE | 5201 | 5201\nJV | 12 | 12\nJV | 13 | 13\nJV | 14 | 14",
            {
                "3": ["NE", "5201", "5201"],
                "4": ["JV", "12", "12"],
                "5": ["JV", "13", "13"],
                "6": ["JV", "14", "14"],
            },
            id="records of one line have both lines as their headings",
        ),
    ],
)
def test_two_lines_of_headings_over_records(drawing: str, expected: dict[str, list[str]]) -> None:
    (table,) = drawn("Road | Number | Address\nDecoder | Owner | Notes\n" + drawing).tables

    assert rows(table) == expected
    if len(expected) == 2:
        keys = ["List!A", "List!B", "List!C", "List!A2", "List!B2", "List!C2"]
        assert [one.key for one in table.headings][:6] == keys


def test_a_line_of_dashes_below_the_headings_is_no_record() -> None:
    found = drawn("Engine | Address\n--- | ---\nNE 1 | 1\nNE 2 | 2")

    assert list(rows(found.tables[0])) == ["3", "4"]
    assert whys(found) == {"A2": "a rule"}


@pytest.mark.parametrize(
    ("rule", "whys_of_it"),
    [
        pytest.param("----------", {"A2": "a rule", "A4": "a rule"}, id="a line of dashes in one cell"),
        pytest.param("=== | ===", {"A2": "a rule", "A4": "a rule"}, id="double lines in each column"),
        pytest.param("- 7 - | 70", {}, id="dashes around a number are an engine"),
    ],
)
def test_lines_without_a_letter_or_digit_are_rules(rule: str, whys_of_it: dict[str, str]) -> None:
    found = drawn(f"Engine | Address\n{rule}\nNE 1 | 1\n{rule}\nNE 2 | 2")

    assert list(rows(found.tables[0])) == (["3", "5"] if whys_of_it else ["2", "3", "4", "5"])
    assert whys(found) == whys_of_it


SPACED = """
Road | Number | Address | | Owner | Notes
NE | 5201 | 5201 | | M01 | loud
NE | 5202 | 5202 | | M01 |
JV | 12 | 12 | | M02 | new
"""


@pytest.mark.parametrize(
    ("footer", "tables"),
    [
        pytest.param("Total | 3 | \nof these in sound: | 2\nin repair: | 1", 1, id="totals"),
        pytest.param("\nprinted for the show\nask M01 for a key\nno smoke", 1, id="notes"),
        pytest.param("KC | 14 | 14\nKC | 15 | 15\nKC | 16 | 16", 2, id="more engines"),
    ],
)
def test_what_stands_below_one_part_of_a_table_with_a_blank_column_splits_it_only_by_engines(
    footer: str, tables: int
) -> None:
    found = drawn(SPACED + footer)

    assert len(found.tables) == tables
    assert (
        texts(found.tables[0]) == ["Road", "Number", "Address", "Owner", "Notes"][: 5 if tables == 1 else 3]
    )


@pytest.mark.parametrize(
    ("row", "doubted"),
    [
        pytest.param(2, False, id="the row of the headings"),
        pytest.param(3, True, id="the first engine, of which nobody would hear otherwise"),
    ],
)
def test_a_row_that_somebody_says_holds_the_headings_and_does_not_is_a_doubt(row: int, doubted: bool) -> None:
    fleet = sheet("Our engines\nRoad | Number | Address\nNE | 5201 | 5201\nNE | 5202 | 5202\n", "Fleet")

    found = layout(fleet, heading_rows={"Fleet": row})

    assert [one.place.cell for one in found.skipped if one.doubt] == (["A3"] if doubted else [])


def test_a_second_line_of_headings_that_nobody_knows_is_no_engine() -> None:
    fleet = sheet("No. | Adr | Notes\n(old) | (new) | (mine)\nNE 1 | 12 | loud\nNE 2 | 14 |\n", "Fleet")

    found = layout(fleet, heading_rows={"Fleet": 2})

    assert [one for one in found.skipped if one.doubt] == []


def test_a_group_above_another_that_holds_for_nothing_is_a_note_too() -> None:
    found = drawn(
        """
Road | Number | Address | Type | Decoder | Notes
STEAM | | | | |
 | Branch line: | | | |
DIESEL | | | | |
NE | 5201 | 5201 | GP | plain | loud
NE | 5202 | 5202 | GP | plain | quiet
"""
    )

    told = [one.cell.text for record in found.tables[0].records for one in record.cells.values()]
    assert "DIESEL" in told
    assert {one.text for one in found.skipped} >= {"STEAM Branch line:"} or "Branch line:" in told
