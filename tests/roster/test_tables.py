"""A workbook's sheets as tables: rows with the cells they came from, whatever the sheet looks like."""

import pytest

from rosterkit.errors import CannotRunError
from rosterkit.findings import Place
from rosterkit.roster.tables import Table, book_of
from rosterkit.xlsx.grid import CellError, Grid, MergedRange, NoStoredValue, ScientificNumber, Workbook
from tests.rosters import grid, workbook_of

_ENGINES = grid("Locomotives", ("Loco", "Address"), ("A", 12))


def _engines(*rows: tuple[object, ...], merged: tuple[MergedRange, ...] = ()) -> Table:
    return book_of(workbook_of(grid("Locomotives", *rows, merged=merged))).tables["Locomotives"]


def _layout(*rows: tuple[object, ...]) -> Table:
    return book_of(workbook_of(_ENGINES, grid("Layout", *rows))).tables["Layout"]


def test_a_value_knows_the_cell_that_it_came_from() -> None:
    table = _engines(("", "Our engines"), (), ("Address", "", "Loco"), ("12", "", "A"), (13, "", "B"))

    assert (table.values["loco"], table.values["address"]) == (["A", "B"], [12, 13])
    assert [table.place("address", 1).cell, table.place("loco", 0).cell] == ["A5", "C4"]
    assert str(table.place("loco", 1)) == "club.xlsx!Locomotives!C5"


def test_a_column_that_is_missing_has_no_values_and_is_placed_at_the_beginning_of_the_row() -> None:
    table = _engines(("Loco", "Address"), ("A", 12))

    assert table.values["owner"] == [None]
    assert table.place("owner", 0).cell == "A2"
    assert table.heading("owner") == "Owner"


def test_blank_rows_anywhere_are_passed_over() -> None:
    table = _engines(
        ("Loco", "Address"),
        (),
        ("", ""),
        ("A", 12),
        (" ", "\t"),
        ("\u00a0",),
        ("B", 13),
        ("", ""),
        *[("", "")] * 2000,
    )

    assert (table.values["loco"], list(table.rows)) == (["A", "B"], [4, 7])


def test_a_row_in_which_only_a_member_s_own_column_is_filled_is_no_engine() -> None:
    table = _engines(
        ("Loco", "Address", "Colour"), ("A", 12, ""), ("", "", "our two green ones:"), ("B", 13, "")
    )

    assert list(table.rows) == [2, 4]


def test_rows_may_be_shorter_than_the_heading_row() -> None:
    table = _engines(("Loco", "Address", "Notes"), ("A",), ("B", 13))

    assert (table.values["address"], table.values["notes"]) == ([None, 13], [None, None])


def test_each_cell_is_read_by_its_own_type() -> None:
    table = _engines(
        ("Loco", "Address", "DC operation"), (1, 1, 1), (True, True, True), ("1", "1", "1"), (1.0, 1.0, 1.0)
    )

    assert list(map(repr, table.values["loco"])) == ["'1'", "'TRUE'", "'1'", "'1'"]
    assert list(map(repr, table.values["address"])) == ["1", "True", "1", "1"]
    assert table.values["dc_operation"] == ["on", "on", "on", "on"]


def test_spoiled_cells_have_no_value_and_say_why() -> None:
    table = _engines(
        ("Loco", "Address", "Number"),
        ("A", CellError("#REF!"), ScientificNumber(400.0)),
        ("B", NoStoredValue("B2+1"), "7"),
    )

    assert (table.values["address"], table.values["number"]) == ([None, None], [None, "7"])
    assert {key: unreadable.rule for key, unreadable in table.unreadable.items()} == {
        ("address", 0): "value-is-error",
        ("address", 1): "formula-without-value",
        ("number", 0): "number-became-float",
    }


