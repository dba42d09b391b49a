"""What a set of CV values says of an engine that nobody knows."""

import pytest

from rosterkit.cv.decode import cv_values, decoded

_TABLE = " ".join(f"{66 + step}={9 * step}" for step in range(1, 29))


@pytest.mark.parametrize(
    ("pairs", "subject", "words"),
    [
        pytest.param(
            "8=13 7=21", "decoder", "public domain or home-made, version 21", id="maker and version"
        ),
        # Without CV29 an address is stored, and nobody knows whether it is active (S-9.2.2, CV29 bit 5).
        pytest.param("1=3", "stored address", "short 3; whether it is active depends on CV29", id="CV1 only"),
        pytest.param(
            "1=3 17=195 18=232",
            "stored address",
            "short 3 and long 1000; which of them is active depends on CV29",
            id="both addresses",
        ),
        pytest.param("29=35", "direction", "reversed", id="direction"),
        pytest.param("29=2", "speed steps", "28 or 128", id="speed steps"),
        pytest.param("29=6", "DC operation", "on", id="DC operation"),
        pytest.param("29=8", "BiDi", "on", id="BiDi"),
        pytest.param(
            "29=2 2=51 6=102 5=255",
            "speed curve",
            "3-point: 20 % at the first step, 40 % at the middle, 100 % at the top",
            id="three points",
        ),
        pytest.param(
            "2=51 6=1 5=0", "speed curve", "3-point: 20 % at the first step", id="0 and 1 are no points"
        ),
        pytest.param(
            f"29=18 {_TABLE}",
            "speed curve",
            "speed table, rises from 4 % at step 1 to 99 % at step 28",
            id="a table",
        ),
        pytest.param(
            f"29=18 {_TABLE} 75=1".replace("75=81 ", ""),
            "speed curve",
            "speed table, falls from 4 % at step 1 to 99 % at step 28",
            id="a table that falls",
        ),
        pytest.param("67=5 68=6", "speed curve", "speed table, 2 of 28 values given", id="part of a table"),
        pytest.param("29=18", "speed curve", "speed table, not given", id="a table in use"),
        # NMRA S-9.2.2 (Jul 2012), CV3: 10 x 0.896 s; CV23 = 133 takes 5 away: 5 x 0.896 s.
        pytest.param("3=10", "momentum", "9.0 s from stop to top", id="acceleration"),
        pytest.param(
            "3=10 23=133 4=8", "momentum", "4.5 s from stop to top, 7.2 s from top to stop", id="adjusted"
        ),
        pytest.param("19=0", "consist", "none", id="no consist"),
        pytest.param("19=138", "consist", "10, in reverse", id="a consist of 7 bits"),
        # RCN-225 (27.07.2025), CV19/20: 12 x 100 + 34, bit 7 of CV20 the lead.
        pytest.param(
            "19=34 20=140 21=129 22=3",
            "consist",
            "1234, forward, marked as the lead, functions F0f F0r F1 F8",
            id="a consist pair with functions",
        ),
        pytest.param("15=1 16=2", "lock", "closed", id="a closed lock"),
        # RCN-225 (27.07.2025), section 3.1: user address 1 is packet address 4.
        pytest.param(
            "1=1 9=0 29=128",
            "answers",
            "decoder 1, turnouts 1 to 4 (5 to 8 where turnout 1 is packet address 0)",
            id="an accessory decoder",
        ),
        pytest.param(
            "1=4 9=4 29=192",
            "answers",
            "turnout 1028 (1032 where turnout 1 is packet address 0), and the next for its further outputs",
            id="an accessory output",
        ),
        pytest.param(
            "513=1 521=1 541=128",
            "answers",
            "decoder 65, turnouts 257 to 260 (261 to 264 where turnout 1 is packet address 0)",
            id="by aliases",
        ),
    ],
)
def test_values_come_to(pairs: str, subject: str, words: str) -> None:
    assert decoded(cv_values(pairs.split())).summary[subject] == words


def test_what_the_values_do_not_speak_of_is_left_out() -> None:
    assert decoded(cv_values(["1=12", "29=130"])).summary == {}
    assert decoded(cv_values(["49=12"])).summary == {}


def test_255_everywhere_is_nothing_read() -> None:
    """Common practice, no source."""
    faults = decoded({1: 255, 4: 255, 29: 127}).faults, decoded({3: 255, 4: 255}).faults

    assert [fault.message for fault in faults[1]] == ["every CV reads 255, so probably nothing was read"]
    assert "every CV reads 255, so probably nothing was read" not in [f.message for f in faults[0]]


def test_an_indexed_cv_says_its_page() -> None:
    """RCN-225 (27.07.2025), CV31/32."""
    settings = {one.cv: one.meaning for one in decoded({31: 16, 32: 1, 257: 5}).settings}

    assert settings[257] == "CV 257 of index 16/1 (manufacturer unique)"
