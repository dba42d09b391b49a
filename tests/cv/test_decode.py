"""What CV values mean together, and the faults of their combinations.

Values are those of NMRA S-9.2.2 (Jul 2012) and RCN-225 (27.07.2025) for the CVs named; how grave a
fault is, is a judgement of our own.
"""

import pytest
from hypothesis import given
from hypothesis import strategies as st

from rosterkit.cv.decode import Decoded, cv_values, decoded
from rosterkit.errors import CannotRunError


def _decoded(pairs: str) -> Decoded:
    return decoded(cv_values(pairs.split()))


_TABLE = " ".join(f"{cv}={cv}" for cv in range(67, 95))


@pytest.mark.parametrize(
    ("pairs", "kind", "number"),
    [
        pytest.param("17=195 18=232 29=34", "long", 1000, id="CV29 says long: the pair"),
        pytest.param(
            "1=44 17=195 18=232 29=34", "long", 1000, id="CV29 says long: the pair, whatever CV1 is"
        ),
        pytest.param("1=44 17=195 18=232 29=2", "short", 44, id="CV29 says short: CV1, whatever the pair is"),
        pytest.param("17=195 18=232", None, None, id="the pair alone does not tell"),
        pytest.param("1=44", None, None, id="CV1 alone does not tell"),
        pytest.param("1=44 17=195 18=232", None, None, id="both without CV29 do not tell"),
        pytest.param("1=44 17=195", None, None, id="half of a pair beside CV1 does not tell"),
        pytest.param("1=44 29=34", None, None, id="CV29 says long, and there is no pair"),
        pytest.param("17=195 18=232 29=2", None, None, id="CV29 says short, and there is no CV1"),
        pytest.param("29=34", None, None, id="CV29 alone"),
        pytest.param("17=191 18=232 29=34", None, None, id="a high byte that is none"),
        pytest.param("17=192 18=0 29=34", None, None, id="long address 0"),
        pytest.param("17=192 18=1 29=34", "long", 1, id="long address 1"),
        pytest.param("17=231 18=255 29=34", "long", 10239, id="the last long address"),
        pytest.param("17=232 18=0 29=34", None, None, id="beyond the last long address"),
        pytest.param("1=127 29=2", "short", 127, id="the last short address"),
        pytest.param("1=128 29=2", None, None, id="beyond the last short address"),
        pytest.param("1=0 29=2", None, None, id="CV1 of 0"),
        pytest.param("1=5 9=1 29=128", "accessory", 69, id="an accessory decoder by its own number"),
        pytest.param("513=5 521=1 29=128", "accessory", 69, id="an accessory decoder by the upper CVs"),
        pytest.param("1=5 9=1 29=192", "accessory", 261, id="an accessory decoder by its first output"),
        pytest.param("1=64 9=1 29=128", "accessory", None, id="an accessory decoder with a CV1 that is none"),
        pytest.param("1=5 29=128", "accessory", None, id="an accessory decoder without CV9"),
    ],
)
def test_the_address_in_the_cvs(pairs: str, kind: str | None, number: int | None) -> None:
    result = _decoded(pairs)

    assert (result.kind, result.number) == (kind, number)
    assert (result.address is None) is (kind not in {"short", "long"})


