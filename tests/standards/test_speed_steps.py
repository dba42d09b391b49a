"""Speed steps as speed instructions carry them."""

import pytest

from rosterkit.standards.speed_steps import step_mismatch, top_step

FIGURE_2 = "NMRA S-9.2 (Jul 2004), Figure 2; NEM 671 (2014), Table 1"
S921 = "NMRA S-9.2.1 (Jul 2012), speed instructions"


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
