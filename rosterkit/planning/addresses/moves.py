"""The fewest changes of addresses after which no two engines on the same layout answer the same one."""

from collections.abc import Iterable, Iterator, Mapping, Sequence
from dataclasses import dataclass, replace
from functools import cached_property

from rosterkit.cv.addresses import Address, Space
from rosterkit.planning.addresses.allowed import AllowedAddresses
from rosterkit.planning.addresses.costs import PREFERENCES, Cost, Weights, cost_of_moving, weights_for
from rosterkit.planning.addresses.edges import cost_of_address
from rosterkit.planning.addresses.fixed_parties import MoveCosts
from rosterkit.planning.addresses.model import Consist, Engine, LayoutRules
from rosterkit.planning.addresses.parties import Party, PartyKind, parties_of
from rosterkit.planning.addresses.reasons import reason_for_address, reason_to_move, what_would_help
from rosterkit.planning.addresses.solve import cheapest_places


@dataclass(frozen=True, slots=True, kw_only=True)
class Move:
    """A party that changes its address for a meet."""

    party: Party
    after: Address
    because: str

    @property
    def before(self) -> Address | None:
        """The address it had; None where it had none."""
        return self.party.address


@dataclass(frozen=True, slots=True, kw_only=True)
class Unresolved:
    """A party for which there is no address."""

    party: Party
    because: str
    helps: str
    """What would make room for it, as a sentence."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Clash:
    """Parties on the same layout that answer the same address."""

    layout: str
    address: Address
    parties: tuple[Party, ...]


@dataclass(frozen=True, slots=True, kw_only=True)
class Plan:
    """Who moves where; no other plan costs less."""

    moves: tuple[Move, ...]
    unresolved: tuple[Unresolved, ...]
    clashes: tuple[Clash, ...]
    """What the moves put right."""
    cost: Cost


def plan_moves(
    engines: Iterable[Engine],
    consists: Iterable[Consist] = (),
    rules_by_layout: Mapping[str, LayoutRules] | None = None,
    preferences: Sequence[str] = PREFERENCES,
) -> Plan:
    """Plan the moves for a meet, at the least cost (see Cost), each layout on its own.

    Args:
        engines: every engine that comes to the meet, each key only once.
        consists: every consist that is formed by consist addresses.
        rules_by_layout: the rules of each layout, by the ``layout`` of its engines; none where it has none.
        preferences: the items of Cost that break ties, the gravest first.

    Raises:
        ValueError: if an engine's key or a consist's key stands twice, or the preferences are not known.
    """
    parties = parties_of(engines, consists)
    _require_unique(parties)
    by_layout: dict[str, list[Party]] = {}
    for party in parties:
        by_layout.setdefault(party.layout, []).append(party)
    plans = [
        _Layout(some, (rules_by_layout or {}).get(layout, LayoutRules()), preferences).plan()
        for layout, some in by_layout.items()
    ]
    return Plan(
        moves=tuple(move for plan in plans for move in plan.moves),
        unresolved=tuple(one for plan in plans for one in plan.unresolved),
        clashes=tuple(clash for plan in plans for clash in plan.clashes),
        cost=sum((plan.cost for plan in plans), Cost()),
    )


def _require_unique(parties: Iterable[Party]) -> None:
    seen: set[tuple[bool, str]] = set()
    for party in parties:
        consist = party.kind is PartyKind.CONSIST
        for key in [party.name] if consist else party.engines:
            if (consist, key) in seen:
                raise ValueError(f"the {'consist' if consist else 'engine'} '{key}' stands twice")
            seen.add((consist, key))


class _Layout:
    """The planning of one layout."""

    def __init__(self, parties: Sequence[Party], rules: LayoutRules, preferences: Sequence[str]) -> None:
        self._parties = parties
        self._permitted = AllowedAddresses(rules)
        self._weights: Weights = weights_for(parties, preferences)

    @cached_property
    def _objections(self) -> list[str | None]:
        return [reason_to_move(party, self._permitted) for party in self._parties]

    @cached_property
    def _holders(self) -> dict[Address, list[int]]:
        """The parties that may keep their address, by address."""
        holders: dict[Address, list[int]] = {}
        for index, party in enumerate(self._parties):
            if party.address is not None and self._objections[index] is None:
                holders.setdefault(party.address, []).append(index)
        return holders

    @cached_property
    def _moving(self) -> list[Cost]:
        """What it costs that a party moves at all; the parties are in the order of registration."""
        number = len(self._parties)
        later = {party.registered: number - at for at, party in enumerate(self._parties, 1)}
        in_turn = sorted(range(number), key=lambda index: self._parties[index].turn)
        after = {index: number - at for at, index in enumerate(in_turn, 1)}
        return [
            cost_of_moving(party, later[party.registered], after[index])
            for index, party in enumerate(self._parties)
        ]

    def plan(self) -> Plan:
        """Find everybody's address, and say who moves and who is left."""
        moving = [self._weights.total(cost) for cost in self._moving]
        # To be left costs the same as to move, but that it counts as unresolved.
        more = self._weights.of["unresolved"] - self._weights.of["moved"]
        left = [cost + more * party.weight for cost, party in zip(moving, self._parties, strict=True)]
        move_costs = MoveCosts(moving=moving, left=left, holders=self._holders)
        return self._result(cheapest_places(self._parties, self._permitted, self._weights, move_costs))

    def _left(self, index: int) -> Cost:
        """Return what it costs to leave a party as it is, in a clash."""
        return replace(self._moving[index], moved=0, unresolved=self._parties[index].weight)

    def _result(self, places: Mapping[int, Address | None]) -> Plan:
        moves: list[Move] = []
        unresolved: list[Unresolved] = []
        cost = Cost()
        for index in sorted(places):
            party, place = self._parties[index], places[index]
            if place is None:
                cost += self._left(index)
                unresolved.append(self._unresolved(index))
            elif place != party.address:
                cost += self._moving[index] + cost_of_address(party, place, self._permitted)
                because = f"{self._why(index)}; {reason_for_address(party, place, self._permitted)}"
                moves.append(Move(party=party, after=place, because=because))
        return Plan(
            moves=tuple(moves), unresolved=tuple(unresolved), clashes=tuple(self._clashes()), cost=cost
        )

    def _unresolved(self, index: int) -> Unresolved:
        party = self._parties[index]
        helps = what_would_help(party, self._permitted)
        crowd, room = len(self._parties), sum(int(self._permitted.drivable(space).sum()) for space in Space)
        if crowd > room:
            helps = (
                f"{crowd} come to a layout of {room} addresses: spread them, by Meet layout, over several."
            )
        return Unresolved(party=party, because=self._why(index), helps=helps)

    def _why(self, index: int) -> str:
        objection = self._objections[index]
        if objection is not None:
            return objection
        address = self._parties[index].address
        others = self._holders[address] if address is not None else []
        names = [self._parties[n].name for n in others if n != index]
        if not names:
            return "makes room for another"
        more = f" and {len(names) - 2} more" if len(names) > 2 else ""
        return f"{address} is also the address of {' and '.join(names[:2])}{more}"

    def _clashes(self) -> Iterator[Clash]:
        sharing: dict[Address, list[Party]] = {}
        for party in self._parties:
            if party.address is not None:
                sharing.setdefault(party.address, []).append(party)
        for address, some in sharing.items():
            if len(some) > 1:
                yield Clash(layout=some[0].layout, address=address, parties=tuple(some))
