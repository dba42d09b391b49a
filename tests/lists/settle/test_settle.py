"""Whole lists: own columns, colours, notes at cells, units, other sheets, and what is skipped."""

from datetime import date, datetime

import pytest

from rosterkit.lists.plain import Place, PlainCell
from rosterkit.lists.reading import Sure
from rosterkit.lists.tables import Origin
from tests.lists.settle.lists import Content, adopted, engines, one_engine, reading


@pytest.mark.parametrize(
    ("content", "kept"),
    [
        pytest.param("A3", "A3", id="text"),
        pytest.param("2019", "2019", id="a number that is text stays text"),
        pytest.param(12.5, 12.5, id="a number"),
        pytest.param(PlainCell("007", 7), "007", id="a number with zeros by its format"),
        pytest.param(date(2016, 5, 4), "2016-05-04", id="a day"),
        pytest.param(datetime(2016, 5, 4, 20, 15), "2016-05-04 20:15:00", id="a day and a time"),
        pytest.param(True, "TRUE", id="a truth value"),
    ],
)
def test_a_column_of_the_members_own_keeps_its_value(content: Content, kept: object) -> None:
    found = adopted(reading({"Loco": "loco", "Box": "own"}, ("A", content)))

    assert found.engines[0].own == {"Box": kept}
    assert found.doubts == ()


def test_own_columns_have_each_a_name_that_is_none_of_ours() -> None:
    found = adopted(
        reading({"Loco": "loco", "Model": "own", "": "own", "Box ": "own", "box": "own"}, ("A", 1, 2, 3, 4))
    )

    assert found.engines[0].own == {"Model (own)": 1, "Column C": 2, "Box": 3, "box (2)": 4}


def test_a_column_that_is_nothing_is_left_out() -> None:
    found = adopted(reading({"Loco": "loco", "Sum": "nothing"}, ("A", 1)))

    assert found.engines[0].own == {}
    assert found.engines[0].values == {"loco": "A"}


def test_a_colour_means_what_the_legend_says() -> None:
    red = PlainCell("12", "12", fill="FF0000")
    found = adopted(
        reading({"Loco": "loco", "Adr": "address"}, ("A", red), ("B", "13")),
        colours={("List", "FF0000"): "needs work"},
    )

    assert [one.colour for one in found.engines] == ["needs work", ""]


def test_the_notes_at_cells_stand_in_a_column_of_their_own() -> None:
    noted = PlainCell("12", "12", note="CV3=12,\nask M05")
    also = PlainCell("loud", "loud", note="not now")
    found = adopted(reading({"Loco": "loco", "Adr": "address", "Notes": "notes"}, ("A", noted, also)))

    assert found.engines[0].values == {"loco": "A", "address": 12, "notes": "loud", "acceleration": 12}
    assert found.engines[0].own == {"Notes at cells": "B2: CV3=12, ask M05 / C2: not now"}
    assert found.doubts == ()


def test_two_columns_of_notes_stand_in_one() -> None:
    values, _ = one_engine({"Loco": "loco", "Note": "notes", "Remarks": "notes"}, "A", "x", "ask M05")

    assert values["notes"] == "x; ask M05"


def test_two_cells_that_differ_for_one_column_are_a_doubt() -> None:
    values, doubts = one_engine({"Loco": "loco", "Who": "owner", "Owner": "owner"}, "A", "M01", "M02")

    assert values["owner"] == "M01"
    assert doubts == ["C2: 'M02' is here and 'M01' in B2 for Owner"]


def test_an_owner_in_a_title_holds_for_every_record() -> None:
    found = adopted(
        reading(
            {"Loco": "loco", "M09 (guest)": "owner"},
            ("A", "M09 (guest)"),
            origins={"M09 (guest)": Origin.SHEET_TITLE},
        )
    )

    assert found.engines[0].values == {"loco": "A", "owner": "M09 (guest)"}


def test_a_railway_in_a_group_row_makes_no_engine_of_a_blank_record() -> None:
    found = adopted(
        reading(
            {"Adr": "address", "Group": "railway"},
            ("77", "NE"),
            origins={"Group": Origin.GROUP_ROW},
        )
    )

    assert found.engines == ()


