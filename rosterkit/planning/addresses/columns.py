"""The numbers by which the solver knows addresses, its columns: short addresses first, then long ones."""

import numpy as np

from rosterkit.cv.addresses import Address, Space
from rosterkit.planning.addresses.allowed import SIZE, AllowedAddresses, Flags
from rosterkit.planning.addresses.parties import Party, PartyKind

COLUMNS = 2 * SIZE
"""How many columns there are."""

Key = tuple[bool, tuple[Space, ...], str]
"""What is the same for parties that may move to the same addresses."""


def shift_of(space: Space) -> int:
    """Return what the columns of a space are above the addresses."""
    return SIZE if space is Space.LONG else 0


def column_of(address: Address) -> int:
    """Return the column of an address."""
    return address.number + shift_of(address.space)


def address_at(column: int) -> Address:
    """Return the address of a column."""
    return Address(Space.LONG, column - SIZE) if column >= SIZE else Address(Space.SHORT, column)


def key_of(party: Party, permitted: AllowedAddresses) -> Key:
    """Return what is the same for parties that may move to the same addresses."""
    return party.kind is PartyKind.CONSIST, party.spaces, permitted.known(party.owner)


def columns_for(party: Party, permitted: AllowedAddresses) -> Flags:
    """Flag all columns that a party may move to."""
    found = np.zeros(COLUMNS, dtype=np.bool_)
    for space in party.spaces:
        allowed = (
            permitted.for_consists(party.owner)
            if party.kind is PartyKind.CONSIST
            else permitted.allowed(space, party.owner)
        )
        found[shift_of(space) :][:SIZE] = allowed
    return found
