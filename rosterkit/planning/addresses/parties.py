"""Engines and consists as the parties of a plan: whatever holds one address, and moves as a whole."""

from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass
from enum import StrEnum

from rosterkit.cv.addresses import Address, Space
from rosterkit.planning.addresses.model import Consist, Engine


class PartyKind(StrEnum):
    """What a party is."""

    ENGINE = "engine"
    SET = "set"
    """Engines that share one address on purpose."""
    CONSIST = "consist"


@dataclass(frozen=True, slots=True, kw_only=True)
class Party:
    """What holds one address in the plan."""

    kind: PartyKind
    name: str
    engines: tuple[str, ...]
    """Keys of the engines that are keyed in again if it moves."""
    address: Address | None
    number: str | None
    owner: str | None
    layout: str
    club: bool
    agreed: bool
    """Its address was agreed for this meet."""
    takes_long: bool
    registered: int
    turn: int
    """Its place in the list of engines: the first of its engines counts."""

    @property
    def spaces(self) -> tuple[Space, ...]:
        """Where it may move to; a consist among the 7-bit addresses, which every decoder has."""
        return (Space.SHORT, Space.LONG) if self.takes_long else (Space.SHORT,)

    @property
    def is_short_only(self) -> bool:
        """Whether engines of it, not a consist, cannot take a long address."""
        return self.kind is not PartyKind.CONSIST and not self.takes_long

    @property
    def weight(self) -> int:
        """How many engines change if it moves."""
        return len(self.engines)


def parties_of(engines: Iterable[Engine], consists: Iterable[Consist]) -> list[Party]:
    """Make parties, in the order of registration: engines, sets of engines, consists."""
    together: dict[object, list[Engine]] = {}
    turns: dict[str, int] = {}
    for turn, engine in enumerate(engines):
        turns.setdefault(engine.key, turn)
        shares = engine.shares is not None and engine.address is not None
        whose = (engine.layout, engine.shares, engine.address) if shares else turn
        together.setdefault(whose, []).append(engine)
    parties = [_party(some, turns) for some in together.values()]
    parties += [_consist(consist, turns) for consist in consists]
    return sorted(parties, key=lambda party: (party.registered, party.turn, party.name))


def _party(engines: Sequence[Engine], turns: Mapping[str, int]) -> Party:
    first = min(engines, key=lambda engine: engine.registered)
    return Party(
        kind=PartyKind.SET if len(engines) > 1 else PartyKind.ENGINE,
        name=first.key,
        engines=tuple(engine.key for engine in engines),
        address=first.address,
        number=first.number,
        owner=first.owner,
        layout=first.layout,
        club=any(engine.club for engine in engines),
        agreed=any(engine.agreed for engine in engines),
        takes_long=all(engine.takes_long for engine in engines),
        registered=first.registered,
        turn=min(turns[engine.key] for engine in engines),
    )


def _consist(consist: Consist, turns: Mapping[str, int]) -> Party:
    return Party(
        kind=PartyKind.CONSIST,
        name=consist.key,
        engines=consist.engines,
        address=consist.address,
        number=None,
        owner=consist.owner,
        layout=consist.layout,
        club=False,
        agreed=consist.agreed,
        takes_long=False,
        registered=consist.registered,
        turn=min((turns[key] for key in consist.engines if key in turns), default=len(turns)),
    )
