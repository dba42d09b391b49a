"""Wanted speeds, and the tables, trims and three values that come nearest to them."""

from itertools import pairwise, product

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st
from scipy.optimize import differential_evolution

from rosterkit.planning.speed import tables
from rosterkit.planning.speed.curve import Curve, curve_of
from rosterkit.planning.speed.measurements import points_of
from rosterkit.planning.speed.tables import repeated_steps, table_for
from rosterkit.planning.speed.targets import Shape, target
from rosterkit.planning.speed.three_values import three_values
from rosterkit.planning.speed.timed_run import TimedRun, Way
from rosterkit.planning.speed.trims import trimmed_table
from rosterkit.standards.speed_curve import curve_rises, drive_at_step, falling_steps, straight_table

STEPS = "NMRA S-9.2.2 (Jul 2012), CV67-94: 28 entries of a byte each"
TRIMS = "NMRA S-9.2.2 (Jul 2012), CV66 and CV95: a factor of n/128; derived"


def curve(points: dict[int, float], way: Way = Way.FORWARD) -> Curve:
    timed_runs = [TimedRun(way=way, drive=drive, kmh=kmh, timing=0.01) for drive, kmh in points.items()]
    found = curve_of(points_of(timed_runs, way))
    assert found is not None
    return found


EVEN = curve({drive: drive / 2 for drive in (1, 64, 128, 192, 255)})
"""Half a km/h for each unit of drive."""


def test_a_straight_shape_rises_alike_at_every_step() -> None:
    wanted = target(Shape.STRAIGHT, 112.0, 1.0)

    assert wanted == pytest.approx([4.0 * step for step in range(1, 29)])


def test_a_straight_shape_begins_with_what_the_engine_can_do() -> None:
    wanted = target(Shape.STRAIGHT, 112.0, 17.5)

    assert wanted[0] == 17.5
    assert wanted[-1] == pytest.approx(112.0)
    assert np.diff(wanted) == pytest.approx([3.5] * 27)


def test_a_gentle_start_is_half_as_steep_at_first() -> None:
    wanted = target(Shape.GENTLE, 112.0, 1.0)

    assert wanted[0] == pytest.approx(112 * (1 / 28) * (29 / 28) / 2)
    assert wanted[13] == pytest.approx(42.0)
    assert wanted[-1] == pytest.approx(112.0)


def test_own_points_are_met() -> None:
    wanted = target(Shape.OWN, 100.0, 2.0, {10: 20.0, 20: 45.0})

    assert (wanted[0], wanted[9], wanted[19], wanted[27]) == pytest.approx((2.0, 20.0, 45.0, 100.0))
    assert (np.diff(wanted) > 0).all()


@pytest.mark.parametrize(
    ("top", "slowest", "points", "message"),
    [
        pytest.param(50.0, 50.0, {}, "^top speed 50 is not more than the slowest 50$", id="no speed left"),
        pytest.param(50.0, 5.0, {29: 60.0}, "^step 29 is outside 1 to 28$", id="a 29th step"),
        pytest.param(50.0, 5.0, {9: 30.0, 12: 20.0}, "falls from step 9 to step 12$", id="falling points"),
        pytest.param(50.0, 5.0, {9: 60.0}, "falls from step 9 to step 28$", id="a point above the top"),
    ],
)
def test_targets_that_cannot_be_are_refused(
    top: float, slowest: float, points: dict[int, float], message: str
) -> None:
    with pytest.raises(ValueError, match=message):
        target(Shape.OWN, top, slowest, points)


def test_an_even_engine_with_an_even_goal_gets_the_straight_table() -> None:
    table = table_for([(EVEN, 128)], target(Shape.STRAIGHT, 112.0, 0.5))

    assert table == tuple(range(8, 225, 8)) == straight_table(224)


def test_the_first_entry_starts_the_engine() -> None:
    stiff = curve({33: 6.0, 60: 20.0, 120: 60.0, 255: 120.0})

    assert table_for([(stiff, 128)], target(Shape.STRAIGHT, 120.0, 6.0))[0] == 33


def test_no_entry_is_beyond_what_was_measured() -> None:
    slow = curve({33: 4.0, 60: 20.0, 120: 60.0, 200: 80.0})

    assert table_for([(slow, 128)], target(Shape.STRAIGHT, 80.0, 4.0))[-1] == 200


def test_a_range_of_few_drives_repeats_entries_but_does_not_fall() -> None:
    steep = curve({30: 2.0, 35: 60.0, 40: 120.0})

    table = table_for([(steep, 128)], target(Shape.STRAIGHT, 120.0, 2.0))

    assert (table[0], table[-1]) == (30, 40)
    assert repeated_steps(table) == 17
    assert falling_steps(table) == ()


@st.composite
def curves(draw: st.DrawFn, way: Way = Way.FORWARD) -> Curve:
    drives = draw(st.lists(st.integers(1, 255), min_size=3, max_size=14, unique=True))
    speeds = draw(st.lists(st.floats(0.5, 250), min_size=len(drives), max_size=len(drives)))
    return curve(dict(zip(sorted(drives), speeds, strict=True)), way)


@st.composite
def goals(draw: st.DrawFn, *measured: Curve) -> np.ndarray[tuple[int], np.dtype[np.float64]]:
    slowest = max(each.slowest for each in measured)
    top = slowest + draw(st.floats(0.1, 200))
    return target(draw(st.sampled_from([Shape.STRAIGHT, Shape.GENTLE])), top, slowest)


