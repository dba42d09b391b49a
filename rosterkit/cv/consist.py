"""An engine's place in a consist, made into CV19 to CV22."""

from contextlib import suppress

from rosterkit.roster.model import ConsistMember
from rosterkit.standards.consists import CONSIST_ADDRESSES, cv19_cv20_of
from rosterkit.standards.function_notation import functions_in
from rosterkit.standards.functions import consist_function_cvs

NO_CONSIST = {19: 0}
"""What an engine in no consist holds; CV20 is cleared only where something was read in it."""


def consist_column(member: ConsistMember, *, meet: bool) -> str:
    """Name the column of the address that an engine's consist answers: at a meet Meet address, if filled."""
    filled = member.meet_address is not None or "meet_address" in member.unusable
    return "meet_address" if meet and filled else "address"


def consist_address(member: ConsistMember, *, meet: bool) -> int | None:
    """Return the address that an engine's consist answers, 1 to 10239; None where it cannot be used."""
    return member.meet_address if consist_column(member, meet=meet) == "meet_address" else member.address


def consist_cvs(member: ConsistMember, *, meet: bool = False) -> dict[int, int]:
    """Return the CVs of a row of Consists in the order of keying in; empty where it cannot be used.

    CV20 is set for addresses above 127 only (RCN-225 (27.07.2025), CV19/20): older decoders have no such
    CV (NMRA S-9.2.2 (Jul 2012), Table 1: reserved). CV21 and CV22 are set where Functions is filled.
    """
    address = consist_address(member, meet=meet)
    if address is None or {"facing", "loco"} & member.unusable:
        return {}
    cv19, cv20 = cv19_cv20_of(address, member.facing == "reverse")
    values = {19: cv19} if address in CONSIST_ADDRESSES else {19: cv19, 20: cv20}
    if member.functions is not None:
        with suppress(ValueError):
            values[21], values[22] = consist_function_cvs(functions_in(member.functions))
    return values
