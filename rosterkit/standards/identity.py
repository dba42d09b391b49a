"""Who made a decoder, who owns it, and whether it is locked: CV7, CV8, CV15, CV16 and CV105 to CV108."""

from rosterkit.standards.bounds import BYTE, within

VERSION_CV = 7
MAKER_CV = 8

READ_ONLY_CVS = (VERSION_CV, MAKER_CV)
"""Never written as ordinary values (NMRA S-9.2.2, Jul 2012; RCN-225, 27.07.2025; RCN-226, 2014, section
3.2)."""

RESET_VALUE = 8
"""Written to CV8 in service mode, it resets all CVs (RCN-226, 2014, section 2.1): the only standard
value."""

RESET_IN_PROGRESS = 255
"""What CV8 reads until a reset has ended (NMRA S-9.2.3, Jul 2012, Decoder Factory Reset)."""

EXTENDED_ID = 238
"""The ID that points to CV107 and CV108 (NMRA S-9.2.2, Jul 2012, CV107/108; RCN-225, 27.07.2025)."""

DO_IT_YOURSELF = 13
"""The ID of the public domain, of home-made decoders (NMRA S-9.2.2, app. A, secondary source)."""

OWNER_CVS = (105, 106)
"""Free for the owner, such as for a membership number (NMRA S-9.2.2, Jul 2012, CV105/106)."""

LOCK_KEY_CV = 15
LOCK_IDENTITY_CV = 16
LOCK_CVS = (LOCK_KEY_CV, LOCK_IDENTITY_CV)

UNLOCK_ALL = 255
"""Written to CV15, it copies CV16 there and is not kept itself (RCN-225, 27.07.2025, CV15/16)."""

LOCK_COMMANDS = range(240, 256)
"""Commands to CV15, so no identities for CV16 (RCN-225, 27.07.2025, CV15/16)."""

LOCK_IDENTITIES = {1: "motor", 2: "sound"}
"""Usual identities in CV16; 3 and over for others (NMRA S-9.2.2, Jul 2012, CV15/16)."""

FLAG_SUBADDRESSES = range(8)
"""Identities that the Set Decoder Flags instruction can name; 0 is all (NMRA S-9.2.1, Jul 2012)."""


def maker_words(cv8: int) -> str:
    """Say what CV8, 0 to 255, reads as: a manufacturer by its ID, or a value with a meaning of its own.

    NMRA S-9.2.2 (Jul 2012), CV8; S-9.2.3 (Jul 2012), Decoder Factory Reset. ValueError outside.
    """
    named = {
        DO_IT_YOURSELF: "public domain or home-made",
        EXTENDED_ID: "manufacturer ID in CV107 and CV108",
        RESET_IN_PROGRESS: "a reset has not ended yet",
    }
    return named.get(within(cv8, BYTE, "CV8"), f"manufacturer ID {cv8}")


def extended_id_cvs(maker: int) -> tuple[int, int]:
    """Return CV107 and CV108 of a 12-bit manufacturer ID, 0 to 4095: the high four bits and the low byte.

    RCN-225 (27.07.2025), CV107/108. ValueError outside.
    """
    return divmod(within(maker, range(4096), "extended manufacturer ID"), 256)


def lock_is_open(cv15: int, cv16: int) -> bool:
    """Tell whether a decoder takes writes: CV15 and CV16, 0 to 255, are equal. ValueError outside.

    NMRA S-9.2.2 (Jul 2012), CV15/16; RCN-225 (27.07.2025), where a closed lock stops reading too.
    """
    return within(cv15, BYTE, "CV15") == within(cv16, BYTE, "CV16")


def is_lock_identity(cv16: int) -> bool:
    """Tell whether CV16, 0 to 255, may be an identity: not 240 to 255 (RCN-225, 27.07.2025, CV15/16).

    0 may, but then CV15 = 0 no longer locks every decoder. ValueError outside.
    """
    return within(cv16, BYTE, "CV16") not in LOCK_COMMANDS


def cv15_after_write(written: int, cv16: int) -> int:
    """Return CV15 after 0 to 239 or 255 was written; 255 takes the value of CV16, 0 to 255, and so unlocks.

    RCN-225 (27.07.2025), CV15/16. ValueError outside, and for the commands 240 to 254, which have other
    effects.
    """
    within(cv16, BYTE, "CV16")
    if written == UNLOCK_ALL:
        return cv16
    if not 0 <= written < LOCK_COMMANDS.start:
        raise ValueError(f"CV15 {written} is outside 0 to 239 and 255")
    return written
