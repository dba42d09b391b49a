"""Locomotive addresses, short and long, as the CVs CV1, CV17 and CV18 hold them."""

from collections.abc import Mapping

from rosterkit.standards.bounds import BYTE, within
from rosterkit.standards.configuration import LONG_ADDRESS

SHORT_ADDRESSES = range(1, 128)
"""NMRA S-9.2.2 (Jul 2012), CV1; RCN-225 (27.07.2025), CV1."""

LONG_ADDRESSES = range(1, 10240)
"""RCN-225 (27.07.2025), CV17/18: 0 is not allowed. S-9.2.2 is silent on 0; neither text forbids 1 to 127."""

HIGH_BYTES = range(192, 232)
"""What CV17 may hold (NMRA S-9.2.2, Jul 2012, CV17/18)."""

DEFAULT_SHORT_ADDRESS = 3
"""NMRA S-9.2.2 (Jul 2012), CV1; RCN-225 (27.07.2025), CV1: as shipped, unless installed in a locomotive."""

DEFAULT_LONG_ADDRESS = 1000
"""RCN-225 (27.07.2025), CV17/18; NMRA 2012 gives none."""

SERVICE_MODE_LOOKALIKES = range(112, 128)
"""Short addresses whose packets begin like service mode packets (NMRA S-9.2.3, Jul 2012, section C)."""

KIND_DIFFERS = range(100, 128)
"""Short on some systems and long on others (common practice); also first bytes to keep off the rails for
20 ms after a reset (NMRA S-9.2.1, Jul 2012)."""

USUAL_LONG_ADDRESSES = range(128, 10000)
"""Long addresses that nearly every system and throttle can call (common practice)."""


WRITE_ORDER = (1, 17, 18, 29, 19, 20)
"""An order in which no write undoes another (derived from NMRA S-9.2.3, Jul 2012, section E, which lets CV1
clear CV29 bit 5 and CV19, and from S-9.2.1, Jul 2012: CV17 takes effect when CV18 is written)."""


def cv1_of(address: int) -> int:
    """Return the CV1 of a short address, 1 to 127 (NMRA S-9.2.2, Jul 2012, CV1); ValueError outside."""
    return within(address, SHORT_ADDRESSES, "short address")


def long_address_cvs(address: int) -> tuple[int, int]:
    """Return CV17 and CV18 of a long address, 1 to 10239 (RCN-225, 27.07.2025, CV17/18); ValueError outside.

    Both are to be written, CV17 first, even if only one changes (NMRA S-9.2.1, Jul 2012, long form, footnote
    8).
    """
    within(address, LONG_ADDRESSES, "long address")
    return 192 + address // 256, address % 256


def long_address(cv17: int, cv18: int) -> int:
    """Return the long address in CV17, 192 to 231, and CV18, 0 to 255 (RCN-225, 27.07.2025, CV17/18).

    ValueError outside, and for 192 with 0, which would be the forbidden address 0.
    """
    within(cv17, HIGH_BYTES, "CV17")
    within(cv18, BYTE, "CV18")
    return within((cv17 - 192) * 256 + cv18, LONG_ADDRESSES, "long address")


def leaves_dcc_by_nmra(cv1: int) -> bool:
    """Tell whether CV1, 0 to 255, sends the decoder to the other power source of CV12: 0.

    NMRA S-9.2.2, Jul 2012, CV1. ValueError outside.
    """
    return within(cv1, BYTE, "CV1") == 0


def leaves_dcc_by_rcn(cv1: int, cv29: int) -> bool:
    """Tell whether CV1 blocks DCC: 0 or over 127 while CV29 bit 5 is 0 (RCN-225, 27.07.2025, CV1).

    Both are 0 to 255; programming goes on working. ValueError outside.
    """
    within(cv29, BYTE, "CV29")
    return within(cv1, BYTE, "CV1") not in SHORT_ADDRESSES and not cv29 & LONG_ADDRESS


def cvs_after_writing_cv1(cvs: Mapping[int, int], address: int) -> dict[int, int]:
    """Return the CVs after a short address, 1 to 127, was written: CV29 bit 5 and CV19 are cleared.

    NMRA S-9.2.3 (Jul 2012), section E ("using any method"). RCN-225 (27.07.2025) leaves the bit to the maker
    and is silent on CV19: rely neither on their clearing nor on their surviving. CVs that are not known
    stay unknown. ValueError outside.
    """
    after = {**cvs, 1: cv1_of(address)}
    if 29 in after:
        after[29] &= ~LONG_ADDRESS
    if 19 in after:
        after[19] = 0
    return after
