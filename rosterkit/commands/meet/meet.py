"""A meet: who comes, the plan of moves, what is wrong, and the cards of those that change."""

from collections.abc import Mapping, Sequence
from dataclasses import dataclass, field, replace
from pathlib import Path

from rosterkit.cards.card import Card, MeetPhase
from rosterkit.cards.known_errors import KnownError, row_of
from rosterkit.cards.meet_cards import Away, checked_meet_card, consist_away
from rosterkit.commands.meet.attendance import Attendance, Attendee
from rosterkit.commands.meet.given import LeftOut
from rosterkit.cv.addresses import Address, home_address
from rosterkit.findings import Finding, Hit
from rosterkit.planning.addresses import Plan
from rosterkit.planning.addresses.moves import Unresolved
from rosterkit.planning.addresses.parties import PartyKind
from rosterkit.roster.rows import hit_at
from rosterkit.roster.schema import folded


@dataclass(frozen=True, slots=True, kw_only=True)
class Meet:
    """All that is known of a meet."""

    version: str
    workbooks: Sequence[tuple[str, int]]
    """Path as given, and how many of its engines come; those that could not be read are left out."""
    event: str | None
    attendance: Attendance
    plan: Plan
    findings: Sequence[Finding]
    """In reading order."""
    digests: Mapping[str, str] = field(default_factory=dict)
    """SHA-256 of each workbook as it was read, by its path as given."""
    at_home: Mapping[str, Mapping[int, Sequence[KnownError]]] = field(default_factory=dict)
    """What is wrong with engines for the time after the meet, by workbook and sheet row."""
    left_out: Sequence[LeftOut] = ()
    """Workbooks that are none of a member's."""
    copies: Mapping[Path, int] = field(default_factory=dict)
    """Copies that were made with the plan in them: how many Meet addresses were entered in each."""

    @property
    def new_addresses(self) -> dict[str, Address]:
        """The address that each engine which moves gets, by its name in the plan."""
        moves = (move for move in self.plan.moves if move.party.kind is not PartyKind.CONSIST)
        return {key: move.after for move in moves for key in move.party.engines}

    @property
    def new_consists(self) -> dict[str, Address]:
        """The address that the consist of each engine gets where it moves, by the engine's name."""
        moves = (move for move in self.plan.moves if move.party.kind is PartyKind.CONSIST)
        return {key: move.after for move in moves for key in move.party.engines}

    @property
    def addresses(self) -> dict[str, Address | None]:
        """The address of each engine at the meet, after the plan, by its name."""
        new = self.new_addresses
        return {engine.key: new.get(engine.key, engine.address) for engine in self.attendance.engines}


def with_twins(plan: Plan, attendance: Attendance) -> Plan:
    """Say with a move where it may be of an engine that two members entered, so that nothing need move."""
    by_number: dict[tuple[object, ...], list[str]] = {}
    for engine in attendance.engines:
        one = attendance.attendees[engine.key].engine
        if one.railway and one.number and engine.shares is None:
            what = engine.layout, engine.address, folded(one.railway), folded(one.number)
            by_number.setdefault(what, []).append(engine.key)
    twins = {key: same for same in by_number.values() if len(same) > 1 for key in same}
    moves = []
    for move in plan.moves:
        others = [key for key in twins.get(move.party.name, ()) if key != move.party.name]
        hint = f"; if it is the same engine as {others[0]}, remove one row and it stays" if others else ""
        moves.append(replace(move, because=move.because + hint))
    return replace(plan, moves=tuple(moves))


def unplaced(one: Unresolved, attendance: Attendance) -> Hit:
    """Say of what engine a check has to say that the plan has no address for it."""
    attendee = attendance.attendees[one.party.engines[0]]
    message = f"no address was found for {one.party.name}: {one.because}"
    return hit_at(attendee.engine, "address", message, one.helps)


def away_in(meet: Meet) -> dict[str, Away]:
    """Return what each engine has at the meet that it has not at home, by its name; after the plan."""
    addresses, consists = meet.addresses, meet.new_consists
    found = {}
    for key, one in meet.attendance.attendees.items():
        there, consist = addresses[key], consists.get(key, consist_away(one.engine, one.roster))
        changed = there is not None and there != home_address(one.engine, one.roster.layout)
        if consist is not None or changed:
            found[key] = Away(address=there, consist=consist)
    return found


def cards_for(
    engines: Sequence[Attendee], away: Mapping[str, Away], phase: MeetPhase, meet: Meet
) -> list[Card]:
    """Return the cards of those of some engines that have something else at the meet.

    Afterwards they say what the cards of their own workbook say: nothing is restored that is wrong at home.
    """
    cards = []
    for one in engines:
        if one.key in away:
            known = meet.at_home.get(one.roster.book.name, {}) if phase is MeetPhase.AFTER else {}
            said = known.get(row_of(one.engine), ())
            cards.append(checked_meet_card(one.engine, one.roster, away[one.key], phase, errors=said))
    return cards
