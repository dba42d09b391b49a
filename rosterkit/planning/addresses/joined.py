"""Consists at the address of engines of theirs, such as the lead: one party of a plan while they stay."""

from collections.abc import Collection, Sequence
from dataclasses import dataclass, replace

from rosterkit.cv.addresses import Address
from rosterkit.planning.addresses.allowed import AllowedAddresses
from rosterkit.planning.addresses.parties import Party, PartyKind
from rosterkit.planning.addresses.reasons import reason_to_move


@dataclass(frozen=True, slots=True, kw_only=True)
class Together:
    """Parties of which some stand for a consist and engines of it."""

    parties: Sequence[Party]
    joined: frozenset[str]
    """Names of the consists that stand for engines of theirs too."""


def with_own_engines(
    parties: Sequence[Party], permitted: AllowedAddresses, apart: Collection[str]
) -> Together:
    """Join each consist with the party of engines of it that answers its address, where both may stay there.

    That is no clash: such an engine only cannot be driven alone. What could not stay there for a reason of
    its own, such as a range that is for consists only, is left as it is; so are the consists named in
    ``apart``, and those with several such parties, which clash with each other. The order stays.
    """
    consists = [one for one in parties if one.kind is PartyKind.CONSIST and one.name not in apart]
    by_address: dict[Address, list[Party]] = {one.address: [] for one in consists if one.address is not None}
    for party in parties:
        if party.kind is not PartyKind.CONSIST and party.address in by_address:
            by_address[party.address].append(party)
    own: dict[str, Party] = {}
    taken: set[int] = set()
    for consist in consists:
        inside = [
            party
            for party in (by_address[consist.address] if consist.address is not None else ())
            if id(party) not in taken and is_one_consist([consist, party])
        ]
        if len(inside) == 1 and all(reason_to_move(one, permitted) is None for one in (consist, inside[0])):
            own[consist.name] = inside[0]
            taken.add(id(inside[0]))
    return Together(
        parties=[_with(one, own) for one in parties if id(one) not in taken], joined=frozenset(own)
    )


def is_one_consist(parties: Sequence[Party]) -> bool:
    """Tell whether parties are one consist and engines of it."""
    consists = [party for party in parties if party.kind is PartyKind.CONSIST]
    return len(consists) == 1 and all(set(party.engines) <= set(consists[0].engines) for party in parties)


def _with(party: Party, own: dict[str, Party]) -> Party:
    if party.kind is not PartyKind.CONSIST or party.name not in own:
        return party
    engines = own[party.name]
    return replace(party, club=engines.club, agreed=party.agreed or engines.agreed)
