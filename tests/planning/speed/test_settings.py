"""What a goal sets for momentum where CV23 and CV24 add to it."""

import pytest

from rosterkit.planning.speed.from_roster import speeds_of
from rosterkit.planning.speed.settings import cvs_of, stopping_distance_of
from tests.planning.speed.runs import sheet_rows, timed_runs
from tests.rosters import roster

ADJUSTED = "NMRA S-9.2.2 (Jul 2012), CV23 and CV24: added to CV3 and CV4, taken away where bit 7 is set"


@pytest.mark.parametrize(
    ("cv23", "cv24", "cv3", "cv4"),
    [
        # 9 s are 10.04 units of 0.896 s; 1200 mm from 100 km/h even in HO are 8 units of 143 mm.
        pytest.param(0, 0, 10, 8, id="no adjustment: the goal's own values"),
        pytest.param(4, 3, 6, 5, id="more is added: so much less"),
        pytest.param(133, 130, 15, 10, id="5 and 2 are taken away: so much more"),
        pytest.param(40, 40, 0, 0, id="more is added than is wanted: none"),
    ],
)
def test_a_goal_s_momentum_leaves_out_what_the_adjustments_add(
    cv23: int, cv24: int, cv3: int, cv4: int
) -> None:
    club = roster(
        [{"Loco": "A", "Address": 12}],
        runs=sheet_rows(*timed_runs("A")),
        goals=[{"Loco": "A", "Top speed": 100, "Seconds to top": 9, "Stops within": 1200}],
        extras=[{"Loco": "A", "CV": 23, "Value": cv23}, {"Loco": "A", "CV": 24, "Value": cv24}],
    )
    ((timed, part),) = speeds_of(club).groups[0].parts

    cvs = cvs_of(timed, part, club)

    assert (cvs[3], cvs[4]) == (cv3, cv4), ADJUSTED


def test_a_stopping_distance_is_as_long_as_cv4_and_cv24_make_it() -> None:
    one, other = (
        roster(
            [{"Loco": "A", "Address": 12}],
            runs=sheet_rows(*timed_runs("A")),
            goals=[{"Loco": "A", "Top speed": 100}],
            extras=[{"Loco": "A", "CV": 24, "Value": cv24}],
        )
        for cv24 in (0, 3)
    )
    ((_, part),) = speeds_of(one).groups[0].parts

    assert stopping_distance_of(part, 5, other) == pytest.approx(stopping_distance_of(part, 8, one)), ADJUSTED
