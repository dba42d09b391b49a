"""Forms, notebooks, engines across and tables beside each other."""

import pytest

from rosterkit.lists.tables import Origin
from tests.lists.layout.drawing import drawn, layout, pairs, rows, sheet, texts, whys

CARD = """
ENGINE CARD

Road: | Juniper Valley | | Owner: | M05
Number: | {number} | | Decoder: | plain
DCC address: | {number} | | Type: | hood unit

CV | Value | What it does
2 | 4 | start
29 | 34 | config

Remarks: | quiet
"""


def test_a_form_on_a_sheet_for_each_engine_is_one_table() -> None:
    found = layout(
        sheet(CARD.format(number=2130), "JV 2130"),
        sheet(CARD.format(number=2131), "JV 2131"),
        sheet("Everybody fills in his own card.", "READ ME"),
    )

    (table,) = found.tables
    assert [one.key for one in table.headings] == [
        "*!heading",
        "*!Road",
        "*!Owner",
        "*!Number",
        "*!Decoder",
        "*!DCC address",
        "*!Type",
        "*!Remarks",
        "*!CV",
        "*!Value",
        "*!title",
    ]
    assert [one.key for one in table.records] == ["JV 2130", "JV 2131"]
    assert rows(table)["JV 2131"][:4] == ["ENGINE CARD", "Juniper Valley", "M05", "2131"]
    assert pairs(table)["JV 2130"] == [("2", "4"), ("29", "34")]
    assert whys(found) == {"C7": "says in words what a CV does", "A1": "no table there"}


def test_forms_below_each_other_are_records_by_their_first_row() -> None:
    (table,) = drawn(
        """
Engine: | NE 5201
Address: | 5201
Owner: | M01

Engine: | NE 5202
Address: | 5202
Remarks: | loud

Engine: | JV 12
Address: | 12
Owner: | M02
"""
    ).tables

    assert [one.key for one in table.headings] == [
        "List!Engine",
        "List!Address",
        "List!Owner",
        "List!title",
        "List!Remarks",
    ]
    assert texts(table) == ["Engine", "Address", "Owner", "Remarks"]
    assert rows(table) == {
        "1": ["NE 5201", "5201", "M01", ""],
        "5": ["NE 5202", "5202", "", "loud"],
        "9": ["JV 12", "12", "M02", ""],
    }


def test_forms_beside_each_other_are_records_too() -> None:
    (table,) = drawn(
        """
Engine: | NE 5201 | | Engine: | NE 5202
Address: | 5201 | | Address: | 5202
Owner: | M01 | | Owner: | M02

Engine: | JV 12 | | Engine: | JV 13
Address: | 12 | | Address: | 13
Owner: | M03 | | Owner: | M04
"""
    ).tables

    assert {key: row[:3] for key, row in rows(table).items()} == {
        "1/A": ["NE 5201", "5201", "M01"],
        "5/A": ["JV 12", "12", "M03"],
        "1/D": ["NE 5202", "5202", "M02"],
        "5/D": ["JV 13", "13", "M04"],
    }


def test_a_notebook_has_a_title_and_indented_lines_for_each_engine() -> None:
    (table,) = drawn(
        """
NE 5280 - big
 | address | 5280
 | CV2 | 3
 | CV29 | 34

JV 53
 | address | 53
 | CV49 | 16
"""
    ).tables

    assert [(one.key, one.text) for one in table.headings if one.origin is not Origin.SHEET_TITLE] == [
        ("List!A", ""),
        ("List!address", "address"),
        ("List!B", "CV"),
        ("List!C", "value"),
    ]
    assert rows(table) == {"1": ["NE 5280 - big", "5280", "", ""], "6": ["JV 53", "53", "", ""]}
    assert pairs(table) == {"List!1": [("CV2", "3"), ("CV29", "34")], "List!6": [("CV49", "16")]}


