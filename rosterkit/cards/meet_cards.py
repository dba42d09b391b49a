"""Cards for a meet: what to key in before it, and what puts everything back after it."""

from collections.abc import Collection, Iterable, Mapping, Sequence
from dataclasses import dataclass, replace

from rosterkit.cards.card import Card, CardOptions, MeetPhase, card_with, checked_card, labelled
from rosterkit.cards.known_errors import KnownError, row_of
from rosterkit.cv.addresses import Address, consist_on_the_rails, home_address, meet_address
from rosterkit.cv.cv_values import CvGroup
from rosterkit.cv.engine import EngineCvs, cvs_of
from rosterkit.cv.readings import order_of
from rosterkit.roster.model import Locomotive, Reading, Roster
from rosterkit.roster.schema import folded

_CHANGED = (CvGroup.LOCK, CvGroup.ADDRESS, CvGroup.CONFIGURATION, CvGroup.CONSIST)
_KEYED_IN = frozenset({1, 15, 16, 17, 18, 19, 20, 21, 22, 29})
"""What a meet address touches: writing CV1 clears CV29 bit 5 and CV19 (NMRA S-9.2.3, Jul 2012, section E)."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Away:
    """What an engine has at the meet that it has not at home."""

    address: Address | None = None
    """None where it keeps its own."""
    consist: Address | None = None
    """None where its consist, if it is in one, keeps its address."""


def away_of(roster: Roster) -> dict[int, Away]:
    """Return by its row's index what each engine that comes to the meet has in the columns for the meet.

    Its own Meet address and that of its consist, where they are not those of home.
    """
    found = {}
    for engine in roster.engines:
        meet = meet_address(engine, roster.layout)
        address = None if meet == home_address(engine, roster.layout) else meet
        consist = consist_away(engine, roster)
        if engine.at_meet == "yes" and (address or consist):
            found[engine.index] = Away(address=address, consist=consist)
    return found


def consist_away(engine: Locomotive, roster: Roster) -> Address | None:
    """Return the Meet address of an engine's consist; None where it has none, or that of home."""
    member = roster.consist_of.get(folded(engine.loco or ""))
    if member is None or member.meet_address in (None, member.address):
        return None
    return consist_on_the_rails(member.meet_address)


def meet_cards(
    roster: Roster,
    away: Mapping[int, Away],
    phase: MeetPhase,
    options: CardOptions | None = None,
    labels: Collection[str] = (),
    errors: Mapping[int, Sequence[KnownError]] | None = None,
) -> list[Card]:
    """Make a card for each engine that has something else at the meet, in the order of the sheet.

    Before the meet: the CVs of its address, configuration and consist there. After it: the same
    CVs as the workbook wants them at home, whatever was read of them before the meet. ``errors`` is what
    checks say of engines on that side of the meet, by sheet row.
    """
    cards = []
    for engine in labelled(roster, labels):
        if engine.index in away:
            said = (errors or {}).get(row_of(engine), ())
            cards.append(checked_meet_card(engine, roster, away[engine.index], phase, options, said))
    return cards


def checked_meet_card(
    engine: Locomotive,
    roster: Roster,
    away: Away,
    phase: MeetPhase,
    options: CardOptions | None = None,
    errors: Iterable[KnownError] = (),
) -> Card:
    """Make the card of one engine with what checks say of it on that side of the meet.

    It has no lines where that forbids to key in anything.
    """
    said = [one for one in errors if _concerns(one)]
    return checked_card(meet_card(engine, roster, away, phase, options, said), said)


def _concerns(error: KnownError) -> bool:
    """Tell whether an error is about what is keyed in for a meet."""
    return error.blocks or not error.cvs or not _KEYED_IN.isdisjoint(error.cvs)


def meet_card(
    engine: Locomotive,
    roster: Roster,
    away: Away,
    phase: MeetPhase,
    options: CardOptions | None = None,
    errors: Sequence[KnownError] = (),
) -> Card:
    """Make the card of one engine that has something else at the meet; errors hold their CVs back."""
    if phase is MeetPhase.AFTER:
        cvs = cvs_of(engine, roster)  # settings that are blank are kept, whichever address was read with them
        roster = replace(roster, readings_of=_read_since(roster, engine, options))
    else:
        cvs = cvs_at_meet(engine, roster, away)
    touched = replace(
        cvs,
        values=tuple(one for one in cvs.values if one.group in _CHANGED),
        withheld=tuple(one for one in cvs.withheld if one.group in _CHANGED),
    )
    return card_with(touched, engine, roster, options or CardOptions(), errors)


def _read_since(
    roster: Roster, engine: Locomotive, options: CardOptions | None
) -> Mapping[str, Sequence[Reading]]:
    """Return the readings of an engine that were made since the meet; none where that is not told."""
    if options is None or options.read_since is None:
        return {}
    since, label = options.read_since, folded(engine.loco or "")
    at = since.day, since.time or ""
    return {label: [one for one in roster.readings_of.get(label, ()) if order_of(one)[:2] >= at]}


def shows_meet_address(roster: Roster, label: str, readings: Iterable[tuple[int, int | None]]) -> bool:
    """Tell whether CVs as they read, by their numbers, are those of an engine's address for the meet.

    They are where one of its address or of its consist's reads as it is wanted there and not at home, and
    none of them otherwise.
    """
    away = away_of(roster)
    engine = next((one for one in labelled(roster, [label]) if one.index in away), None)
    if engine is None:
        return False
    there, home = (
        {one.cv: one.value for one in cvs.values if one.group in (CvGroup.ADDRESS, CvGroup.CONSIST)}
        for cvs in (cvs_at_meet(engine, roster, away[engine.index]), cvs_of(engine, roster))
    )
    read = [(cv, value) for cv, value in readings if cv in there and value is not None]
    as_there = [cv for cv, value in read if value == there[cv]]
    return len(as_there) == len(read) and any(there[cv] != home.get(cv) for cv in as_there)


def cvs_at_meet(engine: Locomotive, roster: Roster, away: Away) -> EngineCvs:
    """Compute an engine's CVs as they are to be at the meet."""
    there = engine
    if away.address is not None:
        kind, number = away.address.space.value, away.address.number
        unusable = engine.unusable - {"meet_address", "meet_kind"}
        there = replace(engine, meet_address=number, meet_kind=kind, unusable=unusable)
    label = folded(engine.loco or "")
    member = roster.consist_of.get(label)
    if away.consist is not None and member is not None:
        moved = replace(member, meet_address=away.consist.number, unusable=member.unusable - {"meet_address"})
        roster = replace(roster, consist_of={**roster.consist_of, label: moved})
    return cvs_of(there, roster, meet=True)
