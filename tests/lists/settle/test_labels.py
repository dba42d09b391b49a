"""Labels of engines: taken apart where plain, made where none is typed, each only once."""

from datetime import date

import pytest

from rosterkit.lists.plain import PlainCell
from rosterkit.lists.settle.labels import label_parts, made_unique
from tests.lists.settle.lists import adopted, engines, one_engine, reading


@pytest.mark.parametrize(
    ("label", "parts"),
    [
        pytest.param("NE 5201 GP / sound", ("NE 5201", "NE", "5201", "GP / sound"), id="all four"),
        pytest.param("NE 5201", ("NE 5201", "NE", "5201", None), id="no model"),
        pytest.param("JV 45 2-8-0", ("JV 45", "JV", "45", "2-8-0"), id="a wheel arrangement is no number"),
        pytest.param("SM 45 (2-8-2)", ("SM 45", "SM", "45", "2-8-2"), id="a model in brackets"),
        pytest.param("SM 1-2", ("SM 1-2", "SM", "1-2", None), id="a twin unit"),
        pytest.param("NE 007", ("NE 007", "NE", "007", None), id="zeros stay"),
        pytest.param(
            "NE 5280 - Big Snd", ("NE 5280", "NE", "5280", None), id="what follows a dash is no model"
        ),
        pytest.param(
            "Juniper Valley 12 cab", ("Juniper Valley 12", "Juniper Valley", "12", "cab"), id="a known name"
        ),
    ],
)
def test_a_plain_label_is_taken_apart(label: str, parts: tuple[str, str, str, str | None]) -> None:
    found = label_parts(label, {"junipervalley"})

    assert found is not None
    assert (found.loco, found.railway, found.number, found.model) == parts


@pytest.mark.parametrize(
    "label",
    [
        pytest.param("work train", id="no number"),
        pytest.param("work train 3", id="small letters are no railway"),
        pytest.param("Big Boy 4014", id="a name is no railway"),
        pytest.param("JV 2-8-0", id="a wheel arrangement alone"),
        pytest.param("VT 31 rot", id="the letters of a class"),
        pytest.param("T 3", id="a single letter is a class"),
        pytest.param("Lok 5", id="a word for engines"),
        pytest.param("5201 NE", id="the number first"),
        pytest.param("NE 5201.5", id="a number with a point"),
    ],
)
def test_any_other_label_stays_whole(label: str) -> None:
    assert label_parts(label, {"junipervalley"}) is None


def test_what_is_typed_beats_what_the_label_says() -> None:
    values, doubts = one_engine(
        {"Engine": "engine", "Road": "railway", "No": "number"}, "NE 5201 GP", "Northern", "5202"
    )

    assert (values["loco"], values["railway"], values["number"]) == ("NE 5201", "Northern", "5202")
    assert doubts == ["A2: the number in 'NE 5201 GP' is not that in Number, '5202'"]


def test_a_railway_of_another_table_is_known_in_labels() -> None:
    found = adopted(
        reading({"Road": "railway", "No": "number"}, ("Juniper Valley", "12")),
        reading({"Engine": "engine"}, ("Juniper Valley 14 cab",), sheet="B"),
    )

    assert found.engines[1].values == {
        "loco": "Juniper Valley 14",
        "railway": "Juniper Valley",
        "number": "14",
        "model": "cab",
    }


def test_a_label_is_made_of_railway_and_number() -> None:
    made = engines(
        {"Road": "railway", "No": "number"}, ("Tannwalder Kreisbahn", "5201"), ("", "11"), ("B" * 38, "12")
    )

    assert [one.values["loco"] for one in made] == ["Tannwalder Kreisbahn 5201", "11", "12"]


def test_an_engine_with_neither_gets_a_label_for_now_and_a_doubt() -> None:
    values, doubts = one_engine({"Type": "model", "Adr": "address"}, "railcar", "31")

    assert values["loco"] == "31"
    assert doubts == ["A2: nothing there is a label or a number; the engine is '31' for now"]


