"""Records that are one engine: a CV in each row, and one engine in two tables."""

from dataclasses import replace

from tests.lists.settle.lists import adopted, reading

LONG = {"Engine": "loco", "CV": "cv", "Value": "value"}


def test_rows_with_a_cv_each_are_one_engine_by_its_label() -> None:
    found = adopted(reading(LONG, ("A", 29, 2), ("B", 2, 9), ("A", 1, 12), ("A", 49, 1)))

    assert [one.values["loco"] for one in found.engines] == ["A", "B"]
    assert found.engines[0].values["address"] == 12
    assert found.engines[0].came_from == "List!2, List!4, List!5"
    assert [dict(row.values) for row in found.rows["Extra values"]] == [{"loco": "A", "cv": 49, "value": 1}]
    assert found.doubts == ()


def test_a_row_without_a_label_goes_on_with_the_engine_above() -> None:
    found = adopted(reading(LONG, ("A", 29, 2), ("", 1, 12), ("B", 2, 9), ("", 3, 4)))

    assert [(one.values["loco"], one.values.get("address")) for one in found.engines] == [
        ("A", 12),
        ("B", None),
    ]
    assert found.engines[1].values["acceleration"] == 4


def test_one_engine_in_two_tables_is_one() -> None:
    found = adopted(
        reading(
            {"Road": "railway", "No": "number", "Adr": "address"}, ("NE", "5201", "5201"), ("NE", "7", "7")
        ),
        reading({"Engine": "engine", "CV29": "cv:29"}, ("NE 5201", 34), ("NE 9", 2), sheet="CVs"),
    )

    assert [one.values["loco"] for one in found.engines] == ["NE 5201", "NE 7", "NE 9"]
    assert found.engines[0].values["address_kind"] == "long"
    assert found.engines[0].came_from == "List!2, CVs!2"


def test_engines_of_two_tables_that_differ_stay_two() -> None:
    found = adopted(
        reading({"Engine": "loco", "Who": "owner"}, ("NE 1", "M01")),
        reading({"Engine": "loco", "Who": "owner"}, ("NE 1", "M02"), sheet="B"),
    )

    assert [one.values["loco"] for one in found.engines] == ["NE 1", "NE 1 (2)"]
    assert [doubt.place.cell for doubt in found.doubts] == ["A2"]


def test_a_bare_number_in_two_tables_may_be_two_engines() -> None:
    found = adopted(
        reading({"No": "number", "Adr": "address"}, ("12", "12")),
        reading({"No": "number", "CV3": "cv:3"}, ("12", 9), sheet="B"),
    )

    assert [one.values["loco"] for one in found.engines] == ["12", "12 (2)"]


def test_a_log_of_work_is_joined_with_the_engines_that_it_names() -> None:
    found = adopted(
        reading({"Engine": "loco", "Adr": "address"}, ("NE 1", "11"), ("NE 2", "12")),
        reading(
            {"Date": "own", "Engine": "loco", "Work": "notes"},
            ("2022-01-08", "NE 1", "wheels"),
            ("2022-02-19", "NE 1", "CV3=6"),
            sheet="Log",
        ),
    )

    assert [one.values["loco"] for one in found.engines] == ["NE 1", "NE 2"]
    assert found.engines[0].values["notes"] == "wheels; CV3=6"
    assert found.engines[0].values["acceleration"] == 6
    assert found.engines[0].own == {"Date": "2022-01-08 / 2022-02-19"}
    assert found.doubts == ()


def test_lines_beside_one_merged_label_are_one_engine() -> None:
    made = reading({"Lok": "number", "Notes": "notes"}, ("98", "slow"), ("98", "oiled"), ("99", "new"))
    first, second, third = made.table.records
    joined = replace(second, cells={**second.cells, 0: first.cells[0]})
    found = adopted(replace(made, table=replace(made.table, records=(first, joined, third))))

    assert [(one.values["loco"], one.values["notes"]) for one in found.engines] == [
        ("98", "slow; oiled"),
        ("99", "new"),
    ]
    assert found.engines[0].came_from == "List!2"


def test_a_label_that_an_earlier_table_has_twice_is_not_joined() -> None:
    found = adopted(
        reading({"Engine": "loco", "Adr": "address"}, ("NE 1", "11"), ("NE 1", "12")),
        reading({"Engine": "loco", "CV3": "cv:3"}, ("NE 1", 9), sheet="B"),
    )

    assert [one.values["loco"] for one in found.engines] == ["NE 1", "NE 1 (2)", "NE 1 (3)"]


ROSTER = {"Road": "railway", "No": "number", "Adr": "address"}


def test_a_short_form_of_the_railway_is_the_same_engine() -> None:
    found = adopted(
        reading(ROSTER, ("Northern Extension", "5201", "5201"), ("Juniper Valley", "5201", "521")),
        reading({"Engine": "engine", "CV29": "cv:29"}, ("NE 5201", 34), ("SM 5201", 34), sheet="CVs"),
    )

    assert [one.values["loco"] for one in found.engines] == ["NE 5201", "Juniper Valley 5201", "SM 5201"]
    assert found.engines[0].values["railway"] == "Northern Extension"
    assert found.engines[0].values["address_kind"] == "long"


def test_cvs_beside_a_number_alone_are_of_the_one_engine_that_has_it() -> None:
    found = adopted(
        reading(ROSTER, ("Northern Extension", "5201", "5201"), ("NE", "12", "12"), ("JV", "12", "121")),
        reading({"No": "number", "CV3": "cv:3"}, ("5201", 9), ("12", 9), sheet="CVs"),
    )

    assert [one.values["loco"] for one in found.engines] == [
        "Northern Extension 5201",
        "NE 12",
        "JV 12",
        "12",
    ]
    assert found.engines[0].values["acceleration"] == 9


def test_a_doubt_about_two_sheets_names_the_other_one() -> None:
    found = adopted(
        reading({"Engine": "loco", "Notes": "notes"}, ("NE 1", "CV3=4")),
        reading({"Engine": "loco", "CV3": "cv:3"}, ("NE 1", 9), sheet="CVs"),
    )

    assert found.engines[0].values["acceleration"] == 9
    assert [(str(doubt.place), doubt.message) for doubt in found.doubts] == [
        ("List!B2", "CV3 is 9 in CVs!B2 and 4 here")
    ]


def test_an_engine_of_three_tables_is_found_again_by_its_longer_railway() -> None:
    found = adopted(
        reading({"Rd": "railway", "No": "number"}, ("NL", "7")),
        reading(
            {"Rd": "railway", "No": "number", "Adr": "address"}, ("Northmoor Light", "7", "107"), sheet="B"
        ),
        reading(
            {"Rd": "railway", "No": "number", "Owner": "owner"}, ("Northmoor Light", "7", "M03"), sheet="C"
        ),
    )

    assert [(one.values["railway"], one.values["address"], one.values["owner"]) for one in found.engines] == [
        ("Northmoor Light", 107, "M03")
    ]


def test_of_two_engines_with_one_number_and_fitting_railways_none_is_meant() -> None:
    found = adopted(
        reading({"Rd": "railway", "No": "number"}, ("Northmoor Light", "7"), ("New Line", "7")),
        reading({"Rd": "railway", "No": "number", "Adr": "address"}, ("NL", "7", "107"), sheet="B"),
    )

    assert len(found.engines) == 3


def test_thousands_of_equal_labels_are_told_apart() -> None:
    count = 3000
    found = adopted(reading({"Loco": "loco", "Adr": "address"}, *[("UHK", str(n)) for n in range(1, count)]))

    assert len({one.values["loco"] for one in found.engines}) == count - 1
