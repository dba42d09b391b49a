"""The check of momentum: engines that run together speed up and slow down together."""

from collections.abc import Iterator, Sequence

from rosterkit.checks.clashes import cell_seen_from
from rosterkit.checks.consists import ConsistRows, consists_in
from rosterkit.checks.framework import Scope, ScopedEngine, check, named
from rosterkit.cv.momentum import adjustment_value, momentum_in_force
from rosterkit.findings import Hit, Severity
from rosterkit.roster.model import Roster
from rosterkit.roster.rows import hit_at
from rosterkit.roster.schema import folded
from rosterkit.standards.momentum import adjustment_of

_MOMENTUM = {3: "acceleration", 4: "deceleration"}

Labelled = dict[tuple[int, str], ScopedEngine]
"""The engines of a scope by their roster and folded label, the first of each."""


def _by_label(scope: Scope) -> Labelled:
    found: Labelled = {}
    for entry in scope.entries:
        found.setdefault((id(entry.roster), folded(entry.engine.loco or "")), entry)
    return found


def _engines_of(consist: ConsistRows, engines: Labelled) -> list[ScopedEngine]:
    """Return the engines of a consist in the order of its rows; rows of no engine are left out."""
    found = (engines.get((id(consist.roster), folded(row.loco or ""))) for row in consist.rows)
    return [entry for entry in found if entry is not None]


@check(Severity.WARNING)
def momentum_differs(scope: Scope) -> Iterator[Hit]:
    """Engines of one consist, or that match each other, have different momentum.

    Why: while they speed up and slow down one pushes or drags the other, however alike they run at each step.
    CV3 and CV4 are times from stop to top and back, with what CV23 and CV24 add (NMRA S-9.2.2 (Jul 2012),
    CV3, CV4, CV23 and CV24); that they should be alike is common practice, no source.
    Fix: Give all of them the smallest Acceleration and Deceleration that one of them has.
    """
    said: set[tuple[int, int, int]] = set()
    for together, words in _running_together(scope):
        for cv in _MOMENTUM:
            for entry, hit in _above_the_least(together, cv, words):
                engine = entry.engine
                key = id(engine.table), engine.index, cv
                if key not in said:
                    said.add(key)
                    yield hit


def _running_together(scope: Scope) -> Iterator[tuple[list[ScopedEngine], str]]:
    engines = _by_label(scope)
    for consist in consists_in(scope):
        yield _engines_of(consist, engines), f"of the same consist '{consist.label}'"
    for roster in scope.rosters:
        for labels in _matching(roster):
            found = (engines.get((id(roster), label)) for label in labels)
            yield [entry for entry in found if entry], "with which it is to run alike"


def _matching(roster: Roster) -> list[list[str]]:
    """Return the folded labels of engines that match each other, directly or through others."""
    group_of: dict[str, list[str]] = {}
    for goal in roster.speed_goals:
        if goal.loco and goal.match:
            one, other = folded(goal.loco), folded(goal.match)
            mine = group_of.setdefault(one, [one])
            theirs = group_of.setdefault(other, [other])
            if mine is not theirs:
                fewer, more = sorted((mine, theirs), key=len)
                more += fewer
                group_of |= dict.fromkeys(fewer, more)
    return list({id(group): group for group in group_of.values()}.values())


def _in_force(entry: ScopedEngine, cv: int) -> int | None:
    engine = entry.engine
    return momentum_in_force(entry.roster, engine, cv)


def _above_the_least(
    together: Sequence[ScopedEngine], cv: int, words: str
) -> Iterator[tuple[ScopedEngine, Hit]]:
    column = _MOMENTUM[cv]
    stated = [(_in_force(entry, cv), entry) for entry in together]
    known = [(value, entry) for value, entry in stated if value is not None]
    least, model = min(known, key=lambda pair: pair[0], default=(0, None))
    for value, entry in known:
        if model is not None and value > least:
            engine, where = entry.engine, model.engine.place(column)
            heading, added = engine.heading(column), adjustment_value(entry.roster, engine.loco, cv)
            cell = cell_seen_from(engine.table.workbook, where)
            message = (
                f"{heading} comes to {value} here and to {least} in {named(model.engine)} ({cell}), {words}"
            )
            fix = _set_to(least, heading, cv + 20, added)
            yield entry, hit_at(engine, column, message, fix, related=[where])


def _set_to(in_force: int, heading: str, adjusting_cv: int, added: int) -> str:
    """Say what makes momentum come to a value: the column's own with what its adjusting CV adds."""
    value = in_force - adjustment_of(added)
    if 0 <= value <= 255:
        return f"Set {heading} to {value}."
    return f"Set {heading} to {in_force}, and CV{adjusting_cv} in Extra values to 0."
