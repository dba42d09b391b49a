"""Columns that are read otherwise because somebody spoke of another one."""

from dataclasses import replace

import pytest

from rosterkit.commands.adopt.driven_out import driven_out
from rosterkit.lists.reading import ColumnReading, Sure, TableReading
from tests.commands.adopt.fleet import readings

(BEFORE,) = readings()
"""Number, Address, Notes, own, own, CV49."""


def _with(**columns: tuple[str, Sure]) -> TableReading:
    """Return how the fleet is read if columns, by their letters, are read otherwise."""
    changed: dict[int, ColumnReading] = {}
    for letter, (word, sure) in columns.items():
        number = "ABCDEF".index(letter)
        changed[number] = replace(BEFORE.columns[number], read_as=word, sure=sure)
    kept = tuple(changed.get(one.heading, one) for one in BEFORE.columns)
    return replace(BEFORE, columns=kept)


def test_a_column_that_another_one_drives_out_is_a_doubt_with_what_it_held() -> None:
    after = _with(B=("own", Sure.SURE), D=("address", Sure.GIVEN))

    (doubt,) = driven_out((BEFORE,), (after,), {"Locomotives!D": "address"})

    assert str(doubt.place) == "Locomotives!B3"
    assert doubt.message == (
        "'Address' was read as Address, and is read as own column now, since Locomotives!D is said to be it; "
        "what stands in its 3 filled cells is in no column Address"
    )
    assert doubt.fix == "Say what it is, such as --as 'Locomotives!B=own column' if it is that."


@pytest.mark.parametrize(
    ("after", "given"),
    [
        pytest.param(BEFORE, {}, id="nothing changed"),
        pytest.param(
            _with(B=("own", Sure.GIVEN)), {"Locomotives!B": "own"}, id="somebody spoke of the column itself"
        ),
        pytest.param(
            _with(B=("meet_address", Sure.SURE), D=("address", Sure.GIVEN)),
            {"Locomotives!D": "address"},
            id="it is another field of ours now",
        ),
        pytest.param(
            _with(B=("own", Sure.UNSURE), D=("address", Sure.GIVEN)),
            {"Locomotives!D": "address"},
            id="it is unsure, which is a doubt anyway",
        ),
        pytest.param(
            _with(D=("owner", Sure.GIVEN)),
            {"Locomotives!D": "owner"},
            id="a column of nobody's is another's now",
        ),
    ],
)
def test_there_is_no_doubt_if(after: TableReading, given: dict[str, str]) -> None:
    assert list(driven_out((BEFORE,), (after,), given)) == []
