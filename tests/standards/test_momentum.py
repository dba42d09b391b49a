"""Momentum in CV3, CV4, CV23 and CV24, and stopping distance."""

import pytest
from hypothesis import given
from hypothesis import strategies as st

from rosterkit.standards import momentum

CV3 = "NMRA S-9.2.2 (Jul 2012), CV3; RCN-225 (27.07.2025), CV3"
CV23 = "NMRA S-9.2.2 (Jul 2012), CV23 and CV24"
BRAKING = "NMRA S-9.2.2 (Jul 2012), CV4, with v t / 2 for even braking; arithmetic"


@pytest.mark.parametrize(
    ("source", "value", "seconds"),
    [
        pytest.param(f"{CV3}, derived", 0, 0.0, id="0 starts at once"),
        pytest.param(f"{CV3}, derived", 1, 0.896, id="1 takes 0.896 s"),
        pytest.param(f"{CV3}, derived", 10, 8.96, id="10 takes 8.96 s"),
        pytest.param(f"{CV3}, derived", 50, 44.8, id="50 takes 44.8 s"),
        pytest.param(f"{CV3}, derived", 255, 228.48, id="255 takes 228.48 s"),
    ],
)
def test_seconds_from_stop_to_top(source: str, value: int, seconds: float) -> None:
    assert momentum.momentum_seconds(value) == pytest.approx(seconds), source


@pytest.mark.parametrize(
    ("source", "seconds", "value"),
    [
        pytest.param(f"{CV3}, derived", 8.96, 10, id="8.96 s is 10"),
        pytest.param(f"{CV3}, derived", 9.4, 10, id="9.4 s is nearer to 10 than to 11"),
        pytest.param(f"{CV3}, derived", 9.42, 11, id="9.42 s is nearer to 11"),
        pytest.param(f"{CV3}, derived", 0.4, 0, id="0.4 s is nearer to none"),
        pytest.param(f"{CV3}, derived", 0.5, 1, id="0.5 s is nearer to 1"),
        pytest.param(f"{CV3}, derived", -3.0, 0, id="less than nothing is none"),
        pytest.param(f"{CV3}, derived", 1000.0, 255, id="more than there is gives 255"),
        pytest.param(f"{CV3}, derived", float("inf"), 255, id="without end is 255"),
    ],
)
def test_the_value_nearest_to_a_time(source: str, seconds: float, value: int) -> None:
    assert momentum.momentum_value_for_seconds(seconds) == value, source


def test_every_value_comes_back_from_its_seconds() -> None:
    values = [momentum.momentum_value_for_seconds(momentum.momentum_seconds(value)) for value in range(256)]

    assert values == list(range(256))


def test_a_time_that_is_no_number_is_refused() -> None:
    with pytest.raises(ValueError, match=r"^seconds nan must be a number$"):
        momentum.momentum_value_for_seconds(float("nan"))


@pytest.mark.parametrize("value", [pytest.param(-1, id="-1"), pytest.param(256, id="256")])
def test_momentum_is_one_byte(value: int) -> None:
    with pytest.raises(ValueError, match=f"^momentum {value} is outside 0 to 255$"):
        momentum.momentum_seconds(value)


@pytest.mark.parametrize(
    ("source", "cv", "adjustment"),
    [
        pytest.param(f"{CV23}, derived", 0, 0, id="0 changes nothing"),
        pytest.param(f"{CV23}, derived", 5, 5, id="5 adds 5"),
        pytest.param(CV23, 133, -5, id="133 takes 5 away"),
        pytest.param(f"{CV23}, derived", 127, 127, id="127 adds 127"),
        pytest.param(f"{CV23}, derived", 255, -127, id="255 takes 127 away"),
        pytest.param(f"{CV23}, derived", 129, -1, id="129 takes 1 away"),
    ],
)
def test_the_adjustment_is_a_size_and_a_sign(source: str, cv: int, adjustment: int) -> None:
    assert momentum.adjustment_of(cv) == adjustment, source


def test_every_adjustment_comes_back_and_128_is_the_other_nothing() -> None:
    read = [momentum.adjustment_of(cv) for cv in range(256)]

    assert read == [*range(128), *range(0, -128, -1)]