def test_engines_across_are_records_by_their_column() -> None:
    (table,) = drawn(
        """
Settings | NE 5230 | NE 5231 | JV 12
Address | 5230 | 5231 | 12
Decoder | plain | plain | small
CV29 | 34 | 35 | 2
Owner | M01 | M01 |
"""
    ).tables

    assert [one.key for one in table.headings][:5] == ["List!1", "List!2", "List!3", "List!4", "List!5"]
    assert {one.origin for one in table.headings} == {Origin.ROW, Origin.SHEET_TITLE}
    assert rows(table) == {
        "B": ["NE 5230", "5230", "plain", "34", "M01"],
        "C": ["NE 5231", "5231", "plain", "35", "M01"],
        "D": ["JV 12", "12", "small", "2", ""],
    }


@pytest.mark.parametrize(
    ("drawing", "expected"),
    [
        pytest.param(
            "CV | NE 1 | NE 2\n1 | 3 | 3\n29 | 34 | 35", ["", "CV 1", "CV 29"], id="engines beside CV numbers"
        ),
        pytest.param(
            "CV | What it does | NE 1 | NE 2\n1 | address | 3 | 3\n29 | config | 34 | 35",
            ["", "CV 1", "CV 29"],
            id="what a CV does is no engine",
        ),
        pytest.param(
            "CV | what | NE 1 | NE 2\n1 | address | 3 | 3\nread on | | June | July\n29 | config | 34 | 35",
            ["", "CV 1", "read on", "CV 29"],
            id="a line of something else between CV numbers",
        ),
        pytest.param("CV | Value\n1 | 3\n29 | 34", ["CV", "Value"], id="a list of CVs alone has no engine"),
        pytest.param(
            "Engine | CV | Value\nNE 1 | 1 | 3\nNE 1 | 29 | 34\nNE 2 | 1 | 5",
            ["Engine", "CV", "Value"],
            id="CVs below each other with their engine beside them",
        ),
    ],
)
def test_cv_numbers_down(drawing: str, expected: list[str]) -> None:
    (table,) = drawn(drawing).tables

    assert texts(table) == expected


BESIDE = """
No. | Addr. | | No. | Addr.
JV 54 | 54 | | NE 5290 | 5290
JV 55 | 55 | | NE 5291 | 5291
 | | | NE 5292 | 5292
"""


def test_tables_with_the_same_headings_beside_each_other() -> None:
    first, second = drawn(BESIDE).tables

    assert rows(first) == {"2/A": ["JV 54", "54"], "3/A": ["JV 55", "55"]}
    assert list(rows(second)) == ["2/D", "3/D", "4/D"]
    assert [one.key for one in second.headings][:2] == ["List!D", "List!E"]


@pytest.mark.parametrize(
    ("drawing", "tables"),
    [
        pytest.param(
            "No. | Addr. | No. | Addr.\nJV 54 | 54 | NE 1 | 1\nJV 55 | 55 | NE 2 | 2", 2, id="without a gap"
        ),
        pytest.param(
            "Engine | Address | | Owner | Notes\nJV 54 | 54 | | M01 | loud\n"
            "JV 55 | 55 | | M02 |\nNE 1 | 1 | | M01 |",
            1,
            id="one table with a blank column",
        ),
        pytest.param(
            "Engine | Address | | Owner | Name\nJV 54 | 54 | | M01 | A\nJV 55 | 55 | | M02 | B\n"
            "NE 1 | 1\nNE 2 | 2\nNE 3 | 3",
            2,
            id="a shorter table of something else",
        ),
        pytest.param(
            "Engine | Address\nJV 54 | 54\nJV 55 | 55\nNE 1 | 1 | | Turnout | Address\n"
            "NE 2 | 2 | | yard | 17\n"
            "NE 3 | 3 | | mine | 18",
            2,
            id="a table that begins further down",
        ),
    ],
)
def test_how_many_tables_stand_beside_each_other(drawing: str, tables: int) -> None:
    assert len(drawn(drawing).tables) == tables


