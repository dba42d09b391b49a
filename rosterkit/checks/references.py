"""Checks of labels: that rows of other sheets name an engine that there is, and that each label is one."""

from collections.abc import Iterator
from difflib import get_close_matches

from rosterkit.checks.cells import repeated
from rosterkit.checks.framework import Check, Scope
from rosterkit.findings import Hit, Severity
from rosterkit.roster.model import ConsistMember, ExtraValue, Reading, Roster, SpeedGoal, SpeedRun
from rosterkit.roster.rows import hit_at
from rosterkit.roster.schema import folded

Referring = ConsistMember | ExtraValue | SpeedRun | SpeedGoal | Reading

_LIKENESS = 0.8
"""How like a label must be to be proposed: engines of one railway have labels that are much alike."""


def loco_unknown(scope: Scope) -> Iterator[Hit]:
    """A row names an engine that is not in Locomotives.

    Why: the row belongs to no engine, so nothing of it is keyed in or compared.
    Fix: Spell Loco as in the sheet Locomotives, or remove the row.
    """
    for roster in scope.rosters:
        known = {folded(engine.loco): engine.loco for engine in roster.engines if engine.loco}
        for row in _referring(roster):
            if row.loco is not None and folded(row.loco) not in known:
                near = get_close_matches(folded(row.loco), known, n=1, cutoff=_LIKENESS)
                fix = f"Did you mean '{known[near[0]]}'? " if near else ""
                message = f"there is no engine '{row.loco}' in Locomotives"
                yield hit_at(row, "loco", message, f"{fix}Spell it as there, or remove the row.")


def _referring(roster: Roster) -> Iterator[Referring]:
    yield from roster.consist_members
    yield from roster.extra_values
    yield from roster.speed_runs
    yield from roster.speed_goals
    yield from roster.readings


def accessory_repeated(scope: Scope) -> Iterator[Hit]:
    """Two rows of Accessories have the same Accessory.

    Why: people call a device by that label, which must mean one device only.
    Fix: Give each device a label of its own.
    """
    for roster in scope.rosters:
        yield from repeated(roster.accessories, "accessory", "Give each device a label of its own.")


def table_repeated(scope: Scope) -> Iterator[Hit]:
    """Two rows of Speed tables have the same Table.

    Why: engines refer to a speed table by that label, and only the first of them would be keyed in.
    Fix: Give each speed table a label of its own, or remove one of the rows.
    """
    for roster in scope.rosters:
        yield from repeated(roster.speed_tables, "label", "Give each speed table a label of its own.")


CHECKS = (
    Check(slug="loco-unknown", severity=Severity.ERROR, hits=loco_unknown),
    Check(slug="accessory-repeated", severity=Severity.ERROR, hits=accessory_repeated),
    Check(slug="table-repeated", severity=Severity.ERROR, hits=table_repeated),
)
