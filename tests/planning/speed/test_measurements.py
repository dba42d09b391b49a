"""Runs made into points: spread, outliers, and drives at which an engine stands still."""

from itertools import count

import pytest

from rosterkit.planning.speed.measurements import Points, points_of
from rosterkit.planning.speed.remarks import Doubt
from rosterkit.planning.speed.timed_run import TimedRun, Way, timed_run
from rosterkit.standards.scales import NEM_010_RATIOS


def points(*drives: tuple[int, list[float]]) -> Points:
    rows = count(2)
    timed_runs = [
        TimedRun(way=Way.FORWARD, drive=drive, kmh=kmh, timing=0.01, row=next(rows))
        for drive, speeds in drives
        for kmh in speeds
    ]
    return points_of(timed_runs, Way.FORWARD)


@pytest.mark.parametrize(
    ("scale", "kmh"),
    [
        pytest.param("H0", 31.32, id="1 m in 10 s is 31.32 km/h in H0"),
        pytest.param("N", 57.6, id="57.6 km/h in N"),
        pytest.param("Z", 79.2, id="79.2 km/h in Z"),
        pytest.param("0", 16.2, id="16.2 km/h in 0"),
    ],
)
def test_a_pass_has_its_scale_speed(scale: str, kmh: float) -> None:
    one = timed_run(Way.FORWARD, 90, metres=1.0, seconds=10, ratio=NEM_010_RATIOS[scale])

    assert one.kmh == pytest.approx(kmh), "NEM 010 (2011), ratios; arithmetic"
    assert one.timing == pytest.approx(0.02)


def test_no_distance_means_that_the_engine_stood_still() -> None:
    one = timed_run(Way.FORWARD, 9, metres=0, seconds=None, ratio=87)

    assert one.kmh == 0


@pytest.mark.parametrize(
    ("drive", "metres", "seconds", "message"),
    [
        pytest.param(256, 1.0, 5.0, "^drive 256 is outside 0 to 255$", id="drive 256"),
        pytest.param(9, 1.0, None, "^a run over a distance needs its seconds$", id="no time"),
        pytest.param(9, -1.0, 5.0, "^metres -1.0 must be 0 or more", id="less than no distance"),
    ],
)
def test_a_pass_that_cannot_be_is_refused(
    drive: int, metres: float, seconds: float | None, message: str
) -> None:
    with pytest.raises(ValueError, match=message):
        timed_run(Way.FORWARD, drive, metres=metres, seconds=seconds, ratio=87)


def test_a_point_is_the_mean_of_its_passes() -> None:
    found = points((40, [20.0, 21.0, 22.0]), (80, [50.0, 51.0, 52.0]))

    assert [(point.drive, point.kmh) for point in found.moving] == [(40, 21.0), (80, 51.0)]
    assert found.moving[0].rows == (2, 3, 4)
    assert found.remarks == ()


def test_the_error_comes_from_the_spread_of_all_repeated_passes() -> None:
    found = points((40, [19.0, 20.0, 21.0]), (80, [38.0, 40.0, 42.0]))

    # Each group's standard deviation is 5 % of its mean; the error of a mean of three is that over root 3.
    assert found.spread == pytest.approx(0.05)
    assert [point.error for point in found.moving] == pytest.approx([20 * 0.05 / 3**0.5, 40 * 0.05 / 3**0.5])


def test_passes_that_agree_better_than_a_stopwatch_keep_the_stopwatch_s_error() -> None:
    found = points((40, [20.0, 20.0, 20.0]))

    assert found.spread == 0
    assert found.moving[0].error == pytest.approx(20 * 0.005 / 3**0.5)


def test_an_outlier_does_not_count_and_is_named_with_its_reason() -> None:
    found = points((40, [20.0, 20.3, 26.0]), (80, [50.0, 50.6, 50.2]))

    assert found.moving[0].kmh == pytest.approx(20.15)
    (remark,) = found.remarks
    assert (remark.doubt, remark.rows) == (Doubt.OUTLIER, (4,))
    assert remark.message == (
        "forward, a run at drive level 40 is 29 % faster than the other 2, and does not count"
    )
    assert remark.fix == "Check its distance and time, or time it again forward at drive level 40."


def test_an_outlier_in_the_wrong_unit_is_called_that() -> None:
    found = points((40, [20.0, 20.1, 32.3]), (80, [50.0, 50.6, 50.2]))

    assert found.remarks[0].message.endswith("does not count: perhaps km/h taken for mph")


def test_passes_that_scatter_everywhere_are_not_outliers() -> None:
    found = points((40, [20.0, 21.0, 19.0]), (80, [50.0, 47.0, 52.5]), (120, [80.0, 84.0, 77.0]))

    assert found.remarks == ()


def test_of_two_passes_that_disagree_neither_is_left_out() -> None:
    found = points((40, [20.0, 30.0]), (80, [50.0, 50.6]), (120, [70.0, 70.3]))

    assert found.moving[0].kmh == 25
    assert [(r.doubt, r.rows) for r in found.remarks] == [(Doubt.DISAGREE, (2, 3))]
    assert found.remarks[0].fix == "Time a third run forward at drive level 40."


def test_passes_of_which_none_was_repeated_have_an_assumed_spread() -> None:
    found = points((40, [20.0]), (80, [50.0]))

    assert found.spread == 0.03
    assert found.remarks[0].message == "forward, no run was repeated; 3 % spread is assumed"
    assert found.remarks[0].fix == "Time two more runs forward at each of 40, 80."


def test_one_drive_that_was_not_repeated_is_named_alone() -> None:
    assert points((100, [20.0])).remarks[0].fix == "Time two more runs forward at drive level 100."


def test_the_highest_drive_of_standing_still_below_the_start_is_known() -> None:
    found = points((5, [0.0]), (12, [0.0, 0.0]), (20, [3.0, 3.0]), (60, [30.0, 30.0]))

    assert found.still == 12
    assert [point.drive for point in found.moving] == [20, 60]


def test_a_drive_at_which_it_ran_only_sometimes_does_not_count_as_running() -> None:
    found = points((12, [0.0, 1.0]), (20, [3.0, 3.0]))

    assert [point.drive for point in found.moving] == [20]
    assert found.still == 12
    assert found.remarks[0].doubt is Doubt.STALLS
    assert found.remarks[0].message == (
        "forward, it stood still in 1 of 2 runs at drive level 12, which does not count as running"
    )


def test_an_engine_that_stops_in_the_middle_of_its_range_is_remarked_upon() -> None:
    found = points((20, [3.0, 3.0]), (60, [0.0]), (90, [40.0, 40.0]))

    assert [(r.doubt, r.rows) for r in found.remarks] == [(Doubt.STALLS, (4,))]


def test_passes_the_other_way_are_left_alone() -> None:
    timed_runs = [TimedRun(way=Way.REVERSE, drive=40, kmh=20.0, timing=0.01)]

    assert points_of(timed_runs, Way.FORWARD).moving == ()