def test_a_label_that_comes_twice_is_made_unique_with_a_doubt() -> None:
    found = adopted(reading({"Loco": "loco", "Adr": "address"}, ("NE 1", "11"), ("ne 1", "12")))

    assert [one.values["loco"] for one in found.engines] == ["NE 1", "ne 1 (2)"]
    assert [doubt.message for doubt in found.doubts] == [
        "'ne 1' is the label of more than one engine; this one is 'ne 1 (2)' for now"
    ]
    assert [doubt.engine for doubt in found.doubts] == ["ne 1 (2)"]


def test_an_address_that_comes_twice_is_no_doubt() -> None:
    found = adopted(reading({"Loco": "loco", "Adr": "address"}, ("NE 1", "11"), ("NE 2", "11")))

    assert found.doubts == ()


def test_a_unique_label_of_the_greatest_length_still_fits() -> None:
    assert made_unique("x" * 40, {"x" * 40}) == "x" * 36 + " (2)"


def test_a_number_that_became_a_date_is_taken_from_the_label_with_a_doubt() -> None:
    lost = PlainCell("2024-01-02", date(2024, 1, 2), loss="a date, where 1-2 may have been typed")
    values, doubts = one_engine({"ID": "loco", "Rd": "railway", "No": "number"}, "SM 1-2", "SM", lost)

    assert values["number"] == "1-2"
    assert doubts == ["C2: '2024-01-02' is a date, where 1-2 may have been typed"]


@pytest.mark.parametrize(
    ("row", "why"),
    [
        pytest.param(("3", "the bench", ""), "'the bench' is no engine", id="the bench"),
        pytest.param(("12", "frei", ""), "'frei' is no engine", id="a free address"),
        pytest.param(
            ("12", "reserved for M09", ""), "'reserved for M09' is no engine", id="reserved for somebody"
        ),
        pytest.param(("12", "", "M05"), "an address that no engine is said to have", id="an address alone"),
        pytest.param(("", "", "M05"), "nothing there names an engine", id="an owner alone"),
    ],
)
def test_a_record_without_an_engine_is_skipped(row: tuple[str, str, str], why: str) -> None:
    found = adopted(reading({"Adr": "address", "User": "engine", "Who": "owner"}, row))

    assert found.engines == ()
    assert [(one.why, one.text) for one in found.skipped] == [(why, " | ".join(text for text in row if text))]


def test_an_engine_without_decoder_is_one() -> None:
    values, doubts = one_engine(
        {"Engine": "engine", "Adr": "address", "Notes": "notes"}, "work train", "none", "no decoder yet"
    )

    assert values == {"loco": "work train", "notes": "no decoder yet"}
    assert doubts == []


def test_an_owner_beside_an_address_is_an_engine_where_no_column_names_engines() -> None:
    values, _ = one_engine({"Adr": "address", "Who": "owner"}, "31", "M05")

    assert values == {"loco": "31", "address": 31, "owner": "M05"}


def test_letters_that_are_no_short_form_of_the_typed_railway_are_not_parted_from_the_number() -> None:
    columns = {"Engine": "engine", "Railway": "railway"}
    of_a_class, _ = one_engine(columns, "BB 201", "Chemins du Lac")
    of_a_railway, _ = one_engine(columns, "NE 5201", "Northern Extension")

    assert of_a_class == {"loco": "BB 201", "railway": "Chemins du Lac"}
    assert of_a_railway == {"loco": "NE 5201", "railway": "Northern Extension", "number": "5201"}


def test_a_model_beside_a_railway_is_an_engine_without_a_number() -> None:
    values, doubts = one_engine(
        {"Type": "model", "Road": "railway", "No": "number", "Adr": "address"},
        "speeder",
        "Otter Creek",
        "",
        "",
    )

    assert values == {"loco": "Otter Creek", "railway": "Otter Creek", "model": "speeder"}
    assert doubts == ["A2: nothing there is a label or a number; the engine is 'Otter Creek' for now"]


