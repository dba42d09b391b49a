"""Speed steps as speed instructions carry them."""

import pytest

from rosterkit.standards.speed_steps import Halt, speed_code, speed_of_code, step_mismatch, top_step

FIGURE_2 = "NMRA S-9.2 (Jul 2004), Figure 2; NEM 671 (2014), Table 1"
S921 = "NMRA S-9.2.1 (Jul 2012), speed instructions"
CODES_28 = (
    "00010 10010 00011 10011 00100 10100 00101 10101 00110 10110 00111 10111 01000 11000 "
    "01001 11001 01010 11010 01011 11011 01100 11100 01101 11101 01110 11110 01111 11111"
)


@pytest.mark.parametrize(
    ("source", "speed", "bits"),
    [
        pytest.param(FIGURE_2, Halt.STOP, "00000", id="00000 is stop"),
        pytest.param(FIGURE_2, Halt.EMERGENCY_STOP, "00001", id="00001 is emergency stop"),
        pytest.param(FIGURE_2, 1, "00010", id="step 1 is 00010"),
        pytest.param(FIGURE_2, 2, "10010", id="step 2 is 10010, C printed first"),
        pytest.param(FIGURE_2, 6, "10100", id="step 6 is 10100"),
        pytest.param(FIGURE_2, 27, "01111", id="step 27 is 01111"),
        pytest.param(FIGURE_2, 28, "11111", id="step 28 is 11111"),
    ],
)
def test_28_steps_in_five_bits(source: str, speed: int | Halt, bits: str) -> None:
    assert f"{speed_code(speed, 28):05b}" == bits, source
    assert speed_of_code(int(bits, 2), 28) == speed, source


def test_all_28_steps_are_coded_as_the_figure_prints_them() -> None:
    codes = " ".join(f"{speed_code(step, 28):05b}" for step in range(1, 29))

    assert codes == CODES_28, FIGURE_2


def test_all_28_step_codes_are_read_back() -> None:
    steps = [speed_of_code(int(bits, 2), 28) for bits in CODES_28.split()]

    assert steps == list(range(1, 29)), FIGURE_2


@pytest.mark.parametrize(
    ("source", "bits", "halt"),
    [
        pytest.param(FIGURE_2, "10000", Halt.STOP, id="10000 is stop too"),
        pytest.param(FIGURE_2, "10001", Halt.EMERGENCY_STOP, id="10001 is emergency stop too"),
    ],
)
def test_each_halt_has_a_second_code_with_28_steps(source: str, bits: str, halt: Halt) -> None:
    assert speed_of_code(int(bits, 2), 28) is halt, source


@pytest.mark.parametrize(
    ("source", "steps", "speed", "code"),
    [
        pytest.param(S921, 14, Halt.STOP, 0, id="0 of 14 steps is stop"),
        pytest.param(S921, 14, Halt.EMERGENCY_STOP, 1, id="1 of 14 steps is emergency stop"),
        pytest.param(S921, 14, 1, 2, id="the first of 14 steps is 2"),
        pytest.param(S921, 14, 14, 15, id="the last of 14 steps is 15"),
        pytest.param(S921, 128, Halt.STOP, 0, id="0 of 128 steps is stop"),
        pytest.param(S921, 128, Halt.EMERGENCY_STOP, 1, id="1 of 128 steps is emergency stop"),
        pytest.param(f"{S921}, derived", 128, 1, 2, id="the first of 128 steps is 2"),
        pytest.param(f"{S921}, derived", 128, 126, 127, id="the last of 128 steps is step 126, 127"),
    ],
)
def test_14_and_128_steps_begin_after_two_halts(
    source: str, steps: int, speed: int | Halt, code: int
) -> None:
    assert speed_code(speed, steps) == code, source
    assert speed_of_code(code, steps) == speed, source


@pytest.mark.parametrize(
    ("steps", "codes"),
    [
        pytest.param(14, range(16), id="all 16 codes of 14 steps"),
        pytest.param(28, range(32), id="all 32 codes of 28 steps"),
        pytest.param(128, range(128), id="all 128 codes of 128 steps"),
    ],
)
def test_every_code_that_is_no_halt_comes_back(steps: int, codes: range) -> None:
    for code in codes:
        speed = speed_of_code(code, steps)
        assert isinstance(speed, Halt) or speed_code(speed, steps) == code


@pytest.mark.parametrize(
    ("source", "steps", "top"),
    [
        pytest.param(S921, 14, 14, id="14 steps run to 14"),
        pytest.param(FIGURE_2, 28, 28, id="28 steps run to 28"),
        pytest.param(S921, 128, 126, id="128 steps run to 126"),
    ],
)
def test_the_highest_step(source: str, steps: int, top: int) -> None:
    assert top_step(steps) == top, source


@pytest.mark.parametrize(
    ("speed", "steps", "message"),
    [
        pytest.param(0, 28, "^speed step 0 is outside 1 to 28$", id="step 0 is a halt, to be named"),
        pytest.param(29, 28, "^speed step 29 is outside 1 to 28$", id="step 29 of 28"),
        pytest.param(15, 14, "^speed step 15 is outside 1 to 14$", id="step 15 of 14"),
        pytest.param(127, 128, "^speed step 127 is outside 1 to 126$", id="step 127 of 128"),
        pytest.param(1, 27, "^speed steps 27, not one of 14, 28, 128$", id="27 steps"),
    ],
)
def test_steps_outside_are_refused(speed: int, steps: int, message: str) -> None:
    with pytest.raises(ValueError, match=message):
        speed_code(speed, steps)


@pytest.mark.parametrize(
    ("code", "steps", "message"),
    [
        pytest.param(16, 14, "^speed code 16 is outside 0 to 15$", id="16 of 14 steps"),
        pytest.param(32, 28, "^speed code 32 is outside 0 to 31$", id="32 of 28 steps"),
        pytest.param(128, 128, "^speed code 128 is outside 0 to 127$", id="128 of 128 steps"),
        pytest.param(0, 126, "^speed steps 126, not one of 14, 28, 128$", id="126 is no mode"),
    ],
)
def test_codes_outside_are_refused(code: int, steps: int, message: str) -> None:
    with pytest.raises(ValueError, match=message):
        speed_of_code(code, steps)


MISMATCH = "NMRA S-9.2.1 (Jul 2012), derived; the symptom is common practice, no source"


@pytest.mark.parametrize(
    ("source", "decoder_has_28", "station_steps", "symptom"),
    [
        pytest.param(MISMATCH, True, 28, None, id="28 under 28 is well"),
        pytest.param(MISMATCH, False, 14, None, id="14 under 14 is well"),
        pytest.param(MISMATCH, False, 128, None, id="128 steps do not pass through the bit"),
        pytest.param(
            MISMATCH,
            False,
            28,
            "the headlight goes on and off as the speed changes, and every second step does nothing",
            id="14 under 28 blinks",
        ),
        pytest.param(
            MISMATCH, True, 14, "the headlight cannot be switched", id="28 under 14 has no light switch"
        ),
    ],
)
def test_what_a_mismatch_of_steps_looks_like(
    source: str, decoder_has_28: bool, station_steps: int, symptom: str | None
) -> None:
    found = step_mismatch(decoder_has_28=decoder_has_28, station_steps=station_steps)

    assert found == symptom, source