@pytest.mark.parametrize(
    ("pairs", "faults"),
    [
        pytest.param("17=195 18=232 29=34", [], id="a long address is in order"),
        pytest.param("1=44 29=2", [], id="a short address is in order"),
        pytest.param("2=5 6=90 5=200", [], id="a rising curve is in order"),
        pytest.param("2=90 6=1 5=200", [], id="a middle that is left out is in order"),
        pytest.param("2=90 6=0 5=0", [], id="a top that is left out is full drive"),
        pytest.param("15=2 16=2", [], id="an open lock is in order"),
        pytest.param("19=0 20=0", [], id="no consist is in order"),
        pytest.param("7=21 8=13", [], id="version and maker are in order"),
        pytest.param(f"1=44 29=18 {_TABLE}", [], id="a speed table in use and given is in order"),
        pytest.param("1=5 9=1 29=128", [], id="an accessory decoder is in order"),
        pytest.param("17=191 18=0", [("warning", (17, 18))], id="a CV17 below 192"),
        pytest.param("17=232 18=0", [("warning", (17, 18))], id="a CV17 beyond 231"),
        pytest.param("17=192 18=0", [("warning", (17, 18))], id="long address 0, without CV29"),
        pytest.param("17=195", [("warning", (17,))], id="CV17 alone"),
        pytest.param("18=232", [("warning", (18,))], id="CV18 alone"),
        pytest.param("17=192 18=0 29=34", [("error", (17, 18, 29))], id="long address 0"),
        pytest.param(
            "1=44 17=195 18=232 29=2", [("note", (17, 18, 29))], id="a long address with CV29 short"
        ),
        pytest.param("29=34", [("warning", (29,))], id="CV29 long without a long address"),
        pytest.param("29=2", [("warning", (29,))], id="CV29 short without a short address"),
        pytest.param("1=44 17=195 18=232 29=34", [("note", (1, 29))], id="a CV1 that is not used"),
        pytest.param("1=0", [("warning", (1,))], id="CV1 of 0, without CV29"),
        pytest.param("1=0 29=2", [("error", (1, 29))], id="CV1 of 0"),
        pytest.param("1=128 29=2", [("error", (1, 29))], id="CV1 of 128"),
        pytest.param("1=3 29=2", [("warning", (1, 29))], id="the address of most new decoders"),
        pytest.param("1=3 17=195 18=232 29=34", [("note", (1, 29))], id="a 3 that is not used"),
        pytest.param("1=44 29=6", [("warning", (29,))], id="DC operation"),
        pytest.param("1=44 29=0", [("warning", (29,))], id="14 speed steps"),
        pytest.param("1=44 29=66", [("warning", (29,))], id="the reserved bit"),
        pytest.param(
            "1=44 29=68", [("warning", (29,)), ("warning", (29,)), ("warning", (29,))], id="each wrong bit"
        ),
        pytest.param("1=44 29=18", [("note", (29,))], id="a speed table in use and not given"),
        pytest.param("19=10", [("warning", (19,))], id="in a consist"),
        pytest.param("19=138", [("warning", (19,))], id="in a consist, against it"),
        pytest.param("19=34 20=12", [("warning", (19, 20))], id="in a consist of four digits"),
        pytest.param("20=12", [("warning", (20,))], id="CV20 without CV19"),
        pytest.param("19=127 20=127", [("warning", (19, 20))], id="a consist beyond 10239"),
        pytest.param("2=90 6=60", [("error", (2, 6))], id="a start above the middle"),
        pytest.param("5=255 6=255", [], id="full drive in the middle already is in order"),
        pytest.param("6=90 5=60", [("error", (6, 5))], id="a middle above the top"),
        pytest.param("2=90 6=60 5=30", [("error", (2, 6, 5))], id="a falling curve"),
        pytest.param("2=90 5=90", [("error", (2, 5))], id="a level curve"),
        pytest.param(
            f"2=90 6=60 1=44 29=18 {_TABLE}", [], id="a falling curve beside a table in use is not used"
        ),
        pytest.param(f"{_TABLE} 70=60".replace("70=70 ", ""), [("error", (70,))], id="a table that falls"),
        pytest.param("67=10 68=5 69=12", [("error", (68,))], id="a few entries of a table, which fall"),
        pytest.param("67=10 90=9", [("error", (90,))], id="two entries far apart, which fall"),
        pytest.param("67=10 90=10", [], id="two entries far apart, which do not fall"),
        pytest.param("15=1 16=2", [("error", (15, 16))], id="a closed lock"),
        pytest.param(
            "7=255 8=255 29=255",
            [("warning", (7, 8, 29)), ("warning", (29,))],
            id="nothing but 255, which would be an accessory decoder",
        ),
        pytest.param("8=255", [("warning", (8,))], id="a reset that has not ended"),
        # Bit 7 of CV29: NMRA S-9.2.2 (Jul 2012), CV29; RCN-225 (27.07.2025), section 3.1.
        pytest.param("1=25 9=0 29=162 19=10", [("warning", (19, 29))], id="a consist beside bit 7 of CV29"),
        pytest.param("1=25 9=0 17=195 29=162", [("warning", (17, 29))], id="a long address beside bit 7"),
        pytest.param("1=1 9=0 17=0 18=1 29=192", [], id="an accessory decoder's CV17 and CV18 (RCN-225)"),
        pytest.param("513=1 521=0 541=128", [], id="an accessory decoder by aliases is in order"),
        pytest.param("541=32", [("warning", (541,))], id="an accessory decoder without bit 7"),
        # CV12: NMRA S-9.2.2 (Jul 2012) and RCN-225 (27.07.2025); bit 0 is direct current in both.
        pytest.param("1=44 29=6 12=4", [], id="DC operation where CV12 permits no direct current"),
        pytest.param("1=44 29=6 12=5", [("warning", (29,))], id="DC operation where CV12 permits it"),
        # CV28: NMRA S-9.2.2 (Jul 2012) and RCN-225 (27.07.2025), CV28: only with CV29 bit 3.
        pytest.param("1=44 29=2 28=3", [("note", (28, 29))], id="CV28 without BiDi"),
        pytest.param("1=44 29=10 28=3", [], id="CV28 with BiDi"),
        pytest.param("1=44 29=2 28=0", [], id="nothing in CV28 without BiDi"),
        # RCN-225 (27.07.2025), CV28 bit 4 and annex B: the programming address is long 0, once 3.
        pytest.param("1=44 29=10 28=16", [], id="a programming address beside a usable address"),
        pytest.param(
            "17=192 18=3 29=42 28=16",
            [("warning", (17, 18, 29)), ("warning", (17, 18, 28, 29))],
            id="a programming address beside long 3",
        ),
        pytest.param("17=192 18=3 29=42 28=1", [("warning", (17, 18, 29))], id="long 3 without it"),
        pytest.param(
            "1=0 29=10 28=16",
            [("error", (1, 29)), ("note", (1, 28, 29))],
            id="a programming address beside no usable address",
        ),
        # RCN-225 (27.07.2025), CV15/16.
        pytest.param("15=1 16=240", [("error", (15, 16)), ("warning", (16,))], id="a lock of a command"),
        pytest.param("16=240", [("warning", (16,))], id="a lock identity that is a command"),
        pytest.param("16=239", [], id="the last lock identity"),
        # RCN-225 (27.07.2025), CV11.
        pytest.param("11=0", [("note", (11,))], id="no packet time-out"),
        pytest.param("11=1", [], id="a packet time-out"),
        pytest.param("1=64 9=0 29=128", [("error", (1, 9))], id="an accessory CV1 beyond 63"),
        pytest.param("1=5 9=8 29=192", [("error", (1, 9))], id="an accessory CV9 beyond 7"),
        pytest.param(
            "29=128", [("note", (29,)), ("warning", (29,))], id="an accessory decoder without address"
        ),
    ],
)
def test_the_faults_of_a_combination(pairs: str, faults: list[tuple[str, tuple[int, ...]]]) -> None:
    result = _decoded(pairs)

    assert [(fault.severity.value, fault.cvs) for fault in result.faults] == faults
    assert result.has_error is any(severity == "error" for severity, _ in faults)


