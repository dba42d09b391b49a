"""Rows that are plainly typed need no calculation: what is stored is the same with it."""

from collections.abc import Mapping
from unittest.mock import patch

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from rosterkit.live.plain import plain_rows
from rosterkit.writeback import formulas
from rosterkit.xlsx.grid import Workbook
from tests.live.test_alerts import CONSIST, ENGINE, LAYOUT, RANGE
from tests.rosters import enrolled, findings, workbook


@pytest.mark.parametrize(
    ("column", "content", "plain"),
    [
        pytest.param("address", 25.0, True, id="a whole number is plain"),
        pytest.param("address", None, True, id="a blank cell is plain"),
        pytest.param("address", "25", False, id="digits as a text are not"),
        pytest.param("address", 2.5, False, id="a fraction is not"),
        pytest.param("address", 10240.0, False, id="a number beyond the limits is not"),
        pytest.param("address", True, False, id="TRUE is not"),
        pytest.param("direction", "reversed", True, id="a choice is plain"),
        pytest.param("direction", "Reverse", True, id="another spelling that is known is plain"),
        pytest.param("direction", "sideways", False, id="a word that nobody knows is not"),
        pytest.param("speed_steps", 28.0, False, id="a number in place of a choice is not"),
        pytest.param("loco", "NE 5201", True, id="a label of words and digits is plain"),
        pytest.param("loco", "B?", False, id="a sign that stands for others is not"),
        pytest.param("loco", "A:", False, id="a colon at the end is not"),
        pytest.param("loco", "A  B", False, id="two blanks are not"),
        pytest.param("loco", " A", False, id="a blank at the end is not"),
        pytest.param("loco", "\uff21", False, id="a full-width letter is not"),
        pytest.param("loco", "x" * 41, False, id="a label that is too long is not"),
        pytest.param("loco", 7.0, False, id="a number as a label is not"),
        pytest.param("speed_table", "S1", False, id="a speed table is never plain"),
    ],
)
def test_a_row_is_plain_if_its_cells_are(column: str, content: str | float | None, plain: bool) -> None:
    assert plain_rows({1: ["heading", content]}, {column: 1}, [2]) == ({2} if plain else set())


def _stored(source: Workbook, *, calculated: bool) -> tuple[object, ...]:
    """Return what is stored in every row, and which rows have values alone."""
    roster = enrolled(source)
    found = findings(roster)
    with patch.object(formulas, "labels_are_plain", lambda _: not calculated):
        made = formulas.live_formulas(roster, source.grids, found, title="Live")
    return tuple((name, one.results, one.by_value, one.without_alert) for name, one in made.sheets.items())


@settings(max_examples=40, deadline=None)
@given(
    engines=st.lists(ENGINE, min_size=1, max_size=8),
    ranges=st.lists(RANGE, max_size=4),
    consists=st.lists(CONSIST, max_size=4),
    layout=LAYOUT,
)
def test_in_any_club_the_same_is_stored_with_and_without_calculating_plain_rows(
    engines: list[dict[str, object]],
    ranges: list[dict[str, object]],
    consists: list[dict[str, object]],
    layout: Mapping[str, object],
) -> None:
    first = dict.fromkeys(engines[0], "") | {"Loco": "first", "Address": 44}
    source = workbook([first, *engines], ranges=ranges, consists=consists, layout=layout)

    with patch("rosterkit.live.calculated._TRIED", 0):
        assert _stored(source, calculated=False) == _stored(source, calculated=True)
