"""What a legend says of colours reaches the engines, through blank cells too."""

import pytest

from rosterkit.lists.plain import PlainCell, PlainSheet
from rosterkit.lists.tables import Heading, Located, Origin
from tests.lists.settle.lists import adopted, located, reading

AMBER = "FFBF00"
ROWS = (("UHK 1", "11", ""), ("UHK 2", "12", ""))


def _adopted(heading: str, fill: str, coloured: tuple[int, int], below: str = "") -> list[str]:
    """Return what the colours of two engines mean, with a coloured heading beside their columns."""
    rows = [(*cells[:2], below) for cells in ROWS]
    one = reading({"Loco": "loco", "Adr": "address", heading: "own"}, *rows)
    legend = Located(located(heading, 1, 3).place, PlainCell(heading, heading, fill=fill))
    headings = (*one.table.headings[:2], Heading("List!C", heading, Origin.COLUMN, (legend,)))
    table = type(one.table)("List", headings, one.table.records, 1)
    sheet = PlainSheet("List", {coloured: PlainCell("", "", fill=AMBER)})
    found = adopted(type(one)(table, one.subject, one.columns), sheets=[sheet])
    return [engine.colour for engine in found.engines]


@pytest.mark.parametrize(
    ("heading", "fill", "coloured", "below", "expected"),
    [
        pytest.param("amber = to be oiled", AMBER, (3, 2), "", ["", "to be oiled"], id="a legend"),
        pytest.param("amber = to be oiled", "", (3, 2), "", ["", ""], id="no colour behind it"),
        pytest.param("amber = to be oiled", AMBER, (3, 9), "", ["", ""], id="coloured beside the table"),
        pytest.param("amber = to be oiled", AMBER, (9, 2), "", ["", ""], id="coloured below the table"),
        pytest.param("amber = to be oiled", AMBER, (3, 2), "x", ["", ""], id="a column with cells is none"),
        pytest.param("to be oiled", AMBER, (3, 2), "", ["", ""], id="a coloured heading is no legend"),
    ],
)
def test_a_legend_among_the_headings_holds_for_rows_with_its_colour(
    heading: str, fill: str, coloured: tuple[int, int], below: str, expected: list[str]
) -> None:
    assert _adopted(heading, fill, coloured, below) == expected


def test_a_blank_cell_of_a_colour_that_the_layout_knows_counts() -> None:
    sheet = PlainSheet("List", {(2, 2): PlainCell("", "", fill=AMBER)})
    found = adopted(
        reading({"Loco": "loco", "Adr": "address"}, ("UHK 1", "")),
        colours={("List", AMBER): "sold"},
        sheets=[sheet],
    )

    assert found.engines[0].colour == "sold"