def test_computed_values_of_an_engine_that_is_gone_are_leftovers() -> None:
    table = _engines(
        ("Loco", "Address", "CV1", "Mine"),
        ("A", 12, 12, ""),
        ("", "", 13, "x"),
        ("", "", "", "y"),
        ("B", 14, "", ""),
    )

    assert (list(table.rows), list(table.orphaned_rows)) == ([2, 5], [3])


def test_what_stands_beyond_the_last_heading_is_remembered_by_column() -> None:
    table = _engines(("Loco", "Address"), ("A", 12, "", "see photo"), ("B", 13, "", "", 5))

    assert table.beyond == {4, 5}


def test_merged_cells_stay_with_their_table() -> None:
    merged = (MergedRange(2, 2, 3, 2),)

    assert _engines(("Loco", "Address"), ("A", 12), ("B", ""), merged=merged).merged == merged


@pytest.mark.parametrize("title", ["locomotives", "LOCOMOTIVES", " Locomotives ", "Ｌｏｃｏｍｏｔｉｖｅｓ"])
def test_a_sheet_is_found_in_whatever_letter_case_and_keeps_its_title(title: str) -> None:
    book = book_of(workbook_of(grid(title, ("Loco", "Address"), ("A", 12))))

    assert book.tables["Locomotives"].place("loco", 0) == Place("club.xlsx", title, 2, 1)


def test_of_two_sheets_the_one_with_the_exact_title_counts() -> None:
    book = book_of(workbook_of(grid("LOCO MOTIVES", ("Loco", "Address"), ("old", 1)), _ENGINES))

    assert book.tables["Locomotives"].values["loco"] == ["A"]


def test_settings_are_one_row_of_values_each_with_its_cell() -> None:
    table = _layout(
        ("", "Setting", "Value"), ("", "Long addresses from", "１００"), ("", "Scale", "n"), ("", "Event", "")
    )

    assert (table.values["long_from"], table.values["scale"], table.values["event"]) == ([100], ["N"], [None])
    assert [table.place("long_from", 0).cell, table.place("scale", 0).cell] == ["C2", "C3"]


@pytest.mark.parametrize(
    ("unit", "typed", "clearance"),
    [
        pytest.param("mm", "20 mm", 20, id="the unit that the sheet sets"),
        pytest.param("inches", "2 in", 2, id="in another spelling of it"),
        pytest.param("in", "20 mm", "20 mm", id="not the other unit"),
        pytest.param("", "20 millimetres", 20, id="millimetres where none is set"),
        pytest.param("cubits", "20 cubits", "20 cubits", id="no unit that there is not"),
    ],
)
def test_a_length_may_have_the_layout_s_unit_behind_it(unit: str, typed: str, clearance: object) -> None:
    table = _layout(("Setting", "Value"), ("Clearance at each end", typed), ("Length unit", unit))

    assert table.values["clearance"] == [clearance]


def test_a_setting_that_is_missing_is_placed_at_its_sheet() -> None:
    table = _layout(("Setting", "Value"), ("Scale", "N"))

    assert table.place("event", 0) == Place("club.xlsx", "Layout")


def test_further_sheets_may_be_missing() -> None:
    assert list(book_of(workbook_of(_ENGINES)).tables) == ["Locomotives"]


def test_a_further_sheet_without_rows_is_an_empty_table() -> None:
    book = book_of(workbook_of(_ENGINES, grid("Decoder types", ("Decoder", "Steps"))))

    assert book.tables["Decoder types"].values["decoder"] == []


def test_a_further_sheet_without_our_headings_is_named_and_not_read() -> None:
    book = book_of(workbook_of(_ENGINES, grid("layout", ("A drawing",)), grid("Decoder types", ("", ""))))

    assert (list(book.tables), book.without_headings) == (["Locomotives"], ("layout",))


