"""Rising curves through measured points, against a general-purpose library."""

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st
from scipy.interpolate import PchipInterpolator
from scipy.optimize import isotonic_regression

from rosterkit.planning.speed.curve import Curve, curve_of
from rosterkit.planning.speed.measurements import points_of
from rosterkit.planning.speed.monotone import monotone_line, nearest_rising
from rosterkit.planning.speed.timed_run import TimedRun, Way

SPEEDS = st.lists(st.floats(min_value=0.5, max_value=300), min_size=3, max_size=20)


def curve(points: dict[int, float]) -> Curve:
    timed_runs = [
        TimedRun(way=Way.FORWARD, drive=drive, kmh=kmh, timing=0.01)
        for drive, kmh in points.items()
        for _ in range(3)
    ]
    found = curve_of(points_of(timed_runs, Way.FORWARD))
    assert found is not None
    return found


@given(st.lists(st.floats(min_value=-1e3, max_value=1e3), min_size=1, max_size=30), st.randoms())
def test_nearest_rising_values_are_those_of_scipy(values: list[float], random: object) -> None:
    weights = [1 + (n * 7) % 5 for n in range(len(values))]

    ours = nearest_rising(values, weights)

    assert ours == pytest.approx(isotonic_regression(values, weights=weights).x, abs=1e-9)


@given(st.lists(st.floats(min_value=-1e3, max_value=1e3), max_size=30))
def test_rising_values_stay_as_they_are(values: list[float]) -> None:
    once = nearest_rising(values)

    assert nearest_rising(once) == once
    assert nearest_rising(sorted(values)) == tuple(sorted(values))


@pytest.mark.parametrize(
    "weights", [pytest.param([1.0], id="too few"), pytest.param([1.0, 0.0], id="a weight of nothing")]
)
def test_wrong_weights_are_refused(weights: list[float]) -> None:
    with pytest.raises(ValueError, match="each value needs a weight"):
        nearest_rising([1.0, 2.0], weights)


@given(
    st.lists(st.integers(0, 255), min_size=2, max_size=20, unique=True).map(sorted),
    st.lists(st.floats(min_value=0, max_value=300), min_size=20, max_size=20),
)
def test_the_line_is_that_of_scipy(places: list[int], heights: list[float]) -> None:
    heights = sorted(round(height, 3) for height in heights[: len(places)])
    at = np.linspace(places[0], places[-1], 97)

    ours = monotone_line([float(place) for place in places], heights, at)

    assert ours == pytest.approx(PchipInterpolator(places, heights)(at), abs=1e-6)


def test_a_line_turns_where_the_points_turn() -> None:
    at = np.array([0.0, 0.5, 1.0, 1.5, 2.0, 2.5, 3.0])

    ours = monotone_line([0, 1, 2, 3], [0, 4, 1, 1], at)

    assert ours == pytest.approx(PchipInterpolator([0, 1, 2, 3], [0, 4, 1, 1])(at))


@pytest.mark.parametrize(
    ("places", "at", "message"),
    [
        pytest.param([1.0], [1.0], "two points at least", id="one point"),
        pytest.param([1.0, 1.0], [1.0], "two points at least", id="the same place twice"),
        pytest.param([1.0, 2.0], [2.5], "^a place is outside 1 to 2$", id="a place beyond the points"),
    ],
)
def test_lines_that_cannot_be_are_refused(places: list[float], at: list[float], message: str) -> None:
    with pytest.raises(ValueError, match=message):
        monotone_line(places, [1.0] * len(places), np.array(at))


def test_the_curve_meets_every_point_that_rises() -> None:
    found = curve({20: 3.0, 60: 31.0, 110: 64.0, 180: 90.0, 255: 98.0})

    speeds = found.speed(np.array([20.0, 60.0, 110.0, 180.0, 255.0]))

    assert speeds == pytest.approx([3.0, 31.0, 64.0, 90.0, 98.0])


def test_points_that_fall_are_levelled() -> None:
    found = curve({20: 3.0, 60: 40.0, 110: 36.0, 180: 90.0})

    levelled = found.speed(np.array([60.0, 110.0]))

    assert levelled[0] == pytest.approx(levelled[1])
    assert 36 < levelled[0] < 40


def test_nothing_is_made_up_outside_the_measured_range() -> None:
    found = curve({20: 3.0, 60: 31.0, 200: 90.0})

    assert (found.start, found.full) == (20, 200)
    assert found.speed(np.array([0.0, 19.0, 230.0])) == pytest.approx([0.0, 0.0, 90.0])
    assert found.drive(np.array([1.0, 120.0])) == pytest.approx([20, 200], abs=1e-3)


def test_two_points_are_no_curve() -> None:
    timed_runs = [TimedRun(way=Way.FORWARD, drive=drive, kmh=drive / 2, timing=0.01) for drive in (20, 60)]

    assert curve_of(points_of(timed_runs, Way.FORWARD)) is None


def test_between_points_the_error_is_no_smaller_than_at_them() -> None:
    found = curve({20: 10.0, 60: 50.0, 140: 60.0, 255: 90.0})

    at_points = [point.error for point in found.points]

    assert found.error(np.array([20.0, 60.0, 140.0, 255.0])) == pytest.approx(at_points)
    assert found.error(np.array([40.0]))[0] > (at_points[0] + at_points[1]) / 2


@given(SPEEDS)
def test_a_curve_never_falls_and_the_drive_for_its_speed_gives_that_speed(values: list[float]) -> None:
    found = curve({10 + 12 * n: kmh for n, kmh in enumerate(values)})
    wanted = np.linspace(found.slowest, found.fastest, 28)

    drives = found.drive(wanted)

    assert (np.diff(found.speeds) >= 0).all()
    assert (np.diff(drives) >= 0).all()
    assert found.speed(drives) == pytest.approx(wanted, abs=1e-3)
