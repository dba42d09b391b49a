"""CV9, CV10, CV11, CV12, CV25 and CV27."""

from collections.abc import Callable

import pytest

from rosterkit.standards import motor_cvs
from rosterkit.standards.families import StandardFamily

CV9 = "NMRA S-9.2.2 (Jul 2012), CV9; derived"


@pytest.mark.parametrize(
    ("source", "cv9", "microseconds"),
    [
        pytest.param(CV9, 0, 131, id="0 is the shortest, 131"),
        pytest.param(CV9, 1, 135, id="1 is 4 more"),
        pytest.param(CV9, 31, 255, id="31 is the longest without doubling"),
        pytest.param(CV9, 33, 270, id="33 doubles 135"),
        pytest.param(CV9, 255, 32640, id="255 is the longest, 32640"),
    ],
)
def test_the_motor_pulse_period(source: str, cv9: int, microseconds: int) -> None:
    assert motor_cvs.pwm_period(cv9) == microseconds, source


@pytest.mark.parametrize(
    ("source", "reading", "cv10", "words"),
    [
        pytest.param(
            "NMRA S-9.2.2 (Jul 2012), CV10",
            StandardFamily.NMRA,
            1,
            "back-EMF control ends above step 1 of 128",
            id="1",
        ),
        pytest.param(
            "NMRA S-9.2.2 (Jul 2012), CV10",
            StandardFamily.NMRA,
            128,
            "back-EMF control ends above step 128 of 128",
            id="128",
        ),
        pytest.param(
            "NMRA S-9.2.2 (Jul 2012), CV10, derived", StandardFamily.NMRA, 129, "not defined", id="129"
        ),
        pytest.param("NMRA S-9.2.2 (Jul 2012), CV10, derived", StandardFamily.NMRA, 0, "not defined", id="0"),
        pytest.param(
            "RCN-225 (27.07.2025), CV10",
            StandardFamily.RCN,
            50,
            "manufacturer unique",
            id="RCN leaves it free",
        ),
    ],
)
def test_back_emf_cut_off(source: str, reading: StandardFamily, cv10: int, words: str) -> None:
    assert motor_cvs.cv10_words(cv10, reading) == words, source


@pytest.mark.parametrize(
    ("source", "cv11", "words"),
    [
        pytest.param(
            "RCN-225 (27.07.2025), CV11", 0, "never stops for want of packets", id="0 is no time-out"
        ),
        pytest.param(
            "RCN-225 (27.07.2025), CV11",
            20,
            "stops after 20 of the maker's units without a packet",
            id="20 units",
        ),
    ],
)
def test_packet_time_out(source: str, cv11: int, words: str) -> None:
    assert motor_cvs.cv11_words(cv11) == words, source


def test_the_time_out_limits() -> None:
    limits = motor_cvs.LEAST_LONGEST_TIMEOUT_SECONDS, motor_cvs.SHORTEST_TIMEOUT_MILLISECONDS

    assert limits == (20, 30), "RCN-225 (27.07.2025), CV11"


@pytest.mark.parametrize(
    ("source", "reading", "cv12", "words"),
    [
        pytest.param(
            "NMRA S-9.2.2 (Jul 2012), CV12",
            StandardFamily.NMRA,
            3,
            ["DC", "radio"],
            id="bits 0 and 1 are shared",
        ),
        pytest.param(
            "RCN-225 (27.07.2025), CV12",
            StandardFamily.RCN,
            3,
            ["DC", "radio"],
            id="bits 0 and 1 are shared too",
        ),
        pytest.param(
            "NMRA S-9.2.2 (Jul 2012), CV12",
            StandardFamily.NMRA,
            4,
            ["an old manufacturer unique system"],
            id="bit 2, NMRA",
        ),
        pytest.param("RCN-225 (27.07.2025), CV12", StandardFamily.RCN, 4, ["DCC"], id="bit 2, RCN"),
        pytest.param("RCN-225 (27.07.2025), CV12", StandardFamily.RCN, 16, ["AC"], id="bit 4, RCN"),
        pytest.param(
            "RCN-225 (27.07.2025), CV12", StandardFamily.RCN, 8, ["another protocol (bit 3)"], id="bit 3, RCN"
        ),
        pytest.param(
            "NMRA S-9.2.2 (Jul 2012), CV12",
            StandardFamily.NMRA,
            64,
            ["another protocol (bit 6)"],
            id="bit 6, NMRA",
        ),
        pytest.param(
            "RCN-225 (27.07.2025), CV12", StandardFamily.RCN, 128, ["reserved bit 7"], id="bit 7 is reserved"
        ),
        pytest.param(
            "NMRA S-9.2.2 (Jul 2012), CV12",
            StandardFamily.NMRA,
            8,
            ["another protocol (bit 3)"],
            id="bit 3, NMRA",
        ),
        pytest.param(
            "RCN-225 (27.07.2025), CV12",
            StandardFamily.RCN,
            32,
            ["another protocol (bit 5)"],
            id="bit 5, RCN",
        ),
    ],
)
def test_power_sources(source: str, reading: StandardFamily, cv12: int, words: list[str]) -> None:
    assert motor_cvs.cv12_words(cv12, reading) == words, source