@pytest.mark.parametrize(
    ("titles", "misspelt"),
    [
        pytest.param(("Locomotives", "Photos", "2025"), [], id="a member's own sheets"),
        pytest.param(
            ("Locomotives", "Decoder type"), [("Decoder type", "Decoder types")], id="one of ours misspelt"
        ),
        pytest.param(("Locomotives", "Locomotives old"), [], id="like one that is there"),
    ],
)
def test_titles_that_look_like_one_of_ours_are_named(
    titles: tuple[str, ...], misspelt: list[tuple[str, str]]
) -> None:
    book = book_of(workbook_of(_ENGINES, titles=titles))

    assert [(one.text, one.meant) for one in book.misspelt_titles] == misspelt


def _engines_only(*rows: tuple[object, ...]) -> Workbook:
    return workbook_of(grid("locomotives", *rows))


@pytest.mark.parametrize(
    ("source", "message", "fix"),
    [
        pytest.param(
            workbook_of(titles=("Sheet1", "Photos")),
            "club.xlsx: there is no sheet 'Locomotives'",
            "Make a workbook of it with 'rosterkit adopt club.xlsx', or name the sheet with the engines "
            "'Locomotives'.",
            id="no such sheet",
        ),
        pytest.param(
            workbook_of(titles=("Sheet1", "Locomotive")),
            "club.xlsx: there is no sheet 'Locomotives', only 'Locomotive'",
            "Rename the sheet 'Locomotive' to 'Locomotives'.",
            id="a sheet with nearly that title",
        ),
        pytest.param(
            _engines_only(),
            "club.xlsx: the sheet 'locomotives' has no heading row",
            "Make a workbook of it with 'rosterkit adopt club.xlsx', or give it a row of headings, 'Loco' "
            "and 'Address' at least, above the engines.",
            id="an empty sheet",
        ),
        pytest.param(
            _engines_only(("A", 12), ("B", 13)),
            "club.xlsx: the sheet 'locomotives' has no heading row",
            "Make a workbook of it with 'rosterkit adopt club.xlsx', or give it a row of headings, 'Loco' "
            "and 'Address' at least, above the engines.",
            id="engines without headings",
        ),
        pytest.param(
            _engines_only(("Our roster",), ("Locomotive", "Shelf", "Adress"), ("A", "top", 12)),
            "club.xlsx: the sheet 'locomotives' has no heading row",
            "Spell 'Adress' in C2 as 'Address'.",
            id="one of two headings misspelt",
        ),
        pytest.param(
            _engines_only(("Locco", "Addres"), ("A", 12)),
            "club.xlsx: the sheet 'locomotives' has no heading row",
            "Spell 'Locco' in A1 as 'Loco', and 'Addres' in B1 as 'Address'.",
            id="both headings misspelt",
        ),
        pytest.param(
            _engines_only(("Adress", "Shelf"), (12, "top")),
            "club.xlsx: the sheet 'locomotives' has no heading row",
            "Make a workbook of it with 'rosterkit adopt club.xlsx', or give it a row of headings, 'Loco' "
            "and 'Address' at least, above the engines.",
            id="a heading misspelt, and nothing like the other",
        ),
        pytest.param(
            _engines_only(("Loco", "Address"), ("", " "), ()),
            "club.xlsx: the sheet 'locomotives' has headings but no engines",
            "Enter at least one engine below the headings.",
            id="headings without engines",
        ),
        pytest.param(
            _engines_only(("Loco", "Address", "Loco"), ("A", 12, "B")),
            "club.xlsx: the sheet 'locomotives' has 'Loco' more than once (A1 and C1)",
            "Rename or remove all but one of them.",
            id="a heading that stands twice",
        ),
    ],
)
def test_a_workbook_cannot_be_used_with(source: Workbook, message: str, fix: str) -> None:
    with pytest.raises(CannotRunError) as caught:
        book_of(source)

    assert (caught.value.message, caught.value.fix) == (message, fix)


def test_a_grid_is_not_changed_by_making_a_book_of_it() -> None:
    rows = (("Loco", "Address"), (" A ", "１２"), ())
    source: Grid = grid("Locomotives", *rows)

    book_of(workbook_of(source))

    assert source == grid("Locomotives", *rows)