@pytest.mark.parametrize(
    ("pairs", "message", "fix"),
    [
        pytest.param(
            "1=44 17=195 18=232 29=2",
            "CV17 and CV18 hold long 1000, their factory value (RCN-225); it is not used: "
            "CV29 = 2 says short",
            "",
            id="the factory pair with CV29 short",
        ),
        pytest.param(
            "1=44 17=196 18=210 29=2",
            "long 1234 is stored and not used: CV29 = 2 says short",
            "Only if the engine is to answer long 1234, set bit 5 of CV29 (add 32).",
            id="a long address with CV29 short",
        ),
        pytest.param(
            "1=0 17=196 18=210 29=34",
            "CV1 = 0 is no short address, and not used: CV29 = 34 says long, and RCN-225 then allows any "
            "CV1; by NMRA S-9.2.2 a decoder with CV1 = 0 leaves DCC for the power source in CV12",
            "",
            id="CV1 of 0 with CV29 long",
        ),
        pytest.param(
            "1=0 29=2",
            "CV1 = 0 is no short address, and CV29 = 2 says short: the engine answers none, and RCN-225 "
            "blocks DCC; by NMRA S-9.2.2 it leaves DCC for the power source in CV12",
            "Set CV1 to an address from 1 to 127.",
            id="CV1 of 0 with CV29 short",
        ),
        pytest.param(
            "1=3 29=2",
            "the engine answers short 3, the address of most new decoders",
            "Give it an address of its own.",
            id="short 3",
        ),
        pytest.param(
            "17=100 18=5 29=34",
            "CV17 = 100 is outside 192 to 231, so the pair holds no long address, and CV29 = 34 says long",
            "Key in CV17 and CV18 again, one directly after the other.",
            id="a CV17 outside",
        ),
        pytest.param(
            "67=10 68=5 90=4",
            "the speed table falls at step 2 (5 after 10), between steps 2 and 24 (4 after 5)",
            "Make each entry at least as large as the one before.",
            id="a few entries of a table, which fall",
        ),
        pytest.param(
            "17=195",
            "CV17 is given without CV18, and only both make a long address",
            "Read CV18 too.",
            id="CV17 alone",
        ),
        pytest.param(
            "18=232",
            "CV18 is given without CV17, and only both make a long address",
            "Read CV17 too.",
            id="CV18 alone",
        ),
        pytest.param(
            "1=44 29=6",
            "DC operation is on: a glitch on the rails can start the engine at full speed, "
            "until valid packets come again",
            "Clear bit 2 of CV29 (take 4 off).",
            id="DC operation",
        ),
        pytest.param(
            "1=44 29=0",
            "14 speed steps: where 28 are sent, the headlight goes on and off as the speed changes, "
            "and every second step does nothing",
            "Set bit 1 of CV29 (add 2).",
            id="14 steps",
        ),
        pytest.param(
            "1=44 29=66",
            "bit 6 is reserved and should be 0",
            "Clear bit 6 of CV29 (take 64 off).",
            id="the reserved bit",
        ),
        pytest.param(
            "19=34 20=12",
            "in consist 1234: it ignores speed and direction sent to its own address, "
            "unless that is long 1234",
            "Set CV19 (and CV20) to 0 if it is in no consist.",
            id="in a consist, and its own address is not known",
        ),
        pytest.param(
            "1=25 29=2 19=153",
            "in consist 25: short 25 is its own address too, so it heeds speed and direction sent there",
            "Set CV19 (and CV20) to 0 if it is in no consist.",
            id="in a consist of its own address",
        ),
        pytest.param(
            "2=60 6=50 5=40",
            "the curve does not rise (CV2 = 60, CV6 = 50, CV5 = 40, in the order of speed)",
            "Make CV2 smaller than CV6, and CV6 smaller than CV5.",
            id="a falling curve",
        ),
        pytest.param(
            "15=1 16=2",
            "the lock is closed: CV15 = 1 is not CV16 = 2, so only CV15 can be written",
            "Key in CV15 = 2 before anything else.",
            id="a closed lock",
        ),
        pytest.param(
            "1=25 9=0 29=162 19=10",
            "bit 7 marks an accessory decoder; a locomotive decoder with it may not answer on DCC, "
            "and CV19 = 10 is a locomotive decoder's",
            "If it is in a locomotive, clear bit 7 of CV29 (take 128 off).",
            id="a consist beside bit 7 of CV29",
        ),
        pytest.param(
            "541=32",
            "CV541 = 32 is without bit 7 (128): an accessory decoder is then called by the commands of "
            "locomotives, not of accessories",
            "Add 128, unless it is an engine's: there CV513 to CV768 are the maker's own.",
            id="an accessory decoder without bit 7",
        ),
        pytest.param(
            "1=44 29=2 28=3",
            "CV28 = 3 does nothing while BiDi is off: CV29 = 2",
            "Only if the engine is to answer over the rails, set bit 3 of CV29 (add 8).",
            id="CV28 without BiDi",
        ),
        pytest.param(
            "11=0", "CV11 = 0: the engine never stops for want of packets", "", id="no packet time-out"
        ),
        pytest.param(
            "16=250",
            "CV16 = 250 is no identity: 240 to 255 are commands to CV15 (RCN-225)",
            "Give the decoder an identity from 1 to 239.",
            id="a lock identity that is a command",
        ),
        pytest.param(
            "1=64 9=0 29=128", "CV1 64 is outside 0 to 63", "Key in CV1 and CV9 again.", id="an accessory CV1"
        ),
    ],
)
def test_a_fault_says(pairs: str, message: str, fix: str) -> None:
    assert [(fault.message, fault.fix) for fault in _decoded(pairs).faults] == [(message, fix)]


