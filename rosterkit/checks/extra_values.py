"""Checks of extra values and speed tables: what would be keyed in twice, in vain, or not at all."""

from collections.abc import Iterator, Sequence

from rosterkit.checks.clashes import clashes, grouped
from rosterkit.checks.framework import ScopedEngine, check_each, engines, named, rosters
from rosterkit.cv.configured import uses_table
from rosterkit.cv.extra_values import COLUMN_OF, CvKey, can_be_extra, index_of, lacks_index
from rosterkit.cv.meanings import unused_cv28_words
from rosterkit.findings import Hit, Severity
from rosterkit.roster.model import ExtraValue, Roster
from rosterkit.roster.rows import hit_at
from rosterkit.roster.schema import folded
from rosterkit.standards.configuration import BIDI_CV
from rosterkit.standards.identity import READ_ONLY_CVS, VERSION_CV
from rosterkit.standards.service_mode import INDEXED_CVS
from rosterkit.standards.speed_curve import falling_steps

_MAKER = "the manufacturer ID, and writing 8 to it resets the decoder"


@check_each(rosters, Severity.ERROR)
def extra_value_clashes(roster: Roster) -> Iterator[Hit]:
    """An extra value is for a CV that a column sets, or that another row sets to something else.

    Why: whichever is keyed in last would hold, and nobody could say which that is.
    Fix: Remove the row, and use the column that the message names.
    """
    for extra in roster.extra_values:
        if extra.cv in COLUMN_OF:
            by = COLUMN_OF[extra.cv]
            message = f"CV{extra.cv} is set by {by}, so it would be keyed in twice"
            yield hit_at(extra, "cv", message, f"Remove the row, and use {by}.")
    for extras in roster.extras_of.values():
        yield from _twice(extras)


def _twice(extras: Sequence[ExtraValue]) -> Iterator[Hit]:
    for (cv, index), same in grouped(extras, _key).items():
        place = f" of index {index[0]}/{index[1]}" if index else ""
        for extra, _, where in clashes([same], lambda one: one.place("cv")):
            message = f"CV{cv}{place} of '{extra.loco}' appears {len(same)} times (also in {where[0].cell})"
            yield hit_at(extra, "cv", message, "Remove all rows but one.", related=where)


def _key(extra: ExtraValue) -> CvKey | None:
    """Return by what a value is keyed in; None where it is not."""
    if extra.cv is None or not can_be_extra(extra.cv) or _blank_index(extra):
        return None
    return extra.cv, index_of(extra)


@check_each(rosters, Severity.ERROR)
def register_not_writable(roster: Roster) -> Iterator[Hit]:
    """An extra value is for CV7 or CV8, which cannot be set.

    Why: they say who made the decoder (NMRA S-9.2.2 (Jul 2012), CV7 and CV8), and writing 8 to CV8 brings
    every CV back to its factory value (RCN-226 (2014), section 2.1).
    Fix: Remove the row.
    """
    for extra in roster.extra_values:
        if extra.cv in READ_ONLY_CVS:
            what = "the version" if extra.cv == VERSION_CV else _MAKER
            yield hit_at(extra, "cv", f"CV{extra.cv} cannot be set: it is {what}", "Remove the row.")


@check_each(rosters, Severity.ERROR)
def page_missing(roster: Roster) -> Iterator[Hit]:
    """An extra value is for CV257 to CV512 and lacks its index.

    Why: these CVs are there many times over; CV31 and CV32 choose which, and must be keyed in before
    (NMRA S-9.2.2 (Jul 2012), CV31/32).
    Fix: Enter Index high and Index low as the decoder's instructions give them.
    """
    fix = "Enter both Index high (CV31) and Index low (CV32), as the decoder's instructions give them."
    for extra in roster.extra_values:
        blank = _blank_index(extra)
        if blank:
            message = f"CV{extra.cv} needs an index, and {extra.heading(blank)} is blank"
            yield hit_at(extra, blank, message, fix)


def _blank_index(extra: ExtraValue) -> str | None:
    """Return the column of an index that is needed and blank; a cell that cannot be used is no blank one."""
    if not lacks_index(extra) or {"index_high", "index_low"} & extra.unusable:
        return None
    return "index_high" if extra.index_high is None else "index_low"


