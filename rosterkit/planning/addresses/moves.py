"""The fewest changes of addresses after which no two engines on the same layout answer the same one."""

from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass, replace

from rosterkit.cv.addresses import Address, Space
from rosterkit.planning.addresses.allowed import AllowedAddresses
from rosterkit.planning.addresses.columns import column_of
from rosterkit.planning.addresses.costs import PREFERENCES, Cost, weighed, weights_for
from rosterkit.planning.addresses.counted_once import cheapest_counted_once, engines_of
from rosterkit.planning.addresses.edges import cost_of_address
from rosterkit.planning.addresses.fixed_parties import MoveCosts
from rosterkit.planning.addresses.joined import is_one_consist, with_own_engines
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
    """Who moves where; without consists no other plan costs less."""

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

    With consists the cost may in rare cases not be the least: see counted_once.py.

    Engines and consists are all that come; rules go by the ``layout`` of their engines, none where it has
    none; preferences are the items of Cost that break ties, the gravest first. ValueError if an engine's key
    or a consist's key stands twice, or the preferences are not known.
    """
    parties = parties_of(engines, consists)
    _require_unique(parties)
    by_layout: dict[str, list[Party]] = {}
    for party in parties:
        by_layout.setdefault(party.layout, []).append(party)
    plans = [
        _plan_of(some, (rules_by_layout or {}).get(layout, LayoutRules()), preferences)
        for layout, some in by_layout.items()
    ]
    return Plan(
        moves=tuple(move for plan in plans for move in plan.moves),
        unresolved=tuple(one for plan in plans for one in plan.unresolved),
        clashes=tuple(clash for plan in plans for clash in plan.clashes),
        cost=sum((plan.cost for plan in plans), Cost()),
    )


def _plan_of(parties: Sequence[Party], rules: LayoutRules, preferences: Sequence[str]) -> Plan:
    """Plan one layout; a consist and the engines of it that answer its address share that on purpose.

    They are one party as long as they stay there. Where they have to leave, each is planned on its own: they
    hardly find an address that both an engine and a consist may have.
    """
    apart: set[str] = set()
    while True:
        together = with_own_engines(parties, AllowedAddresses(rules), apart)
        layout = _Layout(together.parties, rules, preferences)
        plan = cheapest_counted_once(together.parties, layout.weights, layout.plan, _told)
        leaving = {move.party.name for move in plan.moves} | {one.party.name for one in plan.unresolved}
        leaving &= together.joined
        if not leaving:
            return plan
        apart |= leaving


def _told(plan: Plan) -> tuple[list[Party], Cost]:
    return [move.party for move in plan.moves], plan.cost


def _require_unique(parties: Iterable[Party]) -> None:
    seen: set[tuple[str, str]] = set()
    for party in parties:
        consist = party.kind is PartyKind.CONSIST
        for key in [party.name] if consist else party.engines:
            kind = "consist" if consist else "engine"
            if (kind, key) in seen:
                raise ValueError(f"the {kind} '{key}' stands twice")
            seen.add((kind, key))


def _by_address(parties: Iterable[tuple[int, Party]]) -> dict[Address, list[int]]:
    found: dict[Address, list[int]] = {}
    for index, party in parties:
        if party.address is not None:
            found.setdefault(party.address, []).append(index)
    return found


class _Layout:
    """The planning of one layout; its parties are in the order of registration."""

    def __init__(self, parties: Sequence[Party], rules: LayoutRules, preferences: Sequence[str]) -> None:
        self._parties = parties
        self._permitted = AllowedAddresses(rules)
        self.weights = weights_for(parties, preferences)
        self._objections = [reason_to_move(party, self._permitted) for party in parties]
        self._holders = _by_address(
            (index, party) for index, party in enumerate(parties) if self._objections[index] is None
        )
        """The parties that may keep their address, by address."""
        number = len(parties)
        later = {party.registered: number - at for at, party in enumerate(parties, 1)}
        in_turn = sorted(range(number), key=lambda index: parties[index].turn)
        after = {index: number - at for at, index in enumerate(in_turn, 1)}
        self._moving = [
            Cost(
                moved=party.weight,
                agreed=party.weight * self._is_protected(party),
                club=party.weight * party.club,
                seniority=later[party.registered],
                short_only=party.weight * party.is_short_only,
                turn=after[index],
            )
            for index, party in enumerate(parties)
        ]
        """What it costs that a party moves at all, wherever to."""

    def _is_protected(self, party: Party) -> bool:
        """Tell whether a party keeps an address agreed for the meet before all but club engines."""
        holders = self._holders.get(party.address, ()) if party.address else ()
        others = (self._parties[index] for index in holders)
        return party.agreed and (party.club or not any(other.club for other in others))

    def plan(self, counts: Sequence[int]) -> Plan:
        """Find everybody's address, and say who moves and who is left.

        ``counts`` is how many engines more change if a party moves.
        """
        counted = zip(self._moving, counts, strict=True)
        moving = [weighed(replace(cost, moved=count), self.weights) for cost, count in counted]
        # To be left costs the same as to move, but that it counts as unresolved.
        left = [weighed(replace(cost, moved=0, unresolved=cost.moved), self.weights) for cost in self._moving]
        holders = {column_of(address): some for address, some in self._holders.items()}
        move_costs = MoveCosts(moving=moving, left=left, holders=holders)
        return self._result(cheapest_places(self._parties, self._permitted, self.weights, move_costs))

    def _result(self, places: Mapping[int, Address | None]) -> Plan:
        moves: list[Move] = []
        unresolved: list[Unresolved] = []
        cost = Cost()
        for index, party in enumerate(self._parties):
            place = places[index]
            if place is None:
                cost += replace(self._moving[index], moved=0, unresolved=party.weight)
                helps = self._what_would_help(party)
                unresolved.append(Unresolved(party=party, because=self._why(index), helps=helps))
            elif place != party.address:
                cost += self._moving[index] + cost_of_address(party, place, self._permitted)
                because = f"{self._why(index)}; {reason_for_address(party, place, self._permitted)}"
                moves.append(Move(party=party, after=place, because=because))
        clashes = (
            Clash(
                layout=self._parties[some[0]].layout,
                address=address,
                parties=tuple(self._parties[index] for index in some),
            )
            for address, some in _by_address(enumerate(self._parties)).items()
            if len(some) > 1 and not is_one_consist([self._parties[index] for index in some])
        )
        cost = replace(cost, moved=len(engines_of(move.party for move in moves)))
        return Plan(moves=tuple(moves), unresolved=tuple(unresolved), clashes=tuple(clashes), cost=cost)

    def _what_would_help(self, party: Party) -> str:
        crowd, room = len(self._parties), sum(int(self._permitted.drivable(space).sum()) for space in Space)
        if crowd > room:
            return f"{crowd} come to a layout of {room} addresses: spread them, by Meet layout, over several."
        return what_would_help(party, self._permitted)

    def _why(self, index: int) -> str:
        objection, address = self._objections[index], self._parties[index].address
        if objection is not None:
            return objection
        others = self._holders[address] if address is not None else []
        names = [self._parties[n].name for n in others if n != index]
        if not names:
            return "makes room for another"
        more = f" and {len(names) - 2} more" if len(names) > 2 else ""
        return f"{address} is also the address of {' and '.join(names[:2])}{more}"
