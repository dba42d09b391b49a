"""A list's own table of consists: its engines found in the roster, its places by CV19."""

from collections.abc import Mapping, Sequence

import pytest

from rosterkit.lists.adopted import Adopted
from tests.lists.settle.lists import Content, adopted, reading

ROSTER = reading(
    {"Engine": "engine", "Adr": "address"},
    ("UHK 14 railcar", "14"),
    ("UHK 15", "15"),
    ("MOB 7", "7"),
    ("MOB 7", "8"),
)


def _consists(columns: Mapping[str, str], *rows: Sequence[Content]) -> Adopted:
    return adopted(ROSTER, reading(columns, *rows, subject="Consists", sheet="Pairs"))


def _values(found: Adopted) -> list[dict[str, object]]:
    return [dict(row.values) for row in found.rows.get("Consists", ())]


def _doubts(found: Adopted) -> list[str]:
    return [f"{one.place.cell}: {one.message}" for one in found.doubts if one.place.sheet == "Pairs"]


COLUMNS = {"Pair": "consist", "Engine": "engine", "CV19": "cv:19"}


def test_cv19_gives_the_address_and_the_direction_in_the_consist() -> None:
    found = _consists(COLUMNS, ("hill", "UHK 14", 33), ("hill", "UHK 15", 161))

    assert _values(found) == [
        {"consist": "hill", "loco": "UHK 14", "address": 33, "facing": "forward"},
        {"consist": "hill", "loco": "UHK 15", "address": 33, "facing": "reverse"},
    ]
    assert _doubts(found) == []


@pytest.mark.parametrize(
    ("typed", "loco", "doubts"),
    [
        pytest.param("UHK 14", "UHK 14", [], id="its label in the roster"),
        pytest.param("uhk 14", "UHK 14", [], id="in other letters"),
        pytest.param("UHK 14 railcar", "UHK 14", [], id="as the roster had it typed, which became shorter"),
        pytest.param("15", "UHK 15", [], id="its number alone"),
        pytest.param(
            "MOB 7",
            "MOB 7",
            ["B2: the list has several engines called 'MOB 7'"],
            id="two called so",
        ),
        pytest.param("UHK 99", "UHK 99", ["B2: no engine of the list is called 'UHK 99'"], id="none"),
    ],
)
def test_a_row_means_the_engine_that_the_list_calls_so(typed: str, loco: str, doubts: list[str]) -> None:
    found = _consists(COLUMNS, ("hill", typed, 33))

    assert [one["loco"] for one in _values(found)] == [loco]
    assert _doubts(found) == doubts


def test_what_is_typed_beats_cv19_and_the_difference_is_a_doubt() -> None:
    columns = {"Pair": "consist", "Adr": "address", "Engine": "engine", "Way": "facing", "CV19": "cv:19"}
    found = _consists(columns, ("hill", "34", "UHK 14", "rev", 33))

    assert _values(found) == [{"consist": "hill", "address": 34, "loco": "UHK 14", "facing": "reverse"}]
    assert _doubts(found) == [
        "E2: Address is 34, and CV19 = 33 says 33",
        "E2: Facing is reverse, and CV19 = 33 says forward",
    ]


def test_a_row_without_a_name_takes_that_of_the_rows_with_its_address() -> None:
    found = _consists(COLUMNS, ("hill", "UHK 14", 33), ("", "UHK 15", 161), ("", "MOB 7", 40))

    assert [one["consist"] for one in _values(found)] == ["hill", "hill", "Consist 40"]


@pytest.mark.parametrize(
    ("names", "addresses", "doubts"),
    [
        pytest.param(("33", "33", "41"), [33, 33, 41], 2, id="addresses, a doubt for each consist"),
        pytest.param(("1", "1", "2"), [None, None, None], 0, id="numbers that count"),
        pytest.param(("133", "133", "133"), [None, None, None], 0, id="more than CV19 holds"),
        pytest.param(("hill", "hill", "mail"), [None, None, None], 0, id="names"),
    ],
)
def test_a_number_that_is_a_name_may_be_the_address(
    names: tuple[str, ...], addresses: list[int | None], doubts: int
) -> None:
    found = _consists(
        {"Pair": "consist", "Engine": "engine"}, *zip(names, ("UHK 14", "UHK 15", "14"), strict=True)
    )

    assert [one.get("address") for one in _values(found)] == addresses
    assert len(_doubts(found)) == doubts


@pytest.mark.parametrize("cv19", [pytest.param(0, id="0"), pytest.param(128, id="bit 7 alone")])
def test_cv19_of_no_consist_is_a_doubt(cv19: int) -> None:
    found = _consists(COLUMNS, ("hill", "UHK 14", cv19))

    assert _values(found) == [{"consist": "hill", "loco": "UHK 14"}]
    assert _doubts(found) == [f"C2: CV19 = {cv19} says that the engine is in no consist"]


def test_a_row_without_an_engine_is_a_doubt() -> None:
    found = _consists(COLUMNS, ("hill", "", 33))

    assert _values(found) == [{"consist": "hill", "address": 33, "facing": "forward"}]
    assert _doubts(found) == ["A2: nothing there says which engine is in the consist"]


def test_a_table_with_the_headings_of_ours_beside_a_foreign_roster_means_its_engines_too() -> None:
    columns = {"Consist": "consist", "Address": "address", "Position": "position", "Loco": "loco"}
    roster = reading({"Engine": "engine", "Adr": "address"}, ("UHK 14 railcar", "14"), sheet="Mine")
    found = adopted(
        roster, reading(columns, ("hill", 33, 1, "UHK 14 railcar"), subject="Consists", sheet="Consists")
    )

    assert [one["loco"] for one in _values(found)] == ["UHK 14"]