@check_each(rosters, Severity.WARNING)
def page_unused(roster: Roster) -> Iterator[Hit]:
    """An extra value names an index, and its CV takes none.

    Why: only CV257 to CV512 take an index (NMRA S-9.2.2 (Jul 2012), CV31/32), so the CV or the index
    is probably mistyped.
    Fix: Correct the CV, or empty Index high and Index low.
    """
    for extra in roster.extra_values:
        if extra.cv is not None and extra.cv not in INDEXED_CVS and can_be_extra(extra.cv):
            named = [name for name in ("index_high", "index_low") if getattr(extra, name) is not None]
            for column in named:
                message = f"CV{extra.cv} takes no index: only CV257 to CV512 do"
                yield hit_at(extra, column, message, "Correct the CV, or empty the index.")


@check_each(engines, Severity.NOTE)
def bidi_configuration_unused(entry: ScopedEngine) -> Iterator[Hit]:
    """An engine has an extra value for CV28, and its BiDi is off.

    Why: CV28 says how a decoder answers over the rails, and counts only with bit 3 of CV29 set (NMRA
    S-9.2.2 (Jul 2012), CV28; RCN-225 (27.07.2025), CV28).
    Fix: Set BiDi to on, or remove the extra value.
    """
    for extra in entry.roster.extras_of.get(folded(entry.engine.loco or ""), ()):
        if extra.cv == BIDI_CV and extra.value and entry.engine.bidi == "off":
            fix = f"Set {entry.engine.heading('bidi')} of {named(entry.engine)} to on, or remove the row."
            yield hit_at(extra, "value", unused_cv28_words(extra.value), fix)


@check_each(rosters, Severity.ERROR)
def speed_table_incomplete(roster: Roster) -> Iterator[Hit]:
    """A speed table has fewer than 28 values.

    Why: the decoder would run by what is in it at the steps that are not keyed in.
    Fix: Fill all 28 columns.
    """
    for table in roster.speed_tables:
        steps = enumerate(table.steps, 1)
        blank = [step for step, value in steps if value is None and f"step{step}" not in table.unusable]
        if blank:
            which = ", ".join(map(str, blank[:6])) + (" and more" if len(blank) > 6 else "")
            message = f"'{table.label}' has no value at step {which}"
            yield hit_at(table, f"step{blank[0]}", message, "Fill all 28 columns.")


@check_each(rosters, Severity.ERROR)
def speed_table_falls(roster: Roster) -> Iterator[Hit]:
    """A speed table falls: a step is slower than the one before.

    Why: the engine slows down as the throttle is opened (common practice, no source: a table never falls).
    Fix: Make each value at least as large as the one before.
    """
    for table in roster.speed_tables:
        values = [value for value in table.steps if value is not None]
        for step in falling_steps(values) if len(values) == len(table.steps) else ():
            before, after = table.steps[step - 2], table.steps[step - 1]
            message = f"'{table.label}' falls from {before} at step {step - 1} to {after} at step {step}"
            fix = f"Make step {step} at least {before}."
            yield hit_at(table, f"step{step}", message, fix, related=[table.place(f"step{step - 1}")])


@check_each(engines, Severity.ERROR)
def speed_table_unknown(entry: ScopedEngine) -> Iterator[Hit]:
    """An engine's speed table is not in the sheet Speed tables.

    Why: the decoder then runs by whatever table is in it.
    Fix: Enter the table's 28 values there, or spell its name as there.
    """
    engine = entry.engine
    named = engine.speed_table
    if named and uses_table(engine, entry.roster) and folded(named) not in entry.roster.tables:
        message = f"'{named}' is not in the sheet Speed tables"
        yield hit_at(engine, "speed_table", message, "Enter its values there, or spell it as there.")


@check_each(engines, Severity.NOTE)
def speed_table_unused(entry: ScopedEngine) -> Iterator[Hit]:
    """An engine names a speed table, and its Speed curve is not table.

    Why: the table is not keyed in: by Speed curve, or where that is blank by CV29 as it read last, the
    decoder does not run by one.
    Fix: Set Speed curve to table, or empty Speed table.
    """
    engine = entry.engine
    if engine.speed_table and "speed_curve" not in engine.unusable and not uses_table(engine, entry.roster):
        message = f"'{engine.speed_table}' is not used: Speed curve is {engine.speed_curve or 'blank'}"
        can = entry.decoder_type is None or entry.decoder_type.speed_table != "no"
        fix = "Set Speed curve to table, or empty the cell." if can else "Empty the cell."
        yield hit_at(engine, "speed_table", message, fix)
