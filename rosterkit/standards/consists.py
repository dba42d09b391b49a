"""Consist addresses as CV19 and CV20 hold them."""

from dataclasses import dataclass

from rosterkit.standards.bounds import BYTE, within

CONSIST_CV = 19
"""The consist address of 7 bits, and its direction (NMRA S-9.2.2, Jul 2012, CV19)."""

CONSIST_ADDRESSES = range(1, 128)
"""NMRA S-9.2.2 (Jul 2012), CV19: they share the space of the short addresses."""

LONG_CONSIST_ADDRESSES = range(128, 10240)
"""What only CV19 and CV20 together can hold (RCN-225, 27.07.2025, CV19/20)."""

REVERSED_BIT = 128
"""Bit 7 of CV19: the engine runs against the consist."""

LEAD_BIT = 128
"""Bit 7 of CV20: the leading engine, for BiDi (RCN-225, 27.07.2025)."""


@dataclass(frozen=True, slots=True, kw_only=True)
class ConsistPlace:
    """An engine's place in a consist as its decoder holds it."""

    address: int | None
    """The consist's address; None where the engine is in none."""
    reversed: bool = False
    """It runs against the consist."""
    lead: bool = False
    """It is marked as the leading engine."""
    long: bool = False
    """The address is a 14-bit one, in the space of the long addresses."""


def cv19_of(address: int | None, reversed: bool = False) -> int:  # noqa: A002 - the trade's word
    """Return CV19 for a consist address, 1 to 127, or None for no consist; 10 reversed is 138.

    NMRA S-9.2.2 (Jul 2012), CV19. ValueError outside.
    """
    low = 0 if address is None else within(address, CONSIST_ADDRESSES, "consist address")
    return low + REVERSED_BIT * reversed


def consist_of(cv19: int) -> ConsistPlace:
    """Read CV19, 0 to 255, with CV20 at 0; 0 and 128 are no consist (NMRA S-9.2.2, Jul 2012, CV19).

    ValueError outside.
    """
    within(cv19, BYTE, "CV19")
    return ConsistPlace(address=cv19 & 127 or None, reversed=bool(cv19 & REVERSED_BIT))


def cv19_cv20_of(
    address: int | None,
    reversed: bool = False,  # noqa: A002 - the trade's word
    lead: bool = False,
) -> tuple[int, int]:
    """Return CV19 and CV20 for a consist address, 1 to 10239, or None for no consist.

    RCN-225 (27.07.2025), CV19/20: from 128 up the last two decimal digits are in CV19, those before them in
    CV20; up to 127 it is the 7-bit address of NMRA S-9.2.2 (Jul 2012) and CV20 has no digits. 1234 is 34 and
    12; marked as the lead, 34 and 140. An older decoder has CV20 reserved. ValueError outside.
    """
    if address is None or address in CONSIST_ADDRESSES:
        return cv19_of(address, reversed), LEAD_BIT * lead
    within(address, range(1, 10240), "consist address")
    high, low = divmod(address, 100)
    return low + REVERSED_BIT * reversed, high + LEAD_BIT * lead


def decimal_consist_number(cv19: int, cv20: int) -> int:
    """Return the number in CV19 and CV20, both 0 to 255, before it is judged.

    100 times CV20 plus CV19, their bits 7 left out (RCN-225, 27.07.2025, CV19/20). ValueError outside.
    """
    return 100 * (within(cv20, BYTE, "CV20") & 127) + (within(cv19, BYTE, "CV19") & 127)


def consist_of_pair(cv19: int, cv20: int) -> ConsistPlace:
    """Read CV19 and CV20, 0 to 255 (RCN-225, 27.07.2025, CV19/20).

    Over 99 in CV19 is not meant beside digits in CV20, but borne; over 10239 is no consist. 0 beside a CV20
    of 128 is not defined, and read as no consist. ValueError outside.
    """
    number = decimal_consist_number(cv19, cv20)
    in_consist = 0 < number <= LONG_CONSIST_ADDRESSES[-1]
    return ConsistPlace(
        address=number if in_consist else None,
        reversed=bool(cv19 & REVERSED_BIT),
        lead=bool(cv20 & LEAD_BIT),
        long=in_consist and bool(cv20 & 127),
    )


def ignores_own_address(cv19: int, cv20: int = 0) -> bool:
    """Tell whether an engine leaves speed and direction sent to its own address unheeded: it is in a consist.

    NMRA S-9.2.1 (Jul 2012), Consist Control, unless the consist has the engine's own address. CV19 and CV20
    are 0 to 255; ValueError outside.
    """
    return consist_of_pair(cv19, cv20).address is not None
