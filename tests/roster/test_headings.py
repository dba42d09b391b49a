"""Where the headings of a sheet stand, and which of a member's own look like a misspelt one."""

import pytest

from rosterkit.errors import CannotRunError
from rosterkit.roster.headings import Headings, find_headings, find_settings, heading_text, likenesses
from rosterkit.roster.schema import folded, sheet
from rosterkit.xlsx.grid import Grid
from tests.rosters import grid

ENGINES, LAYOUT = sheet("Locomotives"), sheet("Layout")


def _found(source: Grid) -> Headings:
    found = find_headings(ENGINES, source, "club.xlsx")
    assert found is not None
    return found


def _columns(*headings: object) -> dict[str, int]:
    return dict(_found(grid("Locomotives", headings)).columns)


@pytest.mark.parametrize(
    ("headings", "columns"),
    [
        pytest.param(("Loco", "Address"), {"loco": 1, "address": 2}, id="as in a new workbook"),
        pytest.param(("Address", "Loco"), {"loco": 2, "address": 1}, id="in another order"),
        pytest.param(("LOCO", "aDDress"), {"loco": 1, "address": 2}, id="in another letter case"),
        pytest.param((" Loco ", "Ad dress"), {"loco": 1, "address": 2}, id="with blanks"),
        pytest.param(
            ("Loco:", "Address\nkind"), {"loco": 1, "address_kind": 2}, id="with a colon or over two lines"
        ),
        pytest.param(
            ("Ｌｏｃｏ", "Address\u00a0"), {"loco": 1, "address": 2}, id="in full width, with a fixed blank"
        ),
        pytest.param(("Engine", "DCC address"), {"loco": 1, "address": 2}, id="by aliases"),
        pytest.param(("", "Loco", "", "Address"), {"loco": 2, "address": 4}, id="with empty columns between"),
        pytest.param(
            ("Loco", "Colour", "Address", "Colour"),
            {"loco": 1, "address": 3},
            id="a member's own, even twice",
        ),
        pytest.param(
            ("Member", "Owner", "Loco"), {"owner": 2, "loco": 3}, id="a heading goes before an alias of it"
        ),
        pytest.param(("Loco", "CV2", "CV1"), {"loco": 1, "vstart": 2, "cv1": 3}, id="CVs by number"),
    ],
)
def test_headings_are_found(headings: tuple[str, ...], columns: dict[str, int]) -> None:
    assert _columns(*headings) == columns


def test_the_heading_row_may_stand_below_other_things() -> None:
    found = _found(
        grid("Locomotives", ("Our engines",), (), ("Loco", "shown below"), ("x", "Loco", "Address"))
    )

    assert (found.row, dict(found.columns)) == (4, {"loco": 2, "address": 3})


def test_of_two_rows_with_as_many_headings_the_first_counts() -> None:
    found = _found(grid("Locomotives", ("Loco", "Address"), ("Address", "Loco")))

    assert (found.row, dict(found.columns)) == (1, {"loco": 1, "address": 2})


@pytest.mark.parametrize(
    ("above", "row"),
    [pytest.param(199, 200, id="row 200 is found"), pytest.param(200, None, id="row 201 is not")],
)
def test_headings_are_looked_for_in_the_first_200_rows(above: int, row: int | None) -> None:
    found = find_headings(ENGINES, grid("Locomotives", *[()] * above, ("Loco", "Address")), "club.xlsx")

    assert (found and found.row) == row


@pytest.mark.parametrize(
    "rows",
    [
        pytest.param([], id="an empty sheet"),
        pytest.param([("A", 12), ("B", 13)], id="engines without headings"),
        pytest.param([("Loco",), ("A",)], id="one heading is no heading row"),
    ],
)
def test_no_heading_row_is_found_in(rows: list[tuple[object, ...]]) -> None:
    found = find_headings(ENGINES, grid("Locomotives", *rows), "club.xlsx")

    assert found is None


def test_texts_keep_the_member_s_spelling_and_the_width_counts_foreign_headings() -> None:
    found = _found(grid("Locomotives", ("LOCO", " DCC\naddress ", "Colour", "")))

    assert dict(found.texts) == {"loco": "LOCO", "address": "DCC\naddress"}
    assert found.width == 3


@pytest.mark.parametrize(
    ("headings", "cells"),
    [
        pytest.param(("Loco", "Address", "Loco"), "A2 and C2", id="a heading"),
        pytest.param(("Loco", "Address", "l o c o:"), "A2 and C2", id="a heading in two spellings"),
        pytest.param(("Engine", "Address", "", "engine"), "A2 and D2", id="an alias"),
        pytest.param(("Loco", "Address", "CV1", "CV1"), "C2 and D2", id="a computed column"),
    ],
)
def test_a_heading_that_stands_twice_stops_the_work(headings: tuple[str, ...], cells: str) -> None:
    with pytest.raises(CannotRunError) as caught:
        find_headings(ENGINES, grid("LOCOMOTIVES", (), headings), "club.xlsx")

    assert caught.value.message.startswith("club.xlsx: the sheet 'LOCOMOTIVES' has '")
    assert caught.value.message.endswith(f"more than once ({cells})")
    assert caught.value.fix == "Rename or remove all but one of them."


