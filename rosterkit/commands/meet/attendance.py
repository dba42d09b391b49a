"""The engines of several rosters as planning takes them: who comes, by which rules, and under which name."""

from collections.abc import Collection, Iterable, Iterator, Mapping, Sequence
from dataclasses import dataclass
from pathlib import Path

from rosterkit.cv.accessory import packets_taken
from rosterkit.cv.addresses import address_of, consist_on_the_rails, layout_key
from rosterkit.planning.addresses.from_roster import layout_rules_by_key
from rosterkit.planning.addresses.model import NEVER_REGISTERED, Consist, Engine, LayoutRules
from rosterkit.roster.model import ConsistMember, Locomotive, Roster
from rosterkit.roster.schema import folded
from rosterkit.standards.accessories import user_number


@dataclass(frozen=True, slots=True, kw_only=True)
class Attendee:
    """An engine that comes to the meet."""

    key: str
    """Its name in the plan: owner and label."""
    engine: Locomotive
    roster: Roster


@dataclass(frozen=True, slots=True, kw_only=True)
class Attendance:
    """All that comes to a meet, in words of planning."""

    attendees: Mapping[str, Attendee]
    engines: Sequence[Engine]
    consists: Sequence[Consist]
    rules_by_layout: Mapping[str, LayoutRules]
    accessories_by_layout: Mapping[str, frozenset[int]]
    """The numbers that accessories answer with all their outputs, as each layout calls them."""


def attendance_of(rosters: Sequence[Roster]) -> Attendance:
    """Make the attendance of a meet out of its rosters, in the order in which they are given."""
    attendees: dict[str, Attendee] = {}
    for roster in rosters:
        for engine in roster.engines:
            if engine.at_meet == "yes":
                key = _key(engine, roster, attendees)
                attendees[key] = Attendee(key=key, engine=engine, roster=roster)
    turns = _turns(attendees.values())
    names = {(id(one.roster), folded(one.engine.loco)): one for one in attendees.values() if one.engine.loco}
    return Attendance(
        attendees=attendees,
        engines=[_engine(one, turns[one.key]) for one in attendees.values()],
        consists=list(_consists(rosters, names, turns)),
        rules_by_layout=layout_rules_by_key(rosters),
        accessories_by_layout=_accessories(rosters),
    )


def _accessories(rosters: Sequence[Roster]) -> Mapping[str, frozenset[int]]:
    found: dict[str, frozenset[int]] = {}
    for roster in rosters:
        key, offset = layout_key(roster.layout), int(roster.layout.accessory_offset)
        numbers = frozenset(user_number(packet, offset=offset) for packet in packets_taken(roster))
        found[key] = found.get(key, frozenset()) | numbers
    return found


def _key(engine: Locomotive, roster: Roster, taken: Mapping[str, Attendee]) -> str:
    label = engine.loco or f"row {engine.table.rows[engine.index]}"
    name = f"{engine.owner or 'no owner'}: {label}"
    if name not in taken:
        return name
    return f"{name} ({Path(roster.book.name).name}, row {engine.table.rows[engine.index]})"


def _turns(attendees: Collection[Attendee]) -> dict[str, int]:
    """Return each engine's place in the order of registration, the same for those of one day."""
    days = sorted({one.engine.registered_on for one in attendees if one.engine.registered_on})
    place = {day: at for at, day in enumerate(days)}
    return {one.key: place.get(one.engine.registered_on or "", NEVER_REGISTERED) for one in attendees}


def _engine(one: Attendee, turn: int) -> Engine:
    engine, roster = one.engine, one.roster
    kind = roster.decoders.get(folded(engine.decoder or ""))
    club = roster.layout.club_owner
    return Engine(
        key=one.key,
        address=address_of(engine, roster.layout, meet=True),
        number=engine.number,
        owner=engine.owner,
        layout=layout_key(roster.layout),
        takes_long=kind is None or kind.long_address != "no",
        club=bool(club and engine.owner and folded(club) == folded(engine.owner)),
        registered=turn,
        agreed=engine.meet_address is not None,
        shares=_shares(engine, roster),
    )


def _shares(engine: Locomotive, roster: Roster) -> str | None:
    """Name what an engine may share its address with: its other decoders, or its consist."""
    book = roster.book.name
    if engine.lock is not None and engine.number:
        return f"{book}, {folded(engine.railway or '')} {folded(engine.number)}"
    member = roster.consist_of.get(folded(engine.loco or ""))
    return f"{book}, consist {folded(member.consist)}" if member and member.consist else None


def _consists(
    rosters: Sequence[Roster], names: Mapping[tuple[int, str], Attendee], turns: Mapping[str, int]
) -> Iterator[Consist]:
    taken: set[str] = set()
    for roster in rosters:
        for label, rows in _by_consist(roster.consist_members).items():
            found = [names.get((id(roster), folded(row.loco or ""))) for row in rows]
            coming = list({one.key: one for one in found if one is not None}.values())
            agreed = next((row.meet_address for row in rows if row.meet_address is not None), None)
            number = agreed or next((row.address for row in rows if row.address is not None), None)
            if not coming or number is None:
                continue
            key = f"consist {rows[0].consist or label}"
            if key in taken:
                key = f"{key} ({Path(roster.book.name).name})"
            taken.add(key)
            yield Consist(
                key=key,
                address=consist_on_the_rails(number),
                engines=tuple(one.key for one in coming),
                owner=coming[0].engine.owner,
                layout=layout_key(roster.layout),
                registered=min(turns[one.key] for one in coming),
                agreed=agreed is not None,
            )


def _by_consist(members: Iterable[ConsistMember]) -> dict[str, list[ConsistMember]]:
    found: dict[str, list[ConsistMember]] = {}
    for row in members:
        if row.consist is not None:
            found.setdefault(folded(row.consist), []).append(row)
    return found