def test_a_heading_that_may_be_two_fields_is_one_doubt() -> None:
    found = adopted(
        reading({"Loco": "loco", "Nr": "number"}, ("A", "1"), ("B", "2"), sure={"Nr": Sure.UNSURE})
    )

    assert [(doubt.place.cell, doubt.message) for doubt in found.doubts] == [
        ("B1", "'Nr' is read as Number, which is not sure: by its heading")
    ]


@pytest.mark.parametrize(
    ("heading", "lengths", "unit"),
    [
        pytest.param("LüP (mm)", ("182,5", "190"), "mm", id="the heading says mm"),
        pytest.param("Lgth (in)", ("7 1/4", '8"'), "in", id="the heading says in"),
        pytest.param("Länge", ("182,5 mm", "190"), "mm", id="a cell says mm"),
        pytest.param("Length in cm", ("18,25", "19"), "mm", id="centimetres become millimetres"),
    ],
)
def test_the_unit_of_lengths_goes_into_layout(heading: str, lengths: tuple[str, str], unit: str) -> None:
    found = adopted(reading({"Loco": "loco", heading: "length"}, ("A", lengths[0]), ("B", lengths[1])))

    assert [dict(row.values) for row in found.rows["Layout"]] == [{"length_unit": unit}]
    assert found.doubts == ()


def test_lengths_without_any_unit_are_kept_with_one_doubt() -> None:
    found = adopted(reading({"Loco": "loco", "Length": "length"}, ("A", 7.1), ("B", 8.0)))

    assert "Layout" not in found.rows
    assert [one.values["length"] for one in found.engines] == [7.1, 8]
    assert [(doubt.place.cell, doubt.message) for doubt in found.doubts] == [
        ("B1", "nothing says in which unit 'Length' is")
    ]


def test_decoders_that_engines_name_get_a_row_each() -> None:
    found = adopted(
        reading({"Loco": "loco", "Dec": "decoder"}, ("A", "tiny"), ("B", "Tiny"), ("C", "big")),
        reading({"Decoder": "decoder", "Long": "long_address"}, ("big", "ja"), subject="Decoder types"),
    )

    assert [dict(row.values) for row in found.rows["Decoder types"]] == [
        {"decoder": "big", "long_address": "yes"},
        {"decoder": "tiny"},
    ]


def test_settings_of_a_sheet_layout_make_one_row() -> None:
    found = adopted(
        reading({"Loco": "loco", "Length": "length"}, ("A", "7 1/4")),
        reading(
            {"Setting": "own", "Value": "own", "Unit": "own"},
            ("Scale", "N", ""),
            ("Length unit", "inch", ""),
            ("Event", "", ""),
            subject="Layout",
            sheet="Layout",
        ),
    )

    (row,) = found.rows["Layout"]
    assert row.values == {"scale": "N", "length_unit": "in"}
    assert found.engines[0].values["length"] == 7.25
    assert found.doubts == ()


def test_rows_of_our_other_sheets_keep_their_order_and_own_columns() -> None:
    found = adopted(
        reading(
            {"Loco": "loco", "CV": "cv", "Value": "value", "Why": "own"},
            ("A", 49, 1.0, "light"),
            ("A", "", "", ""),
            ("B", 50, "300", ""),
            subject="Extra values",
        )
    )

    rows = found.rows["Extra values"]
    assert [dict(row.values) for row in rows] == [
        {"loco": "A", "cv": 49, "value": 1},
        {"loco": "A"},
        {"loco": "B", "cv": 50},
    ]
    assert [row.own for row in rows] == [{"Why": "light"}, {}, {}]
    assert rows[2].as_typed == {"Value": "300"}
    assert [doubt.message for doubt in found.doubts] == ["300 is too large: Value takes 0 to 255"]


def test_a_table_about_nothing_of_ours_is_skipped_with_why() -> None:
    found = adopted(reading({"Day": "own", "Who": "own"}, ("Monday", "M01"), subject=""))

    assert found.rows == {}
    assert [(one.place, one.last, one.why) for one in found.skipped] == [
        (Place("List", 1, 1), Place("List", 2, 2), "none of our sheets is about such a table")
    ]