@pytest.mark.parametrize(
    ("heading", "meant"),
    [
        pytest.param("Adress", "Address", id="a letter missing"),
        pytest.param("Adresss", "Address", id="a letter wrong"),
        pytest.param("Directoin", "Direction", id="letters swapped"),
        pytest.param("Stall curent", "Stall A", id="an alias misspelt"),
        pytest.param("Checked-by", "Checked by", id="a hyphen for a blank"),
    ],
)
def test_a_misspelt_heading_is_named_with_what_it_looks_like(heading: str, meant: str) -> None:
    found = _found(grid("Locomotives", ("Loco", "Model", heading)))

    assert [(one.text, one.meant, one.row, one.column) for one in found.misspelt] == [(heading, meant, 1, 3)]


@pytest.mark.parametrize(
    "heading",
    [
        pytest.param("Colour", id="a heading like none of ours"),
        pytest.param("Addresses", id="like one that is there"),
        pytest.param("CV19", id="another CV"),
        pytest.param("CV8", id="a CV with a digit less than one of ours"),
        pytest.param("2", id="a number"),
    ],
)
def test_a_member_s_own_heading_is_left_alone(heading: str) -> None:
    found = _found(grid("Locomotives", ("Loco", "Address", heading)))

    assert found.misspelt == ()


@pytest.mark.parametrize(
    ("raw", "text"),
    [
        pytest.param(28.0, "28", id="a number is its digits"),
        pytest.param(28, "28", id="a whole number too"),
        pytest.param(2.5, "2.5", id="a decimal too"),
        pytest.param(" Loco ", "Loco", id="blanks go"),
        pytest.param("", "", id="nothing is nothing"),
    ],
)
def test_a_heading_cell_reads(raw: str | int | float, text: str) -> None:
    assert heading_text(raw) == text


def test_settings_are_found_in_any_order_below_their_headings() -> None:
    source = grid(
        "Layout",
        ("Spring meet",),
        ("", "What it is for", "VALUE", "setting "),
        ("", "", "N", "Scale"),
        ("", "", "", ""),
        ("", "", 100, "long from:"),
        ("", "", "red", "Colour"),
    )

    found = find_settings(LAYOUT, source, "club.xlsx")

    assert found is not None
    headings, names, values = found
    assert (headings.row, dict(headings.columns)) == (2, {"scale": 3, "long_from": 5})
    assert (names, values) == (4, 3)


def test_a_misspelt_setting_is_named_at_its_cell() -> None:
    found = find_settings(LAYOUT, grid("Layout", ("", "Setting", "Value"), ("", "Scalle", "N")), "club.xlsx")

    assert found is not None
    assert [(m.text, m.meant, m.row, m.column) for m in found[0].misspelt] == [("Scalle", "Scale", 2, 2)]


def test_a_setting_that_stands_twice_stops_the_work() -> None:
    source = grid("Layout", (), ("", "Setting", "Value"), ("", "Scale", "N"), ("", "scale:", "HO"))

    with pytest.raises(CannotRunError) as caught:
        find_settings(LAYOUT, source, "club.xlsx")

    assert caught.value.message == "club.xlsx: the sheet 'Layout' has 'Scale' more than once (B3 and B4)"


@pytest.mark.parametrize(
    "rows",
    [
        pytest.param([], id="an empty sheet"),
        pytest.param([("Scale", "N")], id="no headings"),
        pytest.param([("Setting", "Unit"), ("Scale", "")], id="no column of values"),
        pytest.param([("Setting", "Value")], id="headings only"),
    ],
)
def test_no_settings_are_found_in(rows: list[tuple[object, ...]]) -> None:
    assert find_settings(LAYOUT, grid("Layout", *rows), "club.xlsx") is None


@pytest.mark.parametrize(
    "setting", [pytest.param(" ", id="a blank"), pytest.param(False, id="a truth value")]
)
def test_a_column_of_settings_without_any_name_is_borne(setting: object) -> None:
    found = find_settings(LAYOUT, grid("Layout", ("Setting", "Value"), (setting, 5)), "club.xlsx")

    assert found is None or dict(found[0].columns) == {}


def test_likenesses_compare_what_is_left_when_case_and_blanks_are_gone() -> None:
    alike = list(likenesses({4: "DE CODER TYPE", 5: "Photos"}, {folded("Decoder types"): "Decoder types"}))

    assert alike == [(4, "Decoder types")]
