"""What timing by hand leaves open, and the slip between km/h and mph."""

import pytest
from hypothesis import given
from hypothesis import strategies as st

from rosterkit.planning.speed.timing import is_unit_slip, seconds_needed, slip_of, timing_error
from rosterkit.standards.scales import SCALES

BY_HAND = "common practice, no source: a stopwatch at plus or minus 0.2 s; derived"


@pytest.mark.parametrize(
    ("source", "feet", "percent"),
    [
        pytest.param(BY_HAND, 3, 6.7, id="60 mph over 3 ft in HO leaves 6.7 %"),
        pytest.param(BY_HAND, 4, 5.1, id="4 ft leave 5.1 %"),
        pytest.param(BY_HAND, 10, 2.0, id="10 ft leave 2.0 %"),
        pytest.param(BY_HAND, 20, 1.0, id="20 ft leave 1.0 %"),
    ],
)
def test_error_of_a_stopwatch(source: str, feet: float, percent: float) -> None:
    # 60 mph are 1056 inches of the prototype in a second.
    seconds = feet * 12 * SCALES["HO"].ratio / 1056

    assert 100 * timing_error(seconds) == pytest.approx(percent, abs=0.05), source


def test_a_match_to_one_per_cent_needs_twenty_seconds() -> None:
    assert seconds_needed(0.01) == pytest.approx(20), BY_HAND
    assert seconds_needed(0.02) == pytest.approx(10), BY_HAND


@given(st.floats(min_value=0.001, max_value=1))
def test_a_pass_of_the_seconds_needed_has_the_error_wanted(error: float) -> None:
    assert timing_error(seconds_needed(error)) == pytest.approx(error)


@pytest.mark.parametrize(
    ("call", "message"),
    [
        pytest.param(lambda: timing_error(0), "^seconds 0 must be more than 0$", id="a run of no time"),
        pytest.param(lambda: seconds_needed(0), "^error 0 must be more than 0$", id="no error at all"),
    ],
)
def test_what_cannot_be_is_refused(call: object, message: str) -> None:
    assert callable(call)

    with pytest.raises(ValueError, match=message):
        call()


@pytest.mark.parametrize(
    ("one", "other", "slip"),
    [
        pytest.param(100.0, 62.14, "km/h taken for mph", id="100 km/h is 62.14 mph"),
        pytest.param(62.14, 100.0, "km/h taken for mph", id="whichever comes first"),
        pytest.param(65.0, 40.0, "km/h taken for mph", id="65 wanted and 40 found is within 2 %"),
        pytest.param(120.0, 75.0, "km/h taken for mph", id="120 wanted and 75 found is within 2 %"),
        pytest.param(80.0, 40.0, "a lap or a length counted double", id="twice as fast"),
        pytest.param(25.4, 10.0, "inches taken for centimetres", id="2.54 times as fast"),
        pytest.param(100.0, 58.0, None, id="1.72 is no slip"),
        pytest.param(100.0, 98.0, None, id="nearly alike"),
        pytest.param(0.0, 98.0, None, id="one stands still"),
    ],
)
def test_slips_that_show_in_a_ratio(one: float, other: float, slip: str | None) -> None:
    assert slip_of(one, other) == slip
    assert is_unit_slip(one, other) is (slip == "km/h taken for mph")
