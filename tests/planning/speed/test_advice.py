"""Doubts about measured points, and what to measure next."""

import pytest

from rosterkit.planning.speed.advice import remarks_on, short_runs
from rosterkit.planning.speed.engines import measured
from rosterkit.planning.speed.measurements import points_of
from rosterkit.planning.speed.remarks import Doubt
from rosterkit.planning.speed.timed_run import TimedRun, Way

GOOD = {12: 0.0, 15: 2.0, 30: 12.0, 60: 31.0, 110: 60.0, 170: 85.0, 220: 95.0, 255: 105.0}


def timed_runs(points: dict[int, float], way: Way = Way.FORWARD, timing: float = 0.01) -> list[TimedRun]:
    return [
        TimedRun(way=way, drive=drive, kmh=kmh, timing=timing, row=drive)
        for drive, kmh in points.items()
        for _ in range(2)
    ]


@pytest.mark.parametrize(
    ("points", "doubt", "message", "fix"),
    [
        pytest.param(
            {40: 10.0, 90: 30.0},
            Doubt.TOO_FEW,
            "forward, it was timed running at drive level 40 and 90 only: too few for a curve",
            "Time three runs forward at each of five drive levels from the start to 255, "
            "such as 30, 60, 120, 180 and 255.",
            id="two drives",
        ),
        pytest.param(
            {9: 0.0},
            Doubt.TOO_FEW,
            "forward, it was timed running at no drive level: too few for a curve",
            "Time three runs forward at each of five drive levels from the start to 255, "
            "such as 30, 60, 120, 180 and 255.",
            id="never running",
        ),
        pytest.param(
            {15: 2.0, 60: 31.0, 120: 80.0, 255: 100.0},
            Doubt.TOO_FEW,
            "forward, it was timed at 4 drive levels only",
            "Time three more runs forward between drive level 60 and 120.",
            id="four drives",
        ),
        pytest.param(
            {12: 0.0, 15: 2.0, 30: 12.0, 60: 31.0, 130: 65.0, 180: 85.0, 220: 95.0, 255: 105.0},
            Doubt.GAP,
            "forward, nothing was timed between drive level 60 and 130, "
            "where the speed rises by 32 % of the fastest",
            "Time three more runs forward between drive level 60 and 130.",
            id="a wide gap",
        ),
        pytest.param(
            {12: 0.0, 15: 2.0, 30: 12.0, 60: 31.0, 100: 75.0, 160: 85.0, 220: 95.0, 255: 105.0},
            Doubt.GAP,
            "forward, nothing was timed between drive level 60 and 100, "
            "where the speed rises by 42 % of the fastest",
            "Time three more runs forward between drive level 60 and 100.",
            id="a steep gap",
        ),
        pytest.param(
            GOOD | {170: 52.0},
            Doubt.FALLS,
            "forward, it is 13 % slower at drive level 170 than at 110; the curve is held level there",
            "Time three runs forward at each of drive level 110 and 170 again.",
            id="a fall",
        ),
        pytest.param(
            GOOD | {220: 104.5},
            Doubt.DEAD_RANGE,
            "forward, the speed hardly changes between drive level 220 and 255",
            "Time three more runs forward between drive level 220 and 255.",
            id="a dead range",
        ),
        pytest.param(
            {k: v for k, v in GOOD.items() if k != 15},
            Doubt.START_UNKNOWN,
            "forward, it starts somewhere below drive level 30, where it already runs 11 % of its fastest; "
            "it stands at 12",
            "Time three runs forward between drive level 12 and 30, and write 0 as the distance where it "
            "stands still.",
            id="a start between 12 and 30",
        ),
        pytest.param(
            {k: v for k, v in GOOD.items() if k > 15},
            Doubt.START_UNKNOWN,
            "forward, it starts somewhere below drive level 30, where it already runs 11 % of its fastest; "
            "it was timed at no lower drive level",
            "Time three runs forward between drive level 0 and 30, and write 0 as the distance where it "
            "stands still.",
            id="a start anywhere below 30",
        ),
    ],
)
def test_a_doubt_comes_with_what_to_measure_next(
    points: dict[int, float], doubt: Doubt, message: str, fix: str
) -> None:
    remarks = list(remarks_on(points_of(timed_runs(points), Way.FORWARD)))

    assert (doubt, message, fix) in [(r.doubt, r.message, r.fix) for r in remarks]


def test_good_points_raise_no_doubt() -> None:
    assert list(remarks_on(points_of(timed_runs(GOOD), Way.FORWARD))) == []


def test_a_fall_within_the_error_is_no_fall() -> None:
    points = points_of(timed_runs(GOOD | {170: 59.5}, timing=0.04), Way.FORWARD)

    assert Doubt.FALLS not in [remark.doubt for remark in remarks_on(points)]


def test_short_passes_are_told_how_long_they_should_be() -> None:
    remark = short_runs(timed_runs({100: 90.0, 200: 120.0}, timing=0.0667))

    assert remark is not None
    assert remark.message == (
        "4 runs are short: the shortest took 3.0 s, and timing by hand leaves 7 % of its speed open"
    )
    assert remark.fix == "Run 10 s or more for 2 %, 20 s for 1 %: a longer distance or several laps."


def test_long_passes_are_long_enough() -> None:
    assert short_runs(timed_runs({100: 90.0}, timing=0.02)) is None


def test_an_engine_timed_one_way_gets_no_trims_and_is_told_so() -> None:
    found = measured(timed_runs(GOOD, Way.REVERSE))

    assert [curve.way for curve in found.curves] == [Way.REVERSE]
    assert [remark.doubt for remark in found.remarks] == [Doubt.ONE_WAY]
    assert found.remarks[0].message == (
        "it was timed in reverse only, so nothing is known of how it runs forward, and it gets no trims"
    )


def test_both_ways_give_a_curve_each_forward_first() -> None:
    found = measured([*timed_runs(GOOD, Way.REVERSE), *timed_runs(GOOD, Way.FORWARD)])

    assert [curve.way for curve in found.curves] == [Way.FORWARD, Way.REVERSE]
    assert found.remarks == ()