@pytest.mark.parametrize(
    ("cv12", "permitted"),
    [
        pytest.param(None, True, id="a CV12 that is not known permits direct current"),
        pytest.param(1, True, id="bit 0 is direct current"),
        pytest.param(5, True, id="direct current and something else"),
        pytest.param(4, False, id="something else only"),
        pytest.param(0, False, id="nothing else than the rails' own"),
    ],
)
def test_whether_direct_current_is_permitted(cv12: int | None, permitted: bool) -> None:
    """NMRA S-9.2.2 (Jul 2012), CV12; RCN-225 (27.07.2025), CV12."""
    assert motor_cvs.permits_dc(cv12) is permitted


CV25 = "NMRA S-9.2.2 (Jul 2012), CV25; RCN-225 (27.07.2025), CV25"


@pytest.mark.parametrize(
    ("source", "cv25", "words"),
    [
        pytest.param(CV25, 0, "not used", id="0 is not used"),
        pytest.param(CV25, 1, "not used", id="1 is not used"),
        pytest.param(
            f"{CV25}, as printed", 2, "built-in table 2, a straight line", id="2 is a straight line"
        ),
        pytest.param(CV25, 127, "built-in table 127", id="127 is the last table"),
        pytest.param(CV25, 128, "place of the middle speed among the 28 steps", id="128 is a middle speed"),
        pytest.param(CV25, 154, "place of the middle speed among the 28 steps", id="154 is a middle speed"),
        pytest.param("RCN-225 (27.07.2025), CV25", 155, "no effect", id="155 has no effect"),
    ],
)
def test_the_choice_of_a_speed_curve(source: str, cv25: int, words: str) -> None:
    assert motor_cvs.cv25_words(cv25) == words, source


CV27 = "NMRA S-9.2.2 (Jul 2012), CV27; RCN-225 (27.07.2025), CV27"


@pytest.mark.parametrize(
    ("source", "bits", "cv27", "words"),
    [
        pytest.param(
            f"{CV27}; derived",
            [0, 1],
            3,
            ["asymmetrical DCC, right rail more positive", "asymmetrical DCC, left rail more positive"],
            id="both kinds of asymmetrical DCC are 3",
        ),
        pytest.param(
            CV27,
            [2, 4, 5],
            52,
            ["signal-controlled cut-outs", "DC of the reverse direction", "DC of the forward direction"],
            id="cut-outs and both directions of DC are 52",
        ),
        pytest.param(CV27, [], 0, [], id="0 stops for nothing"),
    ],
)
def test_automatic_stops(source: str, bits: list[int], cv27: int, words: list[str]) -> None:
    assert motor_cvs.cv27_words(cv27) == words, source


def test_reserved_bits_of_cv27_are_named_when_read() -> None:
    words = motor_cvs.cv27_words(0b1100_1000)

    assert words == ["reserved bit 3", "reserved bit 6", "reserved bit 7"], CV27


@pytest.mark.parametrize(
    ("read", "name"),
    [
        pytest.param(motor_cvs.pwm_period, "CV9", id="CV9"),
        pytest.param(lambda value: motor_cvs.cv10_words(value, StandardFamily.RCN), "CV10", id="CV10"),
        pytest.param(motor_cvs.cv11_words, "CV11", id="CV11"),
        pytest.param(lambda value: motor_cvs.cv12_words(value, StandardFamily.RCN), "CV12", id="CV12"),
        pytest.param(motor_cvs.cv25_words, "CV25", id="CV25"),
        pytest.param(motor_cvs.cv27_words, "CV27", id="CV27"),
    ],
)
def test_each_of_them_is_one_byte(read: Callable[[int], object], name: str) -> None:
    with pytest.raises(ValueError, match=f"^{name} 256 is outside 0 to 255$"):
        read(256)
