"""What a check is, what it looks at, and how its hits become findings."""

import re
from collections.abc import Callable, Iterable, Iterator, Sequence
from dataclasses import dataclass, field
from functools import wraps
from types import ModuleType
from typing import TYPE_CHECKING, Any, TypeVar

from rosterkit.cv.addresses import Address, home_address, layout_key, meet_address
from rosterkit.findings import Finding, Hit, Severity
from rosterkit.roster.cell_rules import CellRule
from rosterkit.roster.model import DecoderType, Layout, Locomotive, Roster
from rosterkit.roster.rows import Fault
from rosterkit.roster.schema import folded

if TYPE_CHECKING:
    from rosterkit.planning.speed.from_roster import Speeds

_Item = TypeVar("_Item")

RUN_FILL = "Run 'rosterkit fill'."
"""The fix of what the next fill mends by itself; reports say all of it in one line."""


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
    rails: str
    """The rails that it runs on at a meet, as ``layout_key`` names them."""
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


def engines(scope: Scope) -> Sequence[ScopedEngine]:
    """Return the engines that a scope looks at."""
    return scope.entries


def rosters(scope: Scope) -> Sequence[Roster]:
    """Return the workbooks that a scope looks at."""
    return scope.rosters


def scope_of(
    rosters: Sequence[Roster],
    *,
    meet: bool = False,
    unread: Sequence[Hit] = (),
    unplaced: Sequence[Hit] = (),
) -> Scope:
    """Make a scope; for a meet only engines with At meet = yes are in it."""
    entries = [
        _entry(roster, engine, rails, meet=meet)
        for roster, rails in [(roster, layout_key(roster.layout)) for roster in rosters]
        for engine in roster.engines
        if not meet or engine.at_meet == "yes"
    ]
    timed = () if meet else [one for one in rosters if one.speed_runs or one.speed_goals]
    speeds = [(roster, _speeds(roster)) for roster in timed]
    return Scope(rosters=rosters, meet=meet, entries=entries, unread=unread, speeds=speeds, unplaced=unplaced)


def _speeds(roster: Roster) -> "Speeds":
    # Curve fitting needs numpy, which takes longer to load than most rosters to check.
    from rosterkit.planning.speed.from_roster import speeds_of  # noqa: PLC0415

    return speeds_of(roster)


def _entry(roster: Roster, engine: Locomotive, rails: str, *, meet: bool) -> ScopedEngine:
    by_meet = meet and (engine.meet_address is not None or "meet_address" in engine.unusable)
    home, away = home_address(engine, roster.layout), meet_address(engine, roster.layout)
    by_column = (("address", home), ("meet_address", away))
    return ScopedEngine(
        roster=roster,
        engine=engine,
        home=home,
        meet=away,
        answers=away if by_meet else home,
        answers_by="meet_address" if by_meet else "address",
        decoder_type=roster.decoders.get(folded(engine.decoder)) if engine.decoder else None,
        layout=roster.layout,
        rails=rails,
        addresses=[(column, address) for column, address in by_column if address],
    )


@dataclass(frozen=True, slots=True, kw_only=True)
class Check:
    """One check; its documentation is the docstring of the function that makes the hits."""

    slug: str
    severity: Severity
    hits: Callable[[Scope], Iterable[Hit]]
    also: tuple[Severity, ...] = ()
    """How severe it can be besides, by what it finds."""
    across: bool = False
    """It compares the workbooks of a scope with each other, so that it has to see all of them at once."""

    @property
    def severities(self) -> tuple[Severity, ...]:
        """Every severity that it can have: as a rule the first."""
        return self.severity, *self.also

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


Hits = Callable[[_Item], Iterable[Hit]]


def check(
    severity: Severity, *, also: tuple[Severity, ...] = (), across: bool = False
) -> Callable[[Hits[Scope]], Check]:
    """Make a check of a function, by whose name it goes, with hyphens."""

    def made(hits: Hits[Scope]) -> Check:
        slug = hits.__name__.replace("_", "-")
        return Check(slug=slug, severity=severity, hits=hits, also=also, across=across)

    return made


def check_each(
    items: Callable[[Scope], Iterable[_Item]],
    severity: Severity,
    *,
    also: tuple[Severity, ...] = (),
    across: bool = False,
) -> Callable[[Hits[_Item]], Check]:
    """Make a check of a function that looks at one thing at a time, such as an engine."""

    def made(hits_of: Hits[_Item]) -> Check:
        @wraps(hits_of)
        def hits(scope: Scope) -> Iterator[Hit]:
            for item in items(scope):
                yield from hits_of(item)

        return check(severity, also=also, across=across)(hits)

    return made


def checks_in(module: ModuleType) -> list[Check]:
    """Return the checks that a module makes, in their order there."""
    return [one for one in vars(module).values() if isinstance(one, Check)]


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
                down_to=hit.down_to,
            )


def named(engine: Locomotive) -> str:
    """Name an engine in a sentence: its label, or its row where it has none."""
    return f"'{engine.loco}'" if engine.loco else f"the engine in row {engine.table.rows[engine.index]}"