@pytest.mark.parametrize(
    ("labels", "parts"),
    [
        pytest.param(
            ("UHK T 8", "UHK E 31", "MOB 207"),
            [("UHK", "T 8"), ("UHK", "E 31"), ("MOB", "207")],
            id="letters of a class behind some",
        ),
        pytest.param(
            ("UHK T 8 blau", "UHK Kö 31", "UHK 5"),
            [("UHK", "T 8"), ("UHK", "Kö 31"), ("UHK", "5")],
            id="two letters, and none",
        ),
        pytest.param(
            ("UHK T 8", "UHK T 9", "UHK T 11"),
            [(None, None)] * 3,
            id="one letter behind all",
        ),
        pytest.param(("UHK T 8", "UHK E 31", "red one"), [(None, None)] * 3, id="one label of another form"),
        pytest.param(("UHK T 8", "UHK 31"), [(None, None), ("UHK", "31")], id="two labels are too few"),
        pytest.param(
            ("UHK No 8", "UHK E 31", "UHK 5"),
            [(None, None), ("UHK", "E 31"), ("UHK", "5")],
            id="No is no class",
        ),
        pytest.param(
            ("Lok T 8", "Lok E 31", "Lok 5"), [(None, None)] * 3, id="a word for engines is no railway"
        ),
    ],
)
def test_labels_of_a_column_are_taken_apart_in_the_same_manner(
    labels: tuple[str, ...], parts: list[tuple[str | None, str | None]]
) -> None:
    found = engines({"Lok": "engine"}, *((label,) for label in labels))

    assert [(one.values.get("railway"), one.values.get("number")) for one in found] == parts


def test_a_class_behind_a_railway_that_the_list_names_belongs_to_the_number() -> None:
    found = adopted(
        reading({"Bahn": "railway", "Nr": "number"}, ("UHK", "12")),
        reading({"Lok": "engine"}, ("UHK T 14",), sheet="B"),
    )

    assert found.engines[1].values == {"loco": "UHK T 14", "railway": "UHK", "number": "T 14"}


_STOCK = {"What": "model", "Road": "railway", "No": "number", "Adr": "address"}
_FOUR = [("shunter", "UHK", number, number) for number in ("11", "12", "13", "14")]


def test_a_row_without_what_all_others_have_is_no_engine_and_a_doubt() -> None:
    found = adopted(reading(_STOCK, *_FOUR, ("three tank cars", "UHK", "", "")))

    assert [one.values["number"] for one in found.engines] == ["11", "12", "13", "14"]
    assert [one.text for one in found.skipped] == ["three tank cars | UHK"]
    assert [(one.place.cell, one.message) for one in found.doubts] == [
        (
            "A6",
            "'three tank cars | UHK' is taken for no engine: it has neither a number nor an address nor a "
            "decoder, which the others have",
        )
    ]


def test_a_row_with_an_address_alone_is_an_engine_beside_others_with_numbers() -> None:
    found = adopted(reading(_STOCK, *_FOUR, ("railcar", "UHK", "", "31")))

    assert found.engines[4].values["loco"] == "UHK 31"
    assert [one.message for one in found.doubts] == [
        "nothing there is a label or a number; the engine is 'UHK 31' for now"
    ]


@pytest.mark.parametrize(
    ("label", "parts"),
    [
        pytest.param("UHK 9", ("UHK", "9"), id="a railway that other labels have"),
        pytest.param("VCR 9", (None, None), id="one that only this label has"),
        pytest.param("UHK 9 red", (None, None), id="more than railway and number"),
    ],
)
def test_a_label_of_its_own_says_railway_and_number_where_the_list_knows_the_railway(
    label: str, parts: tuple[str | None, str | None]
) -> None:
    found = adopted(
        reading({"Engine": "engine"}, ("UHK 4 railcar",)),
        reading({"Loco": "loco", "Adr": "address"}, (label, "9"), sheet="B"),
    )

    assert found.engines[1].values["loco"] == label
    assert (found.engines[1].values.get("railway"), found.engines[1].values.get("number")) == parts
