"""What a check is, what it looks at, and how its hits become findings."""

import re
from collections.abc import Callable, Iterable, Iterator, Sequence
from dataclasses import dataclass, field
from typing import TYPE_CHECKING, Any

from rosterkit.cv.addresses import Address, home_address, meet_address
from rosterkit.findings import Finding, Hit, Place, Severity
from rosterkit.roster.cell_rules import CellRule
from rosterkit.roster.model import DecoderType, Layout, Locomotive, Roster
from rosterkit.roster.rows import Fault
from rosterkit.roster.schema import folded

if TYPE_CHECKING:
    from rosterkit.planning.speed.from_roster import Speeds

MOST_RELATED = 20
"""A finding names this many other places of the same clash at most; its message has the full count."""


@dataclass(frozen=True, slots=True, kw_only=True)
class ScopedEngine:
    """An engine with the roster it is in and the addresses it answers."""

    roster: Roster
    engine: Locomotive
    home: Address | None
    meet: Address | None
    """The meet address, where the row has one."""
    answers: Address | None
    """The address that counts in this scope."""
    answers_by: str
    """The column that this address stands in."""
    decoder_type: DecoderType | None
    """The kind of decoder in the engine; None where the roster does not know it."""

    layout: Layout
    """The settings of the engine's own workbook."""
    addresses: Sequence[tuple[str, Address]]
    """Every address of the row, each with the column that it stands in."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Scope:
    """What a run of the checks looks at: one workbook, or for a meet all of them together."""

    rosters: Sequence[Roster]
    meet: bool
    entries: Sequence[ScopedEngine]
    unread: Sequence[Hit] = ()
    """Workbooks among several that could not be read."""
    speeds: Sequence[tuple[Roster, "Speeds"]] = ()
    """What timed runs come to, of rosters that have some; not for a meet."""
    unplaced: Sequence[Hit] = ()
    """Engines for which the plan of a meet has no address."""
    kept: dict[str, Any] = field(init=False, repr=False, compare=False, default_factory=dict)
    """What several checks of the scope find together, worked out once."""

    def faults(self, rule: CellRule) -> Iterator[Fault]:
        """Return cells that the schema finds fault with for a check, of engines in scope only."""
        for roster in self.rosters:
            for fault in roster.faults:
                if fault.rule == rule and not (self.meet and _stays_at_home(fault, roster)):
                    yield fault


def _stays_at_home(fault: Fault, roster: Roster) -> bool:
    if fault.table.sheet.title != "Locomotives":
        return False
    engine = roster.engines[fault.index]
    return engine.at_meet != "yes" and "at_meet" not in engine.unusable


def scope_of(
    rosters: Sequence[Roster],
    *,
    meet: bool = False,
    unread: Sequence[Hit] = (),
    unplaced: Sequence[Hit] = (),
) -> Scope:
    """Make a scope; for a meet only engines with At meet = yes are in it."""
    entries = [
        _entry(roster, engine, meet=meet)
        for roster in rosters
        for engine in roster.engines
        if not meet or engine.at_meet == "yes"
    ]
    speeds = [] if meet else [(roster, _speeds(roster)) for roster in rosters if has_speeds(roster)]
    return Scope(rosters=rosters, meet=meet, entries=entries, unread=unread, speeds=speeds, unplaced=unplaced)


def has_speeds(roster: Roster) -> bool:
    """Tell whether a roster has timed runs or goals."""
    return bool(roster.speed_runs or roster.speed_goals)


def _speeds(roster: Roster) -> "Speeds":
    # Curve fitting needs numpy, which takes longer to load than most rosters to check.
    from rosterkit.planning.speed.from_roster import speeds_of  # noqa: PLC0415

    return speeds_of(roster)


def _entry(roster: Roster, engine: Locomotive, *, meet: bool) -> ScopedEngine:
    by_meet = meet and (engine.meet_address is not None or "meet_address" in engine.unusable)
    home = home_address(engine, roster.layout)
    away = meet_address(engine, roster.layout)
    label = engine.decoder
    addresses = (("address", home),) if home else ()
    return ScopedEngine(
        roster=roster,
        engine=engine,
        home=home,
        meet=away,
        answers=away if by_meet else home,
        answers_by="meet_address" if by_meet else "address",
        decoder_type=roster.decoders.get(folded(label)) if label and roster.decoders else None,
        layout=roster.layout,
        addresses=(*addresses, ("meet_address", away)) if away else addresses,
    )


@dataclass(frozen=True, slots=True, kw_only=True)
class Check:
    """One check; its documentation is the docstring of the function that makes the hits."""

    slug: str
    severity: Severity
    hits: Callable[[Scope], Iterable[Hit]]
    across: bool = False
    """At a meet it compares workbooks with each other, so that it has to see all of them at once."""

    @property
    def what(self) -> str:
        """The fault in one sentence."""
        return self._documentation()[0]

    @property
    def why(self) -> str:
        """Why it matters."""
        return self._documentation()[1]

    @property
    def fix(self) -> str:
        """What to do about it, in general."""
        return self._documentation()[2]

    def _documentation(self) -> list[str]:
        parts = re.split(r"\n\s*(?:Why|Fix):\s", self.hits.__doc__ or "")
        return [" ".join(part.split()) for part in parts]


def findings_of(checks: Iterable[Check], scope: Scope) -> Iterator[Finding]:
    """Run checks on a scope."""
    for check in checks:
        for hit in check.hits(scope):
            yield Finding(
                severity=hit.severity or check.severity,
                rule=check.slug,
                place=hit.place,
                column=hit.column,
                loco=hit.loco,
                message=hit.message,
                fix=hit.fix,
                related=hit.related,
            )


def others(places: Sequence[Place], index: int) -> tuple[Place, ...]:
    """Return the other places of a clash, the nearest to come first, 20 at most."""
    following = places[index + 1 : index + 1 + MOST_RELATED]
    return (*following, *places[: min(index, MOST_RELATED - len(following))])


def named(engine: Locomotive) -> str:
    """Name an engine in a sentence: its label, or its row where it has none."""
    return f"'{engine.loco}'" if engine.loco else f"the engine in row {engine.table.rows[engine.index]}"