@pytest.mark.parametrize(
    ("source", "base", "cv", "expected"),
    [
        pytest.param(f"{CV23}, derived", 3, 133, 0, id="below none it is none"),
        pytest.param(f"{CV23}, derived", 10, 0, 10, id="0 leaves it alone"),
        pytest.param(f"{CV23}, derived", 10, 5, 15, id="5 more"),
        pytest.param(f"{CV23}, derived", 10, 133, 5, id="5 less"),
        pytest.param(
            f"{CV23}, derived; maximum read as 255", 200, 127, 255, id="above the top it is the top"
        ),
    ],
)
def test_momentum_with_its_adjustment(source: str, base: int, cv: int, expected: int) -> None:
    assert momentum.adjusted_momentum(base, cv) == expected, source


@pytest.mark.parametrize(
    ("source", "cv4", "kmh", "ratio", "top", "metres"),
    [
        # 100 km/h is 27.7778 m/s, on 1:100 0.277778 m/s; 8.96 s of it, halved.
        pytest.param(BRAKING, 10, 100.0, 100.0, None, 1.244444, id="10 at 100 km/h, 1:100, takes 1.24 m"),
        # 60 km/h is 16.6667 m/s, on 1:87 0.191571 m/s; 17.92 s, halved.
        pytest.param(BRAKING, 20, 60.0, 87.0, None, 1.716475, id="20 at 60 km/h in H0 takes 1.72 m"),
        pytest.param(BRAKING, 20, 30.0, 87.0, 60.0, 0.429119, id="half the speed takes a quarter"),
        pytest.param(BRAKING, 0, 120.0, 160.0, None, 0.0, id="no momentum stops at once"),
        pytest.param(BRAKING, 50, 0.0, 87.0, None, 0.0, id="an engine at rest needs no track"),
    ],
)
def test_braking_distance_on_the_layout(
    source: str, cv4: int, kmh: float, ratio: float, top: float | None, metres: float
) -> None:
    distance = momentum.stopping_distance(cv4, kmh, ratio, top_kmh=top)

    assert distance == pytest.approx(metres, abs=1e-6), source


@pytest.mark.parametrize(
    ("kmh", "ratio", "top", "message"),
    [
        pytest.param(-1.0, 87.0, None, "^km/h -1.0 must be 0 or more", id="a negative speed"),
        pytest.param(80.0, 0.0, None, "^ratio 0.0 must be more than 0", id="no scale"),
        pytest.param(
            80.0, 87.0, 60.0, "^speed 80.0 is outside 0 to the top speed 60.0$", id="over the top speed"
        ),
        pytest.param(float("nan"), 87.0, None, "^speed nan is outside", id="a speed that is no number"),
    ],
)
def test_speeds_that_cannot_be_have_no_braking_distance(
    kmh: float, ratio: float, top: float | None, message: str
) -> None:
    with pytest.raises(ValueError, match=message):
        momentum.stopping_distance(10, kmh, ratio, top_kmh=top)


@pytest.mark.parametrize(
    ("source", "metres", "value"),
    [
        pytest.param(BRAKING, 1.25, 10, id="1.25 m is enough for 10"),
        pytest.param(BRAKING, 1.24, 9, id="1.24 m is too little for 10"),
        pytest.param(BRAKING, 0.0, 0, id="no track leaves no momentum"),
        pytest.param(BRAKING, 1000.0, 255, id="much track leaves the most"),
    ],
)
def test_the_highest_value_that_stops_in_time(source: str, metres: float, value: int) -> None:
    assert momentum.cv4_for_stopping_distance(metres, 100.0, 100.0) == value, source


def test_an_engine_at_rest_may_have_any_braking() -> None:
    assert momentum.cv4_for_stopping_distance(0.5, 0.0, 87.0) == 255


def test_negative_track_is_refused() -> None:
    with pytest.raises(ValueError, match=r"^metres -0.5 must be 0 or more$"):
        momentum.cv4_for_stopping_distance(-0.5, 60.0, 87.0)


@given(cv4=st.integers(0, 255), kmh=st.floats(1, 400), ratio=st.floats(5, 300))
def test_a_braking_distance_gives_back_its_value(cv4: int, kmh: float, ratio: float) -> None:
    distance = momentum.stopping_distance(cv4, kmh, ratio)

    assert momentum.cv4_for_stopping_distance(distance, kmh, ratio) == cv4
