"""Formulas of ours are known wherever columns stand, and rows that hold nothing else are free."""

from collections import Counter
from dataclasses import replace

import pytest

from rosterkit.live.stored import State
from rosterkit.roster.model import Roster
from rosterkit.writeback.places import first_free_row
from rosterkit.writeback.stored_formulas import NONE, stored_formulas
from rosterkit.xlsx.grid import Workbook
from tests.live.carrying import Change, carrying
from tests.rosters import enrolled, roster, workbook

_ENGINES = [{"Loco": "A", "Address": 12}, {"Loco": "B", "Address": 500}]
_CONSISTS = [{"Consist": "X", "Address": 85, "Position": 1, "Loco": "A"}]


def _made(changes: dict[str, Change] | None = None) -> Roster:
    return enrolled(carrying(workbook(_ENGINES, consists=_CONSISTS), changes))


def _states(source: Workbook) -> Counter[State | None]:
    states = stored_formulas(enrolled(source), "Locomotives").states
    return Counter(state for column in states.values() for state in column)


@pytest.mark.parametrize(
    "engines",
    [
        pytest.param([{"Address": 12, "Loco": "A"}], id="in another order"),
        pytest.param([{"CV29": "", "Loco": "A", "Alert": "", "Address": 12}], id="computed columns first"),
        pytest.param([{"Engine": "A", "DCC address": 12}], id="under other headings"),
        pytest.param(
            [{"Loco": "A", "Address": 12, "Lock": 3, "Direction": "normal", "Mine": 7}],
            id="with more columns",
        ),
    ],
)
def test_formulas_are_ours_wherever_the_columns_stand(engines: list[dict[str, object]]) -> None:
    assert _states(carrying(workbook(engines))) == {State.OURS: 8}


def test_formulas_are_not_ours_once_the_row_has_a_setting_that_they_do_not_read() -> None:
    made = carrying(workbook([{"Loco": "A", "Address": 12, "Extra": "reversed"}]))
    engines = made.grids["Locomotives"]
    rows = [["Direction" if cell == "Extra" else cell for cell in row] for row in engines.rows]

    found = stored_formulas(
        enrolled(replace(made, grids={"Locomotives": replace(engines, rows=rows)})), "Locomotives"
    )

    assert {name: states for name, states in found.states.items() if states != [State.OURS]} == {
        "cv29": [State.CHANGED],
        "alert": [State.CHANGED],
    }


def test_a_workbook_of_values_carries_none() -> None:
    assert stored_formulas(roster(_ENGINES), "Locomotives") is NONE


def test_a_sheet_that_is_missing_carries_none() -> None:
    assert stored_formulas(_made(), "Accessories") is NONE


def test_each_sheet_is_looked_at_by_itself() -> None:
    made = enrolled(
        carrying(
            workbook(_ENGINES, consists=_CONSISTS),
            {f"Consists!{heading} {row}": "" for heading in ("CV19", "CV20") for row in (2, 3, 4)},
        )
    )

    assert stored_formulas(made, "Locomotives").carried
    assert not stored_formulas(made, "Consists").carried


def test_rows_that_wait_for_an_engine_are_no_engines_and_nothing_is_left_over_in_them() -> None:
    made = _made()
    table = made.book.tables["Locomotives"]

    assert (len(made.engines), table.rows, table.orphaned_rows, table.other_rows) == (2, [2, 3], [], [])
    assert set(stored_formulas(made, "Locomotives").spare) == {4, 5}


@pytest.mark.parametrize("title", ["Locomotives", "Consists"])
def test_new_rows_go_into_rows_that_wait_for_them(title: str) -> None:
    table = _made().book.tables[title]

    assert first_free_row(table, 2) == table.rows[-1] + 1
