"""Checks of how a decoder is set: speed steps, DC operation, the speed curve, and what its kind can do."""

from collections.abc import Iterator
from itertools import pairwise

from rosterkit.checks.framework import Scope, ScopedEngine, check, check_each, engines
from rosterkit.checks.proposals import another_address
from rosterkit.cv.address_sentences import DECODER_UNKNOWN
from rosterkit.cv.addresses import Space
from rosterkit.cv.configured import uses_table
from rosterkit.cv.meanings import DC_OPERATION_ON, steps_mismatch_words
from rosterkit.cv.readings import configuration_read
from rosterkit.findings import Hit, Severity
from rosterkit.roster.model import DecoderType, Locomotive, Roster
from rosterkit.roster.rows import hit_at
from rosterkit.roster.schema import folded
from rosterkit.spelling import Spelling
from rosterkit.standards.configuration import DC_OPERATION, STEPS_28
from rosterkit.standards.motor_cvs import CV12, permits_dc
from rosterkit.standards.speed_curve import FULL_DRIVE
from rosterkit.standards.speed_steps import step_mismatch

_NEUTRAL = (("vstart", 0), ("vhigh", 255))
"""No drive at step 1 and full drive at the top change nothing (NMRA S-9.2.2 (Jul 2012), CV2 and CV5)."""

_UNUSED = (0, 1)
"""CV5 and CV6 with these values are left out of the curve (NMRA S-9.2.2 (Jul 2012), CV5 and CV6)."""


@check_each(engines, Severity.WARNING)
def steps_mismatch(entry: ScopedEngine) -> Iterator[Hit]:
    """An engine's speed steps are not those that the layout sends.

    Why: where 28 steps are sent to a decoder set to 14, the headlight goes on and off with the speed and
    every second step does nothing; with 128 it does not blink. Where 14 are sent to one set to 28/128, the
    headlight cannot be switched (NMRA S-9.2.1, derived; the symptoms are common practice, no source). All
    engines of a consist get one instruction (NMRA S-9.2.1 (Jul 2012), Consist Control): with different steps
    one takes it wrongly.
    Fix: Set the engine's Speed steps as the layout's.
    """
    steps, sent = _steps(entry), entry.layout.speed_steps
    symptom = steps_mismatch_words(decoder=steps, sent=sent) if steps else None
    if _knows_14_only(entry) and sent != "14":
        yield _cannot_take(entry, sent)
    elif symptom:
        message = f"set to {steps} speed steps, and the layout sends {sent}: {symptom}"
        message += _beside(entry, sent)
        yield hit_at(entry.engine, "speed_steps", message, f"Set it to {sent}.")


def _beside(entry: ScopedEngine, sent: str) -> str:
    """Say who of the same consist has the steps that are sent: one instruction goes to all of them."""
    member = entry.roster.consist_of.get(folded(entry.engine.loco or ""))
    having = _consist_steps(entry.roster).get(folded(member.consist or ""), {}) if member else {}
    return f", and '{having[sent]}' of the same consist has {sent}" if sent in having else ""


def _consist_steps(roster: Roster) -> dict[str, dict[str, str]]:
    """Return by consist, folded, and by speed steps the first engine that has them; worked out once."""
    if "consist steps" not in roster.kept:
        engines = {folded(one.loco): one for one in roster.engines if one.loco}
        found: dict[str, dict[str, str]] = {}
        for row in roster.consist_members:
            engine = engines.get(folded(row.loco or ""))
            steps = (_steps_of(engine, roster) or roster.layout.speed_steps) if engine else None
            if steps and row.loco and row.consist:
                found.setdefault(folded(row.consist), {}).setdefault(steps, row.loco)
        roster.kept["consist steps"] = found
    kept: dict[str, dict[str, str]] = roster.kept["consist steps"]
    return kept


def _steps(entry: ScopedEngine) -> str | None:
    return _steps_of(entry.engine, entry.roster)


def _steps_of(engine: Locomotive, roster: Roster) -> str | None:
    """Return the speed steps that an engine states, or else keeps as CV29 read last; None if unknown."""
    if engine.speed_steps is not None or "speed_steps" in engine.unusable:
        return engine.speed_steps
    read = configuration_read(roster, engine.loco)
    return None if read is None else "28/128" if read & STEPS_28 else "14"


def _knows_14_only(entry: ScopedEngine) -> bool:
    return entry.decoder_type is not None and entry.decoder_type.steps == "14"


