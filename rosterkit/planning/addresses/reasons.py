"""Why a party of a plan moves, why to this address, and what would help one for which there is none."""

from rosterkit.cv.addresses import Address, Space
from rosterkit.cv.number_to_address import choices_of
from rosterkit.planning.addresses.allowed import AllowedAddresses, ambiguous
from rosterkit.planning.addresses.parties import Party, PartyKind


def reason_to_move(party: Party, permitted: AllowedAddresses) -> str | None:
    """Say why a party cannot keep its address whoever else has it; None where it can."""
    address = party.address
    if address is None:
        return "it has no address yet"
    if party.kind is PartyKind.CONSIST:
        if permitted.consist_may_stay(address, party.owner):
            return None
        return f"a consist may not use {address}"
    if address.space is Space.LONG and not party.takes_long:
        return f"its decoder cannot take {address}"
    return permitted.objection(address, party.owner)


def reason_for_address(party: Party, address: Address, permitted: AllowedAddresses) -> str:
    """Say how an address was found for a party."""
    if party.kind is PartyKind.CONSIST:
        return f"{address.number} is the nearest free address for a consist"
    choices = choices_of(party.number, permitted.rules.address_rule)
    kept = next((choice for choice in choices if choice.number == address.number), None)
    parts = [kept.because if kept else f"{address.number} is the nearest free one"]
    ruling = permitted.ruling(address)
    if ruling is not None and ruling.member is not None:
        parts.append(f"in {ruling.member}'s range")
    elif ruling is not None and ruling.use == "meet only":
        parts.append("lent for the meet")
    if ambiguous(address.space)[address.number]:
        parts.append("though some systems take it for another kind")
    return ", ".join(parts)


def what_would_help(party: Party, permitted: AllowedAddresses) -> str:
    """Say what would make room for a party that found no address."""
    if party.kind is PartyKind.CONSIST:
        return "Keep more addresses for consists in Address ranges, or take a consist apart."
    members = [space for space in party.spaces if permitted.has_own(space, party.owner)]
    if not party.takes_long:
        return "Give it a decoder that takes long addresses, or leave another short engine at home."
    if members:
        return f"Give {party.owner} a larger range in Address ranges, or leave an engine at home."
    return "Widen the ranges for engines in Address ranges, or leave an engine at home."