@pytest.mark.parametrize(
    ("drawing", "expected"),
    [
        pytest.param(
            "Road: NE\nAddress: 5201\nOwner: M01\n\nRoad: JV\nAddress: 12\nOwner: M02",
            {"1": ["NE", "5201", "M01"], "5": ["JV", "12", "M02"]},
            id="labels and values in one cell",
        ),
        pytest.param(
            "NE 5280\nAddress: 5280\nCV2=3\nCV29=34\n\nJV 53\nAddress: 53\nCV2=9\nCV29=2",
            {"1": ["NE 5280", "5280", "3", "34"], "6": ["JV 53", "53", "9", "2"]},
            id="a title above them, and CVs",
        ),
        pytest.param(
            "Loco..... | NE 1\nAddress... | 1\nOwner..... | M01",
            {"List": ["NE 1", "1", "M01"]},
            id="dots between label and value",
        ),
        pytest.param(
            "Engine: | NE 1\nAddress: | 1\nNotes:\nruns well\n\nEngine: | NE 2\nAddress: | 2\nNotes:\nnone",
            {"1": ["NE 1", "1", "runs well"], "6": ["NE 2", "2", "none"]},
            id="a value below its label",
        ),
        pytest.param(
            "Engine | Notes\nNE 1 | CV2=3\nNE 2 | CV2=9\nNE 3 | CV3=9",
            {"2": ["NE 1", "CV2=3"], "3": ["NE 2", "CV2=9"], "4": ["NE 3", "CV3=9"]},
            id="CVs in the notes of a table make no form",
        ),
    ],
)
def test_forms_of_other_kinds(drawing: str, expected: dict[str, list[str]]) -> None:
    (table,) = drawn(drawing).tables

    assert rows(table) == expected


def test_engines_across_in_blocks_below_each_other_are_all_records() -> None:
    first, second = drawn(
        """
Name | NE 1 | NE 2
Address | 1 | 2
Owner | M01 | M02

Name | JV 1 | JV 2
Address | 11 | 12
Owner | M01 | M02
"""
    ).tables

    assert rows(first) == {"B/1": ["NE 1", "1", "M01"], "C/1": ["NE 2", "2", "M02"]}
    assert rows(second) == {"B/5": ["JV 1", "11", "M01"], "C/5": ["JV 2", "12", "M02"]}


def test_lists_of_cvs_with_a_title_each_are_records_with_pairs() -> None:
    (table,) = drawn(
        "NE 1\nCV | Value | What it does\n2 | 5 | start\n29 | 34 | config\n\nJV 2\nCV | Value\n2 | 7\n29 |"
    ).tables

    assert [row[0] for row in rows(table).values()] == ["NE 1", "JV 2"]
    assert pairs(table) == {"List!1": [("2", "5"), ("29", "34")], "List!6": [("2", "7")]}


def test_lists_of_cvs_on_a_sheet_for_each_engine_are_records_with_pairs() -> None:
    (table,) = layout(sheet("CV | Value\n2 | 5", "NE 1"), sheet("CV | Value\n2 | 7", "NE 2")).tables

    assert pairs(table) == {"NE 1": [("2", "5")], "NE 2": [("2", "7")]}


def test_a_form_of_few_labels_above_a_list_of_cvs() -> None:
    (table,) = drawn(
        "Engine: | NE 1 | Owner: | M01\nCV | Value\n1 | 3\n29 | 6\n\n"
        "Engine: | NE 2 | Owner: | M02\nCV | Value\n1 | 4\n29 | 6"
    ).tables

    assert {key: row[:2] for key, row in rows(table).items()} == {"1": ["NE 1", "M01"], "6": ["NE 2", "M02"]}
    assert pairs(table)["List!6"] == [("1", "4"), ("29", "6")]