def _cannot_take(entry: ScopedEngine, sent: str) -> Hit:
    """Say that no setting makes a decoder take what the layout sends: nobody is sent in a circle."""
    symptom = step_mismatch(decoder_has_28=False, station_steps=28)
    message = (
        f"a decoder '{entry.engine.decoder}' knows 14 speed steps only, and the layout sends {sent}: "
        f"where 28 are sent, {symptom}"
    )
    message += _beside(entry, sent)
    fix = "Use another decoder, or send this engine 14 steps where the command station can."
    related = [entry.decoder_type.place("steps")] if entry.decoder_type else []
    return hit_at(entry.engine, "speed_steps", message, fix, related=related)


@check(Severity.WARNING, also=(Severity.ERROR, Severity.NOTE))
def dc_operation_on(scope: Scope) -> Iterator[Hit]:
    """An engine is set to run on plain direct current too.

    Why: a decoder that misses the digital signal for a moment can take the rails for direct current and
    bolt at full speed, and the emergency stop does not reach it until valid packets come again (common
    practice, no source). Many decoders come from the factory so (common practice, no source): where the
    column is blank and CV29 was only read so, it is a note, unless the layout has blocks of direct current.
    Fix: Set DC operation to off, unless the engine really runs on such a layout.
    """
    for entry in scope.entries:
        stated = entry.engine.dc_operation
        engine = entry.engine
        read = configuration_read(entry.roster, engine.loco) or 0
        is_on = stated == "on" or (_is_blank(entry.engine, "dc_operation") and read & DC_OPERATION)
        if is_on and permits_dc(_power_sources(entry)):
            message = DC_OPERATION_ON
            message += "" if stated else f" (CV29 read {read}, and the column is blank)"
            fix = "Set DC operation to off (CV29 then loses 4)."
            severity = _dc_severity(entry, stated=stated is not None, meet=scope.meet)
            yield hit_at(entry.engine, "dc_operation", message, fix, severity=severity)


def _power_sources(entry: ScopedEngine) -> int | None:
    """Return what an engine's extra values make of CV12; None where they have none."""
    extras = entry.roster.extras_of.get(folded(entry.engine.loco or ""), ())
    return next((extra.value for extra in extras if extra.cv == CV12), None)


def _dc_severity(entry: ScopedEngine, *, stated: bool, meet: bool) -> Severity | None:
    """Return how much DC operation matters where that is not what the check says as a rule."""
    if stated:
        return Severity.ERROR if meet else None
    return None if meet or entry.layout.dc_blocks == "yes" else Severity.NOTE


def _is_blank(engine: Locomotive, column: str) -> bool:
    return getattr(engine, column) is None and column not in engine.unusable


@check_each(engines, Severity.ERROR)
def curve_not_rising(entry: ScopedEngine) -> Iterator[Hit]:
    """Vstart, Vmid and Vhigh do not rise.

    Why: where the curve falls the engine slows down as the throttle is opened.
    Fix: Make Vstart smaller than Vmid, and Vmid smaller than Vhigh.
    """
    points = [] if uses_table(entry.engine, entry.roster) else _curve(entry.engine)
    for (low, low_value), (high, high_value) in pairwise(points):
        full_already = low == "vmid" and low_value == high_value == FULL_DRIVE
        if low_value >= high_value and not full_already:
            lower, higher = entry.engine.heading(low), entry.engine.heading(high)
            message = f"{lower} {low_value} is not below {higher} {high_value}"
            fix = f"Make {lower} smaller than {higher}."
            yield hit_at(entry.engine, high, message, fix, related=[entry.engine.place(low)])


def _curve(engine: Locomotive) -> list[tuple[str, int]]:
    points = (("vstart", engine.vstart), ("vmid", engine.vmid), ("vhigh", engine.vhigh))
    return [(name, v) for name, v in points if v is not None and (name == "vstart" or v not in _UNUSED)]


@check_each(engines, Severity.ERROR)
def speed_table_missing(entry: ScopedEngine) -> Iterator[Hit]:
    """An engine's Speed curve is table, and it has no Speed table.

    Why: the decoder then runs by whatever table is in it.
    Fix: Name the engine's speed table, or set Speed curve to 3-point.
    """
    engine = entry.engine
    if engine.speed_curve == "table" and not engine.speed_table and "speed_table" not in engine.unusable:
        message = "Speed curve is table, but no speed table is named"
        yield hit_at(engine, "speed_table", message, "Name a speed table, or set Speed curve to 3-point.")


