"""Momentum from seconds and distances, sidings, and the band for top speeds."""

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from rosterkit.planning.speed.stopping import cv4_for_metres, stopping_metres
from rosterkit.planning.speed.targets import Shape, target
from rosterkit.standards.momentum import stopping_distance
from rosterkit.standards.scales import top_speed_band

BRAKING = "NMRA S-9.2.2 (Jul 2012), CV4: 0.896 s for each unit from top to stop; derived"
BAND = "NEM 661 (2011): prototype speed to so many % above; derived"

STRAIGHT = target(Shape.STRAIGHT, 100.0, 1.0)


@pytest.mark.parametrize(
    ("source", "cv4", "ratio", "metres"),
    [
        pytest.param(BRAKING, 1, 87, 0.14, id="CV4 1 rolls 0.14 m in H0"),
        pytest.param(BRAKING, 3, 87, 0.43, id="CV4 3 rolls 0.43 m in H0"),
        pytest.param(BRAKING, 7, 87, 1.00, id="CV4 7 rolls 1.00 m in H0"),
        pytest.param(BRAKING, 20, 87, 2.86, id="CV4 20 rolls 2.86 m in H0"),
        pytest.param(BRAKING, 7, 160, 0.54, id="CV4 7 rolls 0.54 m in N"),
        pytest.param(BRAKING, 7, 45, 1.94, id="CV4 7 rolls 1.94 m in 0"),
        pytest.param(BRAKING, 0, 87, 0.0, id="CV4 0 stops at once"),
    ],
)
def test_metres_rolled_from_100_kmh_with_even_steps(
    source: str, cv4: int, ratio: float, metres: float
) -> None:
    assert stopping_metres(cv4, STRAIGHT, ratio) == pytest.approx(metres, abs=0.006), source


@given(st.integers(0, 255), st.floats(0, 100))
def test_even_steps_roll_as_the_standard_s_even_braking(cv4: int, kmh: float) -> None:
    expected = stopping_distance(cv4, kmh, 87, top_kmh=100)

    assert stopping_metres(cv4, STRAIGHT, 87, from_kmh=kmh) == pytest.approx(expected, abs=1e-5), BRAKING


def test_a_gentle_start_rolls_less_far() -> None:
    gentle = stopping_metres(10, target(Shape.GENTLE, 100.0, 0.1), 87)

    # The area under x (1 + x) / 2 is 5/12 where that under x is 1/2.
    assert gentle / stopping_metres(10, STRAIGHT, 87) == pytest.approx(5 / 6, abs=0.001), BRAKING


@given(st.integers(0, 255))
def test_the_cv4_for_a_distance_comes_back(cv4: int) -> None:
    metres = stopping_metres(cv4, STRAIGHT, 87)

    assert cv4_for_metres(metres, STRAIGHT, 87) == cv4


def test_the_cv4_for_a_distance_never_rolls_further() -> None:
    cv4 = cv4_for_metres(1.2, STRAIGHT, 87)

    assert cv4 == 8
    assert stopping_metres(8, STRAIGHT, 87) < 1.2 < stopping_metres(9, STRAIGHT, 87)


def test_an_engine_that_stands_needs_no_braking() -> None:
    assert cv4_for_metres(1.0, STRAIGHT, 87, from_kmh=0.0) == 255


@pytest.mark.parametrize(
    ("call", "message"),
    [
        pytest.param(lambda: stopping_metres(7, STRAIGHT, 87, from_kmh=101), "^speed 101 is", id="too fast"),
        pytest.param(lambda: stopping_metres(256, STRAIGHT, 87), "^momentum 256 is outside", id="CV4 256"),
        pytest.param(lambda: cv4_for_metres(-1, STRAIGHT, 87), "^metres -1 must be", id="negative metres"),
    ],
)
def test_what_cannot_be_rolled_is_refused(call: object, message: str) -> None:
    assert callable(call)

    with pytest.raises(ValueError, match=message):
        call()


def test_speeds_at_every_step_count() -> None:
    jumpy = np.full(28, 100.0)

    # At full speed for all but the last of 28 steps: nearly twice as far.
    assert stopping_metres(7, jumpy, 87) == pytest.approx(2.0 * 27.5 / 28, abs=0.01)


@pytest.mark.parametrize(
    ("source", "scale", "band"),
    [
        pytest.param(BAND, "H0", (120, 156), id="H0 30 %"),
        pytest.param(BAND, "N", (120, 180), id="N 50 %"),
        pytest.param(BAND, "0", (120, 132), id="0 10 %"),
        pytest.param(BAND, "Z", (120, 192), id="Z 60 %"),
        pytest.param(BAND, "TT", (120, 168), id="TT 40 %"),
        pytest.param(BAND, "S", (120, 144), id="S 20 %"),
        pytest.param(BAND, "1", (120, 120), id="I none"),
        pytest.param("NEM 661 (2011), H0, taken for HO; derived", "HO", (120, 156), id="HO as H0"),
    ],
)
def test_the_band_for_a_prototype_s_120_kmh(source: str, scale: str, band: tuple[float, float]) -> None:
    assert top_speed_band(120, scale) == pytest.approx(band), source


def test_a_scale_that_the_norm_does_not_name_has_no_band() -> None:
    assert top_speed_band(120, "OO") is None


def test_a_prototype_that_stands_has_no_band() -> None:
    with pytest.raises(ValueError, match=r"^prototype speed 0 must be more than 0 and finite$"):
        top_speed_band(0, "H0")