def test_every_value_says_which_cell_it_was_read_from() -> None:
    found = adopted(reading({"Engine": "engine", "Adr": "address"}, ("NE 5201 GP", "5201 L")))

    (row,) = found.engines
    assert row.came_from == "List!2"
    assert {name: place.cell for name, place in row.places.items()} == {
        "loco": "A2",
        "railway": "A2",
        "number": "A2",
        "model": "A2",
        "address": "B2",
        "address_kind": "B2",
    }


def test_a_note_that_says_the_address_is_the_number_makes_a_proposal() -> None:
    values, doubts = one_engine(
        {"Engine": "engine", "Adr": "address", "Notes": "notes"},
        "HB 1001",
        "4-digit",
        "address = road number",
    )

    assert "address" not in values
    assert values["address_kind"] == "long"
    assert doubts == ["B2: the address is blank, and 'address = road number' would make it 1001"]


def test_a_loss_of_the_file_is_a_doubt_and_its_text_stays() -> None:
    lost = PlainCell("#N/A", "#N/A", loss="the error value #N/A in place of a value")
    found = adopted(reading({"Loco": "loco", "Adr": "address"}, ("A", lost)))

    assert found.engines[0].values == {"loco": "A"}
    assert found.engines[0].as_typed == {"Address": "#N/A"}
    assert [doubt.message for doubt in found.doubts] == ["'#N/A' is the error value #N/A in place of a value"]


def test_a_kind_beside_the_address_that_says_otherwise_is_a_doubt() -> None:
    values, doubts = one_engine({"Loco": "loco", "Adr": "address", "L/S": "address_kind"}, "A", "12 L", "S")

    assert values == {"loco": "A", "address": 12}
    assert doubts == ["B2: '12 L' says long, and Address kind says short"]


OURS = {
    "Loco": "loco",
    "Owner": "owner",
    "Railway": "railway",
    "Number": "number",
    "Model": "model",
    "Decoder": "decoder",
    "Address": "address",
    "Address kind": "address_kind",
    "Direction": "direction",
    "Speed steps": "speed_steps",
}


def test_a_sheet_of_ours_is_read_as_a_roster_reads_it() -> None:
    found = adopted(
        reading(
            OURS,
            ("NE 1", "-", "", PlainCell("007", 7), "", "", 5201.0, "L", "backward", 128),
            ("ne 1", "M02", "", "", "", "", "12", "", "gedreht", ""),
            ("", "", "NE", "5", "", "", "", "", "", ""),
            sheet="Locomotives",
        )
    )

    assert [dict(one.values) for one in found.engines] == [
        {
            "loco": "NE 1",
            "owner": "-",
            "number": "7",
            "address": 5201,
            "address_kind": "long",
            "direction": "reversed",
            "speed_steps": "28/128",
        },
        {"loco": "ne 1", "owner": "M02", "address": 12},
        {"railway": "NE", "number": "5"},
    ]
    assert [doubt.message for doubt in found.doubts] == ["'gedreht' is not one of normal, reversed"]


def test_a_loss_in_a_column_of_the_members_own_is_told_once() -> None:
    lost = PlainCell("2024-01-02", date(2024, 1, 2), loss="a date shown without its year")
    found = adopted(reading({"Loco": "loco", "Pair": "own"}, ("A", lost), ("B", lost)))

    assert [one.own for one in found.engines] == [{"Pair": "2024-01-02"}, {"Pair": "2024-01-02"}]
    assert [doubt.message for doubt in found.doubts] == ["'2024-01-02' is a date shown without its year"]


def test_lengths_of_two_units_without_a_heading_that_says_which_are_all_doubts() -> None:
    found = adopted(
        reading({"Loco": "loco", "Length": "length"}, ("A", '7 1/4"'), ("B", "184 mm"), ("C", "7.25"))
    )

    assert [one.as_typed for one in found.engines] == [
        {"Length": '7 1/4"'},
        {"Length": "184 mm"},
        {"Length": "7.25"},
    ]
    assert [doubt.place.cell for doubt in found.doubts] == ["B2", "B3", "B4"]
    assert "Layout" not in found.rows


