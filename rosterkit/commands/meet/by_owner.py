"""The plan of a meet member by member, and clash by clash: who stays, who moves, for whom nothing changes."""

from collections import Counter
from collections.abc import Sequence
from dataclasses import dataclass, replace

from rosterkit.commands.meet.attendance import Attendance
from rosterkit.planning.addresses import Move, Plan
from rosterkit.planning.addresses.moves import Unresolved
from rosterkit.planning.addresses.parties import Party, PartyKind
from rosterkit.roster.schema import folded

NO_OWNER = "No owner"


@dataclass(frozen=True, slots=True, kw_only=True)
class OwnerPlan:
    """What a plan asks of one member."""

    owner: str
    """The code as it is spelt first; "" for engines that have none."""
    engines: int
    changing: int
    """How many of these engines change an address, their own or their consist's."""
    moves: Sequence[Move]
    unresolved: Sequence[Unresolved]

    @property
    def name(self) -> str:
        """What the member is called."""
        return self.owner or NO_OWNER

    @property
    def words(self) -> str:
        """How many engines come and how many of them change."""
        engines = "1 engine" if self.engines == 1 else f"{self.engines} engines"
        changes = f"{self.changing} of {engines} {'changes' if self.changing == 1 else 'change'}"
        if self.unresolved:
            return f"{changes}, and no address was found for {len(self.unresolved)}"
        return changes if self.changing else f"{engines}, nothing changes"


@dataclass(frozen=True, slots=True, kw_only=True)
class ClashOutcome:
    """What becomes of an address that several want, by the names of the parties."""

    address: str
    wanted: Sequence[str]
    stays: Sequence[str]
    moves: Sequence[tuple[str, str]]
    """Each with its new address."""
    left: Sequence[str]


def ordered_by_owner(plan: Plan, attendance: Attendance) -> Plan:
    """Order moves, and what was left, by the members' codes, and then as the engines are given."""
    place = {key: at for at, key in enumerate(attendance.attendees)}

    def order(party: Party) -> tuple[str, int]:
        return folded(party.owner or ""), min(place[key] for key in party.engines)

    return replace(
        plan,
        moves=tuple(sorted(plan.moves, key=lambda move: order(move.party))),
        unresolved=tuple(sorted(plan.unresolved, key=lambda one: order(one.party))),
    )


def owner_plans(plan: Plan, attendance: Attendance) -> list[OwnerPlan]:
    """Return what a plan asks of each member, by their codes whatever their letter case."""
    spelt: dict[str, str] = {}
    codes: dict[str, str] = {}
    for key, one in attendance.attendees.items():
        codes[key] = folded(one.engine.owner or "")
        spelt.setdefault(codes[key], one.engine.owner or "")
    engines = Counter(codes.values())
    changing = Counter(codes[key] for key in {key for move in plan.moves for key in move.party.engines})
    moves: dict[str, list[Move]] = {code: [] for code in spelt}
    unresolved: dict[str, list[Unresolved]] = {code: [] for code in spelt}
    for move in plan.moves:
        for code in {codes[key] for key in move.party.engines}:
            moves[code].append(move)
    for left in plan.unresolved:
        for code in {codes[key] for key in left.party.engines}:
            unresolved[code].append(left)
    return [
        OwnerPlan(
            owner=spelt[code],
            engines=engines[code],
            changing=changing[code],
            moves=moves[code],
            unresolved=unresolved[code],
        )
        for code in sorted(spelt)
    ]


def clash_outcomes(plan: Plan) -> list[ClashOutcome]:
    """Return what becomes of each address that several want, in the order of the plan."""
    moved = {id(move.party): str(move.after) for move in plan.moves}
    left = {id(one.party) for one in plan.unresolved}
    return [
        ClashOutcome(
            address=str(clash.address),
            wanted=[party.name for party in clash.parties],
            stays=[one.name for one in clash.parties if id(one) not in moved and id(one) not in left],
            moves=[(one.name, moved[id(one)]) for one in clash.parties if id(one) in moved],
            left=[one.name for one in clash.parties if id(one) in left],
        )
        for clash in plan.clashes
    ]


def label_of(party: Party) -> str:
    """Name a party in a list of its owner's: its engines' labels, or its consist."""
    if party.kind is PartyKind.CONSIST:
        return party.name
    # A key is the owner's code and the label; see the attendance.
    labels = [key.partition(": ")[2] for key in party.engines]
    return labels[0] if len(labels) == 1 else f"{', '.join(labels[:-1])} and {labels[-1]}"
