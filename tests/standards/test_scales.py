"""Scales and scale speed."""

from collections.abc import Callable

import pytest

from rosterkit.standards import scales

NEM = "NEM 010 (2011), table 1"
ARITHMETIC = "arithmetic"


@pytest.mark.parametrize(
    ("source", "size", "ratio"),
    [
        pytest.param(NEM, "Z", 220, id="Z is 220"),
        pytest.param(NEM, "N", 160, id="N is 160"),
        pytest.param(NEM, "TT", 120, id="TT is 120"),
        pytest.param(NEM, "H0", 87, id="H0 is 87"),
        pytest.param(NEM, "S", 64, id="S is 64"),
        pytest.param(NEM, "0", 45, id="0 is 45"),
        pytest.param(NEM, "I", 32, id="I is 32"),
        pytest.param(NEM, "II", 22.5, id="II is 22.5"),
        pytest.param(NEM, "III", 16, id="III is 16"),
        pytest.param(NEM, "V", 11, id="V is 11"),
        pytest.param(NEM, "VII", 8, id="VII is 8"),
        pytest.param(NEM, "X", 5.5, id="X is 5.5"),
    ],
)
def test_nominal_sizes(source: str, size: str, ratio: float) -> None:
    assert scales.NEM_010_RATIOS[size] == ratio, source


@pytest.mark.parametrize(
    ("source", "name", "ratio"),
    [
        pytest.param(NEM, "Z", 220.0, id="Z is 220"),
        pytest.param(NEM, "N", 160.0, id="N is 160"),
        pytest.param(
            "2 1/16 mm to the foot, secondary source", "N (UK)", 147.781818, id="British N is 147.8"
        ),
        pytest.param(NEM, "TT", 120.0, id="TT is 120"),
        pytest.param("from memory, arithmetic", "3 mm", 101.6, id="3 mm is 101.6"),
        pytest.param("NMRA secondary source, arithmetic", "HO", 87.085714, id="HO with a letter is 87.1"),
        pytest.param(NEM, "H0", 87.0, id="H0 with a zero is 87"),
        pytest.param("from memory, arithmetic", "OO", 76.2, id="OO is 76.2"),
        pytest.param(NEM, "S", 64.0, id="S is 64"),
        pytest.param("from memory, arithmetic", "O", 48.0, id="O with a letter is 48"),
        pytest.param(NEM, "0", 45.0, id="0, the digit, is 45"),
        pytest.param("from memory, arithmetic", "O (UK)", 43.542857, id="British O is 43.5"),
        pytest.param(NEM, "1", 32.0, id="1 is 32"),
    ],
)
def test_scales_by_name(source: str, name: str, ratio: float) -> None:
    assert scales.SCALES[name].ratio == pytest.approx(ratio, abs=1e-6), source


def test_scales_stand_from_small_to_large_under_their_own_names() -> None:
    names = ["Z", "N", "N (UK)", "TT", "3 mm", "HO", "H0", "OO", "S", "O", "0", "O (UK)", "1"]

    assert list(scales.SCALES) == names
    assert [scale.name for scale in scales.SCALES.values()] == names


def test_the_two_half_zeros_differ_by_a_tenth_of_a_percent() -> None:
    assert scales.SCALES["HO"].ratio / scales.SCALES["H0"].ratio == pytest.approx(1.000985, abs=1e-6), (
        ARITHMETIC
    )


@pytest.mark.parametrize(
    ("source", "metres", "seconds", "ratio", "kmh"),
    [
        pytest.param(ARITHMETIC, 1, 10, 87, 31.32, id="1 m in 10 s in H0 is 31.32 km/h"),
        pytest.param(ARITHMETIC, 1, 10, 160, 57.6, id="1 m in 10 s in N is 57.6 km/h"),
        pytest.param(ARITHMETIC, 1, 10, 76.2, 27.432, id="1 m in 10 s in OO is 27.43 km/h"),
        pytest.param(ARITHMETIC, 1, 10, 120, 43.2, id="1 m in 10 s in TT is 43.2 km/h"),
        pytest.param(ARITHMETIC, 2, 12, 45, 27.0, id="2 m in 12 s in 0 is 27 km/h"),
        pytest.param(ARITHMETIC, 0, 12, 45, 0.0, id="no way is no speed"),
    ],
)
def test_scale_km_an_hour(source: str, metres: float, seconds: float, ratio: float, kmh: float) -> None:
    assert scales.scale_kmh(metres, seconds, ratio) == pytest.approx(kmh), source


def test_miles_and_kilometres() -> None:
    assert scales.mph_to_kmh(60) == pytest.approx(96.56064), ARITHMETIC


def test_the_model_runs_at_the_scale_of_the_prototype() -> None:
    assert scales.model_metres_per_second(36.0, 100.0) == pytest.approx(0.1), ARITHMETIC


@pytest.mark.parametrize(
    ("call", "message"),
    [
        pytest.param(lambda: scales.scale_kmh(1, 0, 87), "^seconds 0 must be more than 0", id="no time"),
        pytest.param(
            lambda: scales.scale_kmh(-1, 5, 87), "^metres -1 must be 0 or more", id="a negative way"
        ),
        pytest.param(lambda: scales.scale_kmh(1, 5, 0), "^ratio 0 must be more than 0", id="no scale"),
        pytest.param(
            lambda: scales.model_metres_per_second(-1, 87),
            "^km/h -1 must be 0 or more",
            id="a negative speed",
        ),
    ],
)
def test_what_cannot_be_measured_is_refused(call: Callable[[], object], message: str) -> None:
    with pytest.raises(ValueError, match=message):
        call()
