"""Errors that arise only together: told from those that a workbook has alone, wherever their rows stand."""

import pytest

from rosterkit.commands.merge.together import error_marks, errors_only_together
from rosterkit.roster.model import Roster
from tests.rosters import Rows, roster

A = {"Loco": "A", "Owner": "M01", "Address": 4444}
B = {"Loco": "B", "Owner": "M02", "Address": 4444}
C = {"Loco": "C", "Owner": "M02", "Address": 12}
FILLER = {"Loco": "Z", "Owner": "M03", "Address": 13}


def _found(merged: Roster, *others: Roster) -> list[tuple[str, str | None]]:
    known = frozenset[tuple[str, ...]]().union(*map(error_marks, others))
    return [(one.rule, one.loco) for one in errors_only_together(merged, known)]


@pytest.mark.parametrize(
    ("merged", "others", "expected"),
    [
        pytest.param(
            [A, B], [[A], [B]], [("address-shared", "A"), ("address-shared", "B")], id="two took one address"
        ),
        pytest.param([A, B], [[A, B]], [], id="one copy had both"),
        pytest.param([A, B, C], [[C, FILLER, B, A]], [], id="one copy had both in other rows"),
        pytest.param([A, C], [[A], [C]], [], id="no error at all"),
        pytest.param(
            [A, B, {**C, "Address": 4444}],
            [[A, B], [C]],
            [("address-shared", "A"), ("address-shared", "B"), ("address-shared", "C")],
            id="a third joins two that one copy had",
        ),
        pytest.param(
            [{**A, "CV29": 1}],
            [[A]],
            [],
            id="what a computed column is behind in is no error of the members'",
        ),
    ],
)
def test_errors_only_together(merged: Rows, others: list[Rows], expected: list[tuple[str, str]]) -> None:
    assert _found(roster(merged), *(roster(rows) for rows in others)) == expected


@pytest.mark.parametrize(
    ("before", "expected"),
    [
        pytest.param({"AA": "A"}, [], id="an engine that was renamed has the error that it had"),
        pytest.param({}, [("address-shared", "AA"), ("address-shared", "B")], id="another has its own"),
    ],
)
def test_errors_of_renamed_engines(before: dict[str, str], expected: list[tuple[str, str]]) -> None:
    known = error_marks(roster([A, B]))

    found = errors_only_together(roster([{**A, "Loco": "AA"}, B]), known, before)

    assert [(one.rule, one.loco) for one in found] == expected


def test_a_cv_is_no_place() -> None:
    one = roster([A], extras=[{"Loco": "A", "CV": 7, "Value": 3}])
    other = roster([A], extras=[{"Loco": "A", "CV": 8, "Value": 3}])

    assert error_marks(one) != error_marks(other)
