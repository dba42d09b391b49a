"""Tables of consists whose headings are not quite ours."""

import pytest

from tests.lists.columns.layouts import read


@pytest.mark.parametrize(
    ("headings", "read_as"),
    [
        pytest.param("Consist|Position|Engine|Facing", "consist position loco facing", id="English"),
        pytest.param("Traktion|Platz|Lok|Richtung", "consist position loco facing", id="German"),
        pytest.param("UM|Rang|Machine|Sens", "consist position loco facing", id="French"),
        pytest.param("Multitractie|Volgorde|Loc|Richting", "consist position loco facing", id="Dutch"),
        pytest.param("Multipel|Plats|Lok|Riktning", "consist position loco facing", id="Swedish"),
        pytest.param("Doppia trazione|Ordine|Locomotiva|Verso", "consist position loco facing", id="Italian"),
        pytest.param("Dvojče|Pořadí|Lokomotiva|Směr", "consist position loco facing", id="Czech"),
        pytest.param("Consist|Colour|Engine|Facing", "consist own loco facing", id="a column of one's own"),
    ],
)
def test_a_table_of_consists_is_read_as_one(headings: str, read_as: str) -> None:
    rows = [["C 40", "1", "NE 1", "forward"], ["C 40", "2", "NE 2", "reverse"]]
    reading = read([headings.split("|"), *rows])

    assert reading.subject == "Consists"
    assert " ".join(one.read_as for one in reading.columns) == read_as


@pytest.mark.parametrize(
    ("headings", "row"),
    [
        pytest.param("Consist|Engine|Addr", "40|NE 1|12", id="engines with their consists"),
        pytest.param("Consist|Position|Engine", "40|top shelf|NE 1", id="a place that is no number"),
        pytest.param("Traktion|Lok|Richtung", "40|NE 1|Northport", id="a direction that is a town"),
    ],
)
def test_any_other_table_is_not(headings: str, row: str) -> None:
    assert (
        read([headings.split("|"), row.split("|"), row.replace("NE 1", "NE 2").split("|")]).subject
        != "Consists"
    )
