"""Checks of labels: that rows of other sheets name an engine that there is, and that each label is one."""

from collections.abc import Collection, Iterator, Mapping, Sequence

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
    sheets: tuple[Sequence[Referring], ...] = (
        roster.consist_members,
        roster.extra_values,
        roster.speed_runs,
        roster.speed_goals,
        roster.readings,
    )
    everyone = Spelling(known, likeness=_LIKENESS)
    for rows in sheets:
        once = rows is roster.consist_members or rows is roster.speed_goals
        # An engine has one row of Consists and of Speed goals: one that has it already was not meant.
        taken = {folded(row.loco) for row in rows if row.loco} if once else set()
        spelling = (
            Spelling([one for one in known if one not in taken], likeness=_LIKENESS) if taken else everyone
        )
        others = devices if rows is roster.readings else frozenset[str]()
        yield from _unknown(rows, known, others, spelling)


def _unknown(
    rows: Sequence[Referring], known: Mapping[str, str], others: Collection[str], spelling: Spelling
) -> Iterator[Hit]:
    for row in rows:
        label = folded(row.loco or "")
        if row.loco is not None and label not in known and label not in others:
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
