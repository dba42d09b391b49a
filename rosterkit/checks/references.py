"""Checks of labels: that rows of other sheets name an engine that there is, and that each label is one."""

from collections.abc import Iterator
from itertools import chain

from rosterkit.checks.cells import repeated
from rosterkit.checks.framework import check_each, rosters
from rosterkit.findings import Hit, Severity
from rosterkit.roster.model import ConsistMember, ExtraValue, Reading, Roster, SpeedGoal, SpeedRun
from rosterkit.roster.rows import hit_at
from rosterkit.roster.schema import folded
from rosterkit.spelling import Spelling

Referring = ConsistMember | ExtraValue | SpeedRun | SpeedGoal | Reading

_LIKENESS = 0.8
"""How like a label must be to be proposed: engines of one railway have labels that are much alike."""


@check_each(rosters, Severity.ERROR)
def loco_unknown(roster: Roster) -> Iterator[Hit]:
    """A row names an engine that is not in Locomotives.

    Why: the row belongs to no engine, so nothing of it is keyed in or compared.
    Fix: Spell Loco as in the sheet Locomotives, or remove the row.
    """
    known = {folded(engine.loco): engine.loco for engine in roster.engines if engine.loco}
    # Readings can be of a device as well.
    devices = {folded(one.accessory) for one in roster.accessories if one.accessory}
    spelling = Spelling(known, likeness=_LIKENESS)
    rows: Iterator[Referring] = chain(
        roster.consist_members, roster.extra_values, roster.speed_runs, roster.speed_goals, roster.readings
    )
    for row in rows:
        device = isinstance(row, Reading) and folded(row.loco or "") in devices
        if row.loco is not None and folded(row.loco) not in known and not device:
            near = spelling.nearest(folded(row.loco))
            fix = f"Did you mean '{known[near]}'? " if near else ""
            message = f"there is no engine '{row.loco}' in Locomotives"
            yield hit_at(row, "loco", message, f"{fix}Spell it as there, or remove the row.")


@check_each(rosters, Severity.ERROR)
def accessory_repeated(roster: Roster) -> Iterator[Hit]:
    """Two rows of Accessories have the same Accessory.

    Why: people call a device by that label, which must mean one device only.
    Fix: Give each device a label of its own.
    """
    yield from repeated(roster.accessories, "accessory", "Give each device a label of its own.")


@check_each(rosters, Severity.ERROR)
def table_repeated(roster: Roster) -> Iterator[Hit]:
    """Two rows of Speed tables have the same Table.

    Why: engines refer to a speed table by that label, and only the first of them would be keyed in.
    Fix: Give each speed table a label of its own, or remove one of the rows.
    """
    yield from repeated(roster.speed_tables, "label", "Give each speed table a label of its own.")