@pytest.mark.parametrize(
    ("pairs", "meanings"),
    [
        pytest.param(
            "18=232 17=195",
            [(17, "long address, high byte of 1000"), (18, "long address, low byte of 1000")],
            id="a pair by the address it makes, in the order of CVs",
        ),
        pytest.param("17=195", [(17, "long address, high byte")], id="half of a pair by its name"),
        pytest.param(
            "1=44 29=2",
            [
                (1, "short address: 44"),
                (
                    29,
                    "configuration: direction normal, 28 or 128 speed steps, DC operation off, BiDi off, "
                    "3-point curve (CV2, CV6, CV5), short address (CV1)",
                ),
            ],
            id="short address and configuration",
        ),
        pytest.param(
            "3=10 4=20",
            [(3, "acceleration: 9.0 s from stop to top"), (4, "deceleration: 17.9 s from top to stop")],
            id="momentum in seconds",
        ),
        pytest.param(
            "2=51 5=255 6=1",
            [
                (2, "Vstart: 20 % of full drive"),
                (5, "Vhigh: 100 % of full drive"),
                (6, "Vmid: not used in the curve"),
            ],
            id="the curve in parts of full drive",
        ),
        pytest.param(
            "19=34 20=12",
            [
                (19, "consist address, with CV20: consist 1234, forward"),
                (20, "consist address, high digits, with CV19: consist 1234, forward"),
            ],
            id="a consist of four digits by both",
        ),
        pytest.param(
            "19=138", [(19, "consist address: consist 10, in reverse")], id="a consist of two digits"
        ),
        pytest.param(
            "66=128 95=0", [(66, "forward trim: 1.000 times"), (95, "reverse trim: no trim")], id="trims"
        ),
        pytest.param(
            "12=5",
            [
                (
                    12,
                    "power sources: DC, an old manufacturer unique system (NMRA S-9.2.2); DC, DCC (RCN-225)",
                )
            ],
            id="power sources by both standards",
        ),
        pytest.param(
            "12=1", [(12, "power sources: DC (NMRA S-9.2.2 and RCN-225)")], id="a power source alike in both"
        ),
        pytest.param(
            "28=3",
            [
                (
                    28,
                    "BiDi configuration: unsolicited transmission, broadcast by an asymmetrical signal "
                    "(NMRA S-9.2.2); address broadcast in channel 1, data and acknowledgement in channel 2 "
                    "(RCN-225)",
                )
            ],
            id="BiDi configuration by both standards",
        ),
        pytest.param(
            "15=255 16=240",
            [
                (15, "lock, key: 255, a command (RCN-225)"),
                (16, "lock, identity: 240 is no identity but a command to CV15 (RCN-225)"),
            ],
            id="commands of the lock",
        ),
        pytest.param(
            "9=0 10=20",
            [
                (9, "total PWM period: 131 microseconds (NMRA S-9.2.2); manufacturer unique (RCN-225)"),
                (
                    10,
                    "EMF feedback cutout: back-EMF control ends above step 20 of 128 (NMRA S-9.2.2); "
                    "manufacturer unique (RCN-225)",
                ),
            ],
            id="CVs that RCN-225 leaves to the maker",
        ),
        pytest.param("11=0", [(11, "packet time-out: never stops for want of packets")], id="no time-out"),
        pytest.param(
            "105=7 106=0",
            [
                (105, "user identification 1: 7, free for the owner"),
                (106, "user identification 2: 0, free for the owner"),
            ],
            id="the owner's own values",
        ),
        pytest.param(
            "514=1 541=128",
            [
                (514, "auxiliary activation"),
                (541, "configuration: BiDi off, basic packets, address of the decoder, accessory decoder"),
            ],
            id="auxiliary activation of an accessory decoder (from memory of S-9.2.2, Table 3)",
        ),
        pytest.param("23=129", [(23, "acceleration adjustment: -1 units, -0.9 s")], id="an adjustment"),
        pytest.param(
            "30=0 300=7",
            [(30, "error"), (300, "indexed CV 44 of 256")],
            id="CVs without words of their own",
        ),
        pytest.param(
            "1=5 9=1 29=128",
            [
                (1, "accessory address, low bits"),
                (9, "accessory address, high bits"),
                (29, "configuration: BiDi off, basic packets, address of the decoder, accessory decoder"),
            ],
            id="an accessory decoder by the names of its own",
        ),
    ],
)
def test_cvs_mean(pairs: str, meanings: list[tuple[int, str]]) -> None:
    assert [(setting.cv, setting.meaning) for setting in _decoded(pairs).settings] == meanings


