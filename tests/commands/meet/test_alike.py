"""What check calls a clash at a meet, meet plans, and nothing else; and what was agreed is kept."""

from collections.abc import Mapping

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from rosterkit.commands.meet.attendance import attendance_of
from rosterkit.planning.addresses import Plan, plan_moves
from rosterkit.roster.model import Roster
from tests.rosters import findings, roster

_CLASHES = ("address-shared", "consist-address-shared")


def planned(*rosters: Roster) -> Plan:
    attendance = attendance_of(rosters)
    return plan_moves(attendance.engines, attendance.consists, attendance.rules_by_layout)


def _engine(loco: str, address: object, **more: object) -> dict[str, object]:
    columns = {"Loco": loco, "Address": address, "At meet": "yes", "Meet address": "", "Owner": "M01"}
    return columns | {name.replace("_", " "): value for name, value in more.items()}


def _row(consist: str, address: object, loco: str) -> dict[str, object]:
    return {"Consist": consist, "Address": address, "Position": 1, "Loco": loco, "Meet address": ""}


@pytest.mark.parametrize(
    ("address", "moved", "severity"),
    [
        pytest.param(12, [], "note", id="at the address of its lead"),
        pytest.param(14, ["B: C"], "error", id="at the address of another engine"),
    ],
)
def test_a_consist_is_judged_by_meet_as_by_check(address: int, moved: list[str], severity: str) -> None:
    club = roster(
        [_engine("A", 12), _engine("B", 2102), _engine("C", 14, Owner="B")],
        consists=[_row("Coal", address, "A"), _row("Coal", address, "B") | {"Position": 2}],
    )

    found = [one.severity for one in findings(club, meet=True) if one.rule == "consist-address-shared"]

    assert found == [severity]
    assert [move.party.name for move in planned(club).moves] == moved


_NUMBERS = st.sampled_from([5, 12, 14, 2101, 2102])


@st.composite
def _clubs(draw: st.DrawFn, name: str) -> Roster:
    labels = [f"{name}{n}" for n in range(draw(st.integers(1, 4)))]
    engines = [
        _engine(label, draw(_NUMBERS), Meet_address=draw(st.sampled_from(["", "", 12, 2101])))
        for label in labels
    ]
    consists = [
        _row(draw(st.sampled_from(["X", "Y"])), 0, label)
        for label in labels[: draw(st.integers(0, len(labels)))]
    ]
    numbers: Mapping[str, int] = {"X": draw(_NUMBERS), "Y": draw(_NUMBERS)}
    rows = [row | {"Address": numbers[str(row["Consist"])]} for row in consists]
    return roster(engines, consists=rows, name=f"{name}.xlsx")


@settings(max_examples=150, deadline=None)
@given(one=_clubs("A"), other=_clubs("B"))
def test_meet_plans_for_clashes_where_check_finds_an_error_and_nowhere_else(
    one: Roster, other: Roster
) -> None:
    errors = [f for f in findings(one, other, meet=True) if f.rule in _CLASHES and f.severity == "error"]

    plan = planned(one, other)

    assert bool(plan.clashes) == bool(errors)
    assert bool(plan.moves) == bool(errors)


def test_a_newcomer_moves_and_not_who_was_readdressed() -> None:
    agreed = roster([_engine("A", 12, Meet_address=2107)], name="a.xlsx")
    newcomer = roster(
        [_engine("B", 2107, Number="2107", Registered="2026-01-01", Owner="M02")], name="b.xlsx"
    )

    assert [move.party.name for move in planned(newcomer, agreed).moves] == ["M02: B"]


def test_a_consist_keeps_its_meet_address_before_an_engine_that_comes_later() -> None:
    engines = [_engine("A", 2101), _engine("B", 86, Owner="M02")]
    club = roster(engines, consists=[_row("Coal", 84, "A") | {"Meet address": 86}])

    assert [move.party.name for move in planned(club).moves] == ["M02: B"]