def test_cells_as_long_as_a_cell_can_be_are_kept_and_cost_no_time() -> None:
    long = "212" + " " * 32_000 + "x"
    columns = {"Loco": "loco", "Adr": "address", "Dir": "direction", "LüP": "length", "CV17/18": "cv:17/18"}
    found = adopted(reading(columns, ("A", long, long, long, long)))

    (row,) = found.engines
    assert row.values == {"loco": "A"}
    assert row.as_typed == dict.fromkeys(("Address", "Direction", "Length"), long)
    assert row.own == {"CV17/18": long}
    assert len(found.doubts) == 5


@pytest.mark.parametrize(
    ("number", "address", "doubts"),
    [
        pytest.param("VL 2219", 2219, 0, id="the number says the same"),
        pytest.param("VL 2220", None, 1, id="the number says another"),
        pytest.param("22 VL 19", None, 1, id="two numbers"),
    ],
)
def test_an_address_parted_by_a_blank_is_one_where_the_number_says_so(
    number: str, address: int | None, doubts: int
) -> None:
    values, found = one_engine({"Nr": "number", "Adr": "address"}, number, "2 219")

    assert values.get("address") == address
    assert len(found) == doubts


def test_titles_that_all_engines_have_are_left_out_and_named() -> None:
    columns = {"Loco": "loco", "": "own"}
    origins = {"": Origin.TABLE_TITLE}
    found = adopted(reading(columns, ("A", "As of May"), ("B", "As of May"), origins=origins))

    assert [one.own for one in found.engines] == [{}, {}]
    assert [(one.text, one.why) for one in found.skipped] == [
        ("As of May", "a title, the same for every engine")
    ]


def test_titles_that_tell_engines_apart_stay_as_title() -> None:
    columns = {"Loco": "loco", "": "own"}
    found = adopted(
        reading(columns, ("A", "Steam"), origins={"": Origin.TABLE_TITLE}),
        reading(columns, ("B", "Diesel"), origins={"": Origin.TABLE_TITLE}, sheet="B"),
    )

    assert [one.own for one in found.engines] == [{"title": "Steam"}, {"title": "Diesel"}]
    assert found.skipped == ()


@pytest.mark.parametrize(
    ("origin", "name"),
    [
        pytest.param(Origin.COLUMN, "Column B", id="a column"),
        pytest.param(Origin.ROW, "Row 1", id="a row"),
        pytest.param(Origin.GROUP_ROW, "group", id="a group row"),
    ],
)
def test_what_has_no_heading_is_named_by_where_it_stands(origin: Origin, name: str) -> None:
    found = adopted(reading({"Loco": "loco", "": "own"}, ("A", "kept"), origins={"": origin}))

    assert found.engines[0].own == {name: "kept"}


@pytest.mark.parametrize(
    ("read_as", "heading", "typed", "expected"),
    [
        pytest.param("at_meet", "Rencontre ?", ("O", "N"), ["yes", "no"], id="O and N"),
        pytest.param("at_meet", "Na spotkanie", ("T", "n"), ["yes", "no"], id="T and N"),
        pytest.param("direction", "Invertida?", ("S", "N"), ["reversed", "normal"], id="S and N"),
        pytest.param("at_meet", "Rencontre ?", ("O", "O"), [None, None], id="O alone"),
        pytest.param("at_meet", "Rencontre ?", ("O", "x"), [None, "yes"], id="O beside a tick"),
    ],
)
def test_letters_of_yes_and_no_are_read_where_both_stand_in_a_column(
    read_as: str, heading: str, typed: tuple[str, str], expected: list[str | None]
) -> None:
    found = engines({"Loco": "loco", heading: read_as}, *((f"E{n}", one) for n, one in enumerate(typed)))

    assert [one.values.get(read_as) for one in found] == expected


@pytest.mark.parametrize(
    ("heading", "unit"),
    [
        pytest.param("LAENGE_MM", "mm", id="behind an underscore"),
        pytest.param("Length-in", "in", id="behind a hyphen"),
        pytest.param("LAENGE_UEP", None, id="no unit"),
    ],
)
def test_a_unit_is_read_in_headings_of_databases(heading: str, unit: str | None) -> None:
    found = adopted(reading({"Loco": "loco", heading: "length"}, ("A", "142,5")))
    layout = found.rows.get("Layout", ())

    assert (layout[0].values["length_unit"] if layout else None) == unit
