"""CVs about the motor and about stopping, in words: CV9, CV10, CV11, CV12, CV25 and CV27."""

from rosterkit.standards.bounds import BYTE, within
from rosterkit.standards.families import StandardFamily

LEAST_LONGEST_TIMEOUT_SECONDS = 20
"""The highest CV11 must wait at least so long (RCN-225, 27.07.2025, CV11)."""

SHORTEST_TIMEOUT_MILLISECONDS = 30
"""No CV11 may wait less (RCN-225, 27.07.2025, CV11)."""

AUTO_STOPS = {
    0: "asymmetrical DCC, right rail more positive",
    1: "asymmetrical DCC, left rail more positive",
    2: "signal-controlled cut-outs",
    4: "DC of the reverse direction",
    5: "DC of the forward direction",
}
"""What the bits of CV27 let an engine stop for (NMRA S-9.2.2, Jul 2012, CV27); bits 3, 6 and 7 are
reserved."""

CV12 = 12
"""Which power sources a decoder may run on (NMRA S-9.2.2, Jul 2012, CV12; RCN-225, 27.07.2025, CV12)."""

_POWER_SOURCES = {
    StandardFamily.NMRA: ("DC", "radio", "an old manufacturer unique system"),
    StandardFamily.RCN: ("DC", "radio", "DCC", "another protocol (bit 3)", "AC"),
}


def pwm_period(cv9: int) -> int:
    """Return the motor pulse period in microseconds, 131 to 32640, for CV9, 0 to 255.

    NMRA S-9.2.2 (Jul 2012), CV9: (131 + 4 x bits 0 to 4) x 2 to the power of bits 5 to 7, as recommended.
    RCN-225 (27.07.2025) leaves the period to the maker. ValueError outside.
    """
    within(cv9, BYTE, "CV9")
    return (131 + 4 * (cv9 & 31)) << (cv9 >> 5)


def cv10_words(cv10: int, family: StandardFamily) -> str:
    """Say what CV10, 0 to 255, does: the step above which back-EMF control ends, 1 to 128.

    NMRA S-9.2.2, Jul 2012. RCN-225 (27.07.2025) leaves it to the maker. ValueError outside.
    """
    within(cv10, BYTE, "CV10")
    if family is StandardFamily.RCN:
        return "manufacturer unique"
    if cv10 not in range(1, 129):
        return "not defined"
    return f"back-EMF control ends above step {cv10} of 128"


def cv11_words(cv11: int) -> str:
    """Say how long a decoder waits for a packet, CV11, 0 to 255: the unit is the maker's.

    RCN-225 (27.07.2025), CV11; NMRA S-9.2.4 secondary source. ValueError outside.
    """
    if within(cv11, BYTE, "CV11") == 0:
        return "never stops for want of packets"
    return f"stops after {cv11} of the maker's units without a packet"


def cv12_words(cv12: int, family: StandardFamily) -> list[str]:
    """Name the power sources and protocols that CV12, 0 to 255, permits.

    NMRA S-9.2.2 (Jul 2012), CV12, and RCN-225 (27.07.2025), CV12, differ from bit 2 up. ValueError outside.
    """
    within(cv12, BYTE, "CV12")
    named = _POWER_SOURCES[family]
    return [_power_source(bit, named) for bit in range(8) if cv12 >> bit & 1]


def permits_dc(cv12: int | None) -> bool:
    """Tell whether CV12, 0 to 255, permits direct current, its bit 0; so it may where CV12 is not known.

    NMRA S-9.2.2 (Jul 2012), CV12; RCN-225 (27.07.2025), CV12: there CV29 bit 2 needs the bit as well.
    ValueError outside.
    """
    return cv12 is None or bool(within(cv12, BYTE, "CV12") & 1)


def _power_source(bit: int, named: tuple[str, ...]) -> str:
    if bit < len(named):
        return named[bit]
    return "reserved bit 7" if bit == 7 else f"another protocol (bit {bit})"


def cv25_words(cv25: int) -> str:
    """Say which speed curve CV25, 0 to 255, picks (NMRA S-9.2.2, Jul 2012, CV25; RCN-225, 27.07.2025, CV25).

    Above 154 RCN says no effect, NMRA a middle at step 14 of 28 or 7 of 14. RCN passes CV25 over while CV29
    bit 4 is set. ValueError outside.
    """
    within(cv25, BYTE, "CV25")
    if cv25 < 2:
        return "not used"
    if cv25 == 2:
        return "built-in table 2, a straight line"
    if cv25 < 128:
        return f"built-in table {cv25}"
    if cv25 <= 154:
        return "place of the middle speed among the 28 steps"
    return "no effect"


def cv27_words(cv27: int) -> list[str]:
    """Say what CV27, 0 to 255, lets an engine stop for (NMRA S-9.2.2, Jul 2012, CV27); ValueError outside."""
    within(cv27, BYTE, "CV27")
    return [AUTO_STOPS.get(bit, f"reserved bit {bit}") for bit in range(8) if cv27 >> bit & 1]