@given(st.data())
def test_a_table_is_28_whole_bytes_that_never_fall(data: st.DataObject) -> None:
    measured = data.draw(curves())
    wanted = data.draw(goals(measured))

    table = table_for([(measured, 128)], wanted)

    assert len(table) == 28, STEPS
    assert all(isinstance(entry, int) and measured.start <= entry <= measured.full for entry in table), STEPS
    assert falling_steps(table) == ()


@given(st.data())
def test_a_table_for_what_a_table_gives_is_that_table(data: st.DataObject) -> None:
    measured = curve({20: 3.0, 60: 31.0, 110: 64.0, 180: 90.0, 255: 98.0})
    wanted = target(Shape.STRAIGHT, data.draw(st.floats(60, 98)), 3.0)
    table = table_for([(measured, 128)], wanted)

    again = table_for([(measured, 128)], measured.speed(np.array(table, dtype=np.float64)))

    assert again == table


@given(
    st.lists(st.lists(st.integers(0, 9), min_size=5, max_size=5), min_size=4, max_size=4), st.integers(0, 9)
)
def test_the_cheapest_rise_is_the_one_that_trying_all_finds(costs: list[list[int]], repeated: int) -> None:
    def price(columns: tuple[int, ...]) -> int:
        repeats = sum(low == high for low, high in pairwise(columns))
        return sum(row[column] for row, column in zip(costs, columns, strict=True)) + repeated * repeats

    rising = [c for c in product(range(5), repeat=4) if all(low <= high for low, high in pairwise(c))]

    found = tables._cheapest_rise(np.array(costs, dtype=np.float64), repeated)

    assert price(tuple(found)) == min(price(columns) for columns in rising)
    assert all(low <= high for low, high in pairwise(found))


def test_the_way_that_runs_faster_is_trimmed() -> None:
    reverse = curve({drive: drive * 0.4 for drive in (1, 64, 128, 192, 255)}, Way.REVERSE)

    found = trimmed_table((EVEN, reverse), target(Shape.STRAIGHT, 100.0, 0.5))

    # Backward runs 0.4 km/h for each unit of drive, forward 0.5, so forward gets 0.8 of the drive: 102/128.
    assert (found.forward, found.reverse) == (102, 128), TRIMS
    assert found.table[-1] == 250
    assert [each.top for each in found.predictions] == pytest.approx([99.6, 100.0], abs=0.1)


def test_ways_that_run_alike_are_not_trimmed() -> None:
    reverse = curve({drive: drive / 2 for drive in (1, 64, 128, 192, 255)}, Way.REVERSE)

    found = trimmed_table((EVEN, reverse), target(Shape.STRAIGHT, 100.0, 0.5))

    assert (found.forward, found.reverse) == (128, 128), TRIMS


def test_one_way_alone_gets_no_trim() -> None:
    found = trimmed_table((EVEN,), target(Shape.STRAIGHT, 100.0, 0.5))

    assert (found.forward, found.reverse) == (None, None)


@given(st.data())
def test_the_first_entry_starts_the_engine_both_ways(data: st.DataObject) -> None:
    pair = (data.draw(curves()), data.draw(curves(Way.REVERSE)))

    found = trimmed_table(pair, data.draw(goals(*pair)))

    assert falling_steps(found.table) == ()
    assert all(1 <= trim <= 128 for trim in (found.forward or 0, found.reverse or 0)), TRIMS
    for prediction in found.predictions:
        assert prediction.kmh[0] > 0 or found.table[0] < prediction.curve.start


def test_three_values_are_those_of_a_general_search() -> None:
    bent = curve({20: 3.0, 60: 31.0, 110: 64.0, 180: 90.0, 255: 98.0})
    wanted = target(Shape.STRAIGHT, 95.0, 3.0)

    def cost(values: list[float]) -> float:
        cv2, cv6, cv5 = values
        if not cv2 < cv6 < cv5:
            return 1e9
        drives = [255 * drive_at_step(s, 28, cv2=int(cv2), cv6=int(cv6), cv5=int(cv5)) for s in range(1, 29)]
        return float((((bent.speed(np.array(drives)) - wanted) / 95) ** 4).sum())

    found = three_values((bent,), wanted)
    reference = differential_evolution(
        cost, [(20, 255)] * 3, integrality=[True] * 3, seed=3, tol=1e-10, maxiter=120
    )

    assert cost([found.cv2, found.cv6, found.cv5]) == pytest.approx(reference.fun)


def test_three_values_for_an_even_engine_are_a_straight_line() -> None:
    found = three_values((EVEN,), target(Shape.STRAIGHT, 112.0, 1.0))

    assert (found.cv2, found.cv6, found.cv5) == (8, 112, 224)


@given(st.data())
def test_three_values_rise_and_start_the_engine(data: st.DataObject) -> None:
    measured = data.draw(curves())

    found = three_values((measured,), data.draw(goals(measured)))

    assert curve_rises(cv2=found.cv2, cv6=found.cv6, cv5=found.cv5)
    assert all(0 <= value <= 255 for value in (found.cv2, found.cv6, found.cv5))
    assert found.cv2 >= min(measured.start, 253)
    assert all(low < high for low, high in pairwise(found.predictions[0].drives))
