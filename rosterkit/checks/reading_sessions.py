"""An engine's newest readings beside what the roster says of the same CVs."""

from collections.abc import Iterator, Mapping
from dataclasses import dataclass, field

from rosterkit.checks.framework import Scope, ScopedEngine
from rosterkit.cv.engine import cvs_of
from rosterkit.cv.extra_values import CvKey
from rosterkit.cv.readings import agree, newest_readings
from rosterkit.findings import Hit, Severity
from rosterkit.roster.model import Reading
from rosterkit.roster.rows import hit_at
from rosterkit.roster.schema import folded
from rosterkit.standards.configuration import EVERY_BIT

CONFIGURATION_CV = 29


@dataclass(frozen=True, slots=True, kw_only=True)
class Session:
    """An engine's newest readings beside what the roster says, and which of them are explained already."""

    entry: ScopedEngine
    meet: bool
    newest: Mapping[CvKey, Reading]
    wanted: Mapping[CvKey, int]
    stated: int = EVERY_BIT
    """The bits of CV29 that the roster states; the others are left as they are."""
    explained: set[CvKey] = field(default_factory=set)
    explained_bits: set[int] = field(default_factory=set)
    """Bits of CV29 (their values) that a cause has been given for."""

    def read(self, cv: int) -> int | None:
        """Return what a CV without an index reads; None where it was not read."""
        reading = self.newest.get((cv, None))
        return reading.value if reading else None

    def difference(self, cv: int) -> int | None:
        """Return the bits in which a CV reads otherwise than wanted; None where it was not read or wanted."""
        value, wanted = self.read(cv), self.wanted.get((cv, None))
        if value is None or wanted is None:
            return None
        stated = self.stated if cv == CONFIGURATION_CV else EVERY_BIT
        return 0 if agree(cv, value, wanted, stated) else (value ^ wanted) & stated

    def read_before(self, cv: int) -> tuple[int, ...]:
        """Return what other readings than the newest say that a CV without an index held."""
        newest, label = self.newest.get((cv, None)), folded(self.entry.engine.loco or "")
        readings = self.entry.roster.readings_of.get(label, ())
        others = (one.value for one in readings if one.cv == cv and one is not newest)
        return tuple(value for value in others if value is not None)

    def agrees(self, *cvs: int) -> bool:
        """Whether CVs were all read as the roster has them."""
        return all(self.difference(cv) == 0 for cv in cvs)

    def explain(self, *cvs: int) -> None:
        """Note that readings of CVs without an index are explained."""
        self.explained.update((cv, None) for cv in cvs)

    def is_explained(self, *cvs: int) -> bool:
        """Whether the reading of one of several CVs without an index is explained."""
        return any((cv, None) in self.explained for cv in cvs)

    def hit(self, cv: int, message: str, fix: str, severity: Severity | None = None) -> Hit:
        """Make a hit at the newest reading of a CV without an index; it must have been read."""
        return hit_at(self.newest[cv, None], "value", message, fix, severity=severity)


def sessions_in(scope: Scope) -> Iterator[Session]:
    """Return a session for every engine of a scope that has readings, in the order of the sheet."""
    some = any(roster.readings_of for roster in scope.rosters)
    for entry in scope.entries if some else ():
        engine, home = entry.engine, entry.roster
        newest = newest_readings(home, engine.loco)
        if newest:
            cvs = cvs_of(engine, home, meet=scope.meet)
            stated = cvs.stated((CONFIGURATION_CV, None))
            yield Session(entry=entry, meet=scope.meet, newest=newest, wanted=cvs.wanted(), stated=stated)