@pytest.mark.parametrize(
    ("pairs", "values"),
    [
        pytest.param(["29=34"], {29: 34}, id="CV and value"),
        pytest.param(["CV29=34", "cv1=3"], {29: 34, 1: 3}, id="with CV before it"),
        pytest.param([" 29 = 34 "], {29: 34}, id="with blanks"),
        pytest.param(["29=34", "29=34"], {29: 34}, id="the same twice"),
        pytest.param(
            ["17=195 18 = 232, 29=34,1=3"], {17: 195, 18: 232, 29: 34, 1: 3}, id="several in one text"
        ),
        pytest.param(["1=0", "1024=255"], {1: 0, 1024: 255}, id="the first and the last of both"),
    ],
)
def test_pairs_are_read(pairs: list[str], values: dict[int, int]) -> None:
    assert cv_values(pairs) == values


@pytest.mark.parametrize(
    ("pairs", "message", "fix"),
    [
        pytest.param(
            ["29"], "'29' is not a CV and its value", "Write CV=VALUE, such as 29=34.", id="no value"
        ),
        pytest.param(
            ["1=3", " "],
            "'' is not a CV and its value",
            "Write CV=VALUE, such as 29=34.",
            id="nothing",
        ),
        pytest.param(
            ["29=-"],
            "'29=-' is not a CV and its value",
            "Leave out what gave no acknowledgment.",
            id="no answer",
        ),
        pytest.param(
            ["29=3=4"],
            "'29=3=4' is not a CV and its value",
            "Write CV=VALUE, such as 29=34.",
            id="two values",
        ),
        pytest.param(
            ["a=b"], "'a=b' is not a CV and its value", "Write CV=VALUE, such as 29=34.", id="words"
        ),
        pytest.param(
            ["1=" + "9" * 5000],
            f"'1={'9' * 5000}' is not a CV and its value",
            "Write CV=VALUE, such as 29=34.",
            id="thousands of digits",
        ),
        pytest.param(
            ["0=1"],
            "'0=1': CVs are 1 to 1024 and their values 0 to 255",
            "Correct the CV or its value.",
            id="CV 0",
        ),
        pytest.param(
            ["1025=1"],
            "'1025=1': CVs are 1 to 1024 and their values 0 to 255",
            "Correct the CV or its value.",
            id="CV 1025",
        ),
        pytest.param(
            ["29=256"],
            "'29=256': CVs are 1 to 1024 and their values 0 to 255",
            "Correct the CV or its value.",
            id="a value of 256",
        ),
        pytest.param(
            ["29=34", "29=2"],
            "CV29 is given as 34 and as 2",
            "Give each CV once.",
            id="two values of one CV",
        ),
    ],
)
def test_pairs_cannot_be_read(pairs: list[str], message: str, fix: str) -> None:
    with pytest.raises(CannotRunError) as caught:
        cv_values(pairs)

    assert (caught.value.message, caught.value.fix) == (message, fix)


@given(
    st.dictionaries(st.integers(1, 1024) | st.sampled_from([1, 9, 17, 18, 19, 20, 29]), st.integers(0, 255))
)
def test_whatever_stands_in_cvs_is_explained_each_once(values: dict[int, int]) -> None:
    result = decoded(values)

    assert [(setting.cv, setting.value) for setting in result.settings] == sorted(values.items())
    assert all(setting.meaning for setting in result.settings)
    assert all(fault.cvs and fault.message for fault in result.faults)
    assert all(fault.fix.endswith(".") for fault in result.faults if fault.fix)


@given(st.integers(1, 127) | st.integers(128, 10239))
def test_the_cvs_of_an_address_say_that_address(address: int) -> None:
    """RCN-225 (27.07.2025), CV17/18, and NMRA S-9.2.2 (Jul 2012), CV1 and CV29 bit 5."""
    values = {1: address, 29: 2} if address < 128 else {17: 192 + address // 256, 18: address % 256, 29: 34}

    assert decoded(values).number == address
