"""What is said of a decoder in the same words wherever it is said."""

import pytest

from rosterkit.cv.meanings import steps_mismatch_words

MECHANISM = "NMRA S-9.2.1 (Jul 2012), derived; the symptom is common practice, no source"


@pytest.mark.parametrize(
    ("source", "decoder", "sent", "words"),
    [
        pytest.param(MECHANISM, "14", "14", None, id="14 where 14 are sent is well"),
        pytest.param(MECHANISM, "28/128", "28/128", None, id="28/128 where 28 or 128 are sent is well"),
        pytest.param(
            MECHANISM,
            "14",
            "28/128",
            "where 28 are sent, the headlight goes on and off as the speed changes, "
            "and every second step does nothing",
            id="14 blinks where 28 are sent, and nothing of that is said of 128",
        ),
        pytest.param(
            MECHANISM,
            "28/128",
            "14",
            "the headlight cannot be switched",
            id="28/128 does not blink where 14 are sent",
        ),
    ],
)
def test_speed_steps_that_do_not_go_together(source: str, decoder: str, sent: str, words: str | None) -> None:
    assert steps_mismatch_words(decoder=decoder, sent=sent) == words, source