@check_each(engines, Severity.NOTE, also=(Severity.WARNING,))
def table_scaled(entry: ScopedEngine) -> Iterator[Hit]:
    """An engine runs by a speed table, and Vstart, Vmid or Vhigh may stretch it.

    Why: the maker decides whether CV2, CV5 and CV6 still scale the table, and the manual must say so
    (RCN-225 (27.07.2025), CV29 bit 4); the table then does not give the drive that was timed or keyed in.
    Fix: Make Vstart, Vmid and Vhigh 0 before timing and keying in, or enter no in Decoder types if it is so.
    """
    engine, kind = entry.engine, entry.decoder_type
    scaled = kind.table_scaled if kind else None
    names = [name for name, _ in _scaling(engine)]
    if engine.speed_curve != "table" or not names or scaled == "no":
        return
    said = " and ".join(f"{engine.heading(name)} {value}" for name, value in _scaling(engine))
    what = "stretches" if scaled else "may stretch"
    message = f"the decoder {what} its speed table by {said}"
    fix = f"Make {' and '.join(engine.heading(name) for name in names)} 0 before timing and keying in"
    fix += "." if scaled else ", or see the manual: no in Decoder types says that it does not."
    severity = Severity.WARNING if scaled else None
    yield hit_at(engine, names[0], message, fix, severity=severity)


def _scaling(engine: Locomotive) -> list[tuple[str, int]]:
    """Return which of Vstart, Vmid and Vhigh are not neutral: in a curve of their own they would count."""
    return [(name, value) for name, value in _curve(engine) if (name, value) not in _NEUTRAL]


@check(Severity.WARNING)
def decoder_unknown(scope: Scope) -> Iterator[Hit]:
    """An engine's decoder is not in the sheet Decoder types.

    Why: what that kind of decoder can do and stand is then not checked.
    Fix: Add it to Decoder types, or spell it as there.
    """
    kinds = {
        id(one): Spelling(kind.decoder for kind in one.decoder_types if kind.decoder) for one in scope.rosters
    }
    for entry in scope.entries:
        if entry.engine.decoder and entry.roster.decoder_types and entry.decoder_type is None:
            near = kinds[id(entry.roster)].nearest(entry.engine.decoder)
            message = DECODER_UNKNOWN.format(decoder=entry.engine.decoder)
            fix = f"Add it there, or write '{near}' if that is meant." if near else "Add it there."
            yield hit_at(entry.engine, "decoder", message, fix)


@check(Severity.ERROR)
def decoder_lacks_feature(scope: Scope) -> Iterator[Hit]:
    """An engine is set to something that its kind of decoder cannot do.

    Why: a decoder does not take the bit of a feature it lacks (NMRA S-9.2.2, CV29), so the value read back
    differs and the engine does not do what the roster says.
    Fix: Change the setting, or the decoder.
    """
    for entry in scope.entries:
        kind = entry.decoder_type
        for column, lack, fix in _lacks(scope, entry, kind) if kind else ():
            message = f"a decoder '{entry.engine.decoder}' {lack}"
            yield hit_at(entry.engine, column, message, fix, related=[kind.place("decoder")] if kind else ())


def _lacks(scope: Scope, entry: ScopedEngine, kind: DecoderType) -> Iterator[tuple[str, str, str]]:
    engine = entry.engine
    if kind.long_address == "no":
        for column, address in entry.addresses:
            if address.space is Space.LONG:
                yield (
                    column,
                    "cannot take a long address",
                    another_address(scope, entry, column, instead_of=address),
                )
    if kind.speed_table == "no" and engine.speed_curve == "table":
        yield "speed_curve", "has no speed table", "Set Speed curve to 3-point."
    if kind.bidi == "no" and engine.bidi == "on":
        yield "bidi", "cannot answer over the rails (BiDi)", "Set BiDi to off."
    steps = _steps(entry) or entry.layout.speed_steps
    if kind.steps == "14" and steps == "28/128" and "speed_steps" not in engine.unusable:
        yield "speed_steps", "knows 14 speed steps only", "Set Speed steps to 14."
    if kind.lock == "no" and engine.lock is not None:
        yield "lock", "has no lock (CV15 and CV16)", "Empty Lock, or use another decoder."


@check_each(engines, Severity.ERROR, also=(Severity.WARNING,))
def decoder_overloaded(entry: ScopedEngine) -> Iterator[Hit]:
    """A motor can draw more current than its decoder is rated for.

    Why: a stalled motor draws its stall current. Beyond the peak rating many decoders shut down, and some are
    destroyed; beyond the continuous one they bear it for a short time only, as their makers state it (common
    practice, no source).
    Fix: Use a stronger decoder, or measure the stall current again; the maker's instructions come first.
    """
    kind, stall = entry.decoder_type, entry.engine.stall
    if kind is None or stall is None:
        return
    ratings = (("peak", kind.peak, None), ("continuous", kind.continuous, Severity.WARNING))
    for name, rating, severity in ratings:
        if rating is not None and stall > rating:
            decoder = entry.engine.decoder
            message = f"stall current {stall:g} A exceeds the {rating:g} A {name} rating of '{decoder}'"
            fix = "Use a stronger decoder, or measure the stall current again."
            related = [kind.place(name)]
            yield hit_at(entry.engine, "stall", message, fix, related=related, severity=severity)
            return