@pytest.mark.parametrize(
    ("listed", "found"),
    [
        pytest.param("CV | Value | Note\n5 | 140 | top", [("5", "140")], id="the value to the right"),
        pytest.param("Wert | CV | Bedeutung\n140 | 5 | Vmax", [("5", "140")], id="the value to the left"),
        pytest.param(
            "CV | Factory | Value\n5 | 255 | 140",
            [("5", "140")],
            id="the value beyond the factory one",
        ),
        pytest.param(
            "Value | CV | Werkswert\n140 | 5 | 255", [("5", "140")], id="the value left, the maker's right"
        ),
        pytest.param("CV | Does | Now\n5 | top | 140", [("5", "140")], id="the one column with numbers"),
        pytest.param("CV | |\n5 | 140 |", [("5", "140")], id="a value without a heading"),
        pytest.param("CV | Werkswert | Jetzt\n5 | 255 | 140", None, id="two columns, and no heading known"),
        pytest.param("CV | Old value | Remark\n5 | 255 | top", None, id="an old value alone"),
        pytest.param("CV | Value | Value\n5 | 255 | 140", None, id="two values"),
    ],
)
def test_which_numbers_beside_cvs_are_their_values(listed: str, found: list[tuple[str, str]] | None) -> None:
    form = "Road: | Juniper Valley\nNumber: | 2130\nDCC address: | 2130\n\n" + listed

    laid = drawn(form)

    assert pairs(laid.tables[0])["List"] == (found or [])
    assert any(one.doubt for one in laid.skipped) is (found is None)


@pytest.mark.parametrize(
    ("line", "heading"),
    [
        pytest.param("zuletzt besehen | 2018-09-14 | |", "zuletzt besehen", id="a label that nobody knows"),
        pytest.param("zuletzt besehen | Mai 2018 | Type: | hood", "zuletzt besehen", id="beside one known"),
        pytest.param("zuletzt besehen", None, id="a lone text"),
        pytest.param("2018-09-14 | wiped", None, id="a day and what was done"),
        pytest.param("wiped | M05 | May", None, id="a line of a table"),
    ],
)
def test_a_label_that_no_vocabulary_knows_is_one_if_its_value_stands_beside_it(
    line: str, heading: str | None
) -> None:
    form = (
        "ENGINE SHEET\n\nRoad | Juniper Valley | Owner | M05\nNumber | {0} | Decoder | plain\n"
        "DCC address | {0} | Length | 90\n" + line
    )

    (table,) = layout(*(sheet(form.format(one), f"JV {one}") for one in (2130, 2131))).tables

    known = {"Road", "Owner", "Number", "Decoder", "DCC address", "Length", "Type"}
    assert set(texts(table)) - known == ({heading} if heading else set())
    assert len(rows(table)) == 2


def test_labels_of_ones_own_leave_the_known_ones_beside_them_labels() -> None:
    (table,) = drawn(
        "ENGINE SHEET\nOwner | M61 | | Road | TKB\nDecoder | loud | | Number | 3350\n"
        "Qwyx | 3 | | Address | 3350\nlast seen | May | | Type | diesel\n\nZorp | one lamp out"
    ).tables

    assert set(texts(table)) == {
        *("Owner", "Road", "Decoder", "Number", "Qwyx", "Address", "last seen", "Type", "Zorp")
    }


@pytest.mark.parametrize(
    ("line", "owners"),
    [
        pytest.param(" | Owner | M01 | M02", ["M01", "M02"], id="a label where the others have words"),
        pytest.param("7 | Owner | 1 | 2", [], id="words beside a CV"),
    ],
)
def test_a_label_in_the_second_column_of_cvs_across(line: str, owners: list[str]) -> None:
    (table,) = drawn(f"CV | Meaning | NE 1 | NE 2\n{line}\n2 | start | 4 | 5\n3 | up | 6 | 6").tables

    number = next((n for n, one in enumerate(table.headings) if one.text == "Owner"), None)
    assert [one.cells[number].cell.text for one in table.records if number is not None] == owners


@pytest.mark.parametrize(
    ("line", "notes"),
    [
        pytest.param("CV3=5, CV4=7", ["CV3=5, CV4=7"], id="CVs in a line of their own are notes"),
        pytest.param("as we agreed", [], id="other words are not"),
    ],
)
def test_a_line_of_cvs_without_a_label_in_a_form(line: str, notes: list[str]) -> None:
    (table,) = drawn(f"Road: | JV\nNumber: | 12\nAddress: | 12\nOwner: | M01\n{line}").tables

    number = next((n for n, one in enumerate(table.headings) if one.text == "Notes"), None)
    assert [one.cells[number].cell.text for one in table.records if number is not None] == notes
