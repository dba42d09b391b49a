"""CV28, which the texts read differently."""

import pytest

from rosterkit.standards.configuration import cv28_words
from rosterkit.standards.families import StandardFamily


@pytest.mark.parametrize(
    ("source", "reading", "cv28", "words"),
    [
        pytest.param(
            "NMRA S-9.2.2 (Jul 2012), CV28",
            StandardFamily.NMRA,
            7,
            [
                "unsolicited transmission",
                "broadcast by an asymmetrical signal",
                "broadcast by signal-controlled influence",
            ],
            id="the three bits of NMRA",
        ),
        pytest.param(
            "NMRA S-9.2.2 (Jul 2012), CV28",
            StandardFamily.NMRA,
            16,
            ["reserved bit 4"],
            id="the rest reserved",
        ),
        pytest.param(
            "NMRA S-9.2.2 (Jul 2012), CV28", StandardFamily.NMRA, 8, ["reserved bit 3"], id="from bit 3 on"
        ),
        pytest.param(
            "RCN-225 (27.07.2025), CV28",
            StandardFamily.RCN,
            3,
            ["address broadcast in channel 1", "data and acknowledgement in channel 2"],
            id="the usual two bits of RCN",
        ),
        pytest.param(
            "RCN-225 (27.07.2025), CV28",
            StandardFamily.RCN,
            0b1101_1100,
            [
                "channel 1 switches off by itself",
                "ID 3 in channel 1",
                "programming address (long 0)",
                "high current",
                "automatic registration",
            ],
            id="the other five bits of RCN",
        ),
        pytest.param(
            "RCN-225 (27.07.2025), CV28, derived", StandardFamily.RCN, 0, [], id="0 turns nothing on"
        ),
    ],
)
def test_cv28_differs_between_the_texts(
    source: str, reading: StandardFamily, cv28: int, words: list[str]
) -> None:
    assert cv28_words(cv28, reading) == words, source


def test_cv28_is_one_byte() -> None:
    with pytest.raises(ValueError, match=r"^CV28 256 is outside 0 to 255$"):
        cv28_words(256, StandardFamily.RCN)
