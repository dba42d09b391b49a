"""Checks of what was read back at the track; each reading that is not as wanted is explained by one check."""

from collections.abc import Callable, Iterator, Mapping
from functools import wraps

from rosterkit.checks.address_readings import (
    address_not_active,
    consist_left_behind,
    factory_values_left,
    meet_address_left,
    pair_half_taken,
)
from rosterkit.checks.framework import Scope, check
from rosterkit.checks.reading_sessions import CONFIGURATION_CV, Session, sessions_in
from rosterkit.cv.meanings import (
    ACCESSORY_BIT,
    NOTHING_READ_FIX,
    UNFINISHED_RESET,
    lock_closed_words,
    lock_opening_words,
)
from rosterkit.cv.readings import agree, nothing_read
from rosterkit.findings import Hit, Severity
from rosterkit.roster.rows import hit_at
from rosterkit.standards.configuration import (
    DC_OPERATION,
    EVERY_BIT,
    configuration,
    configuration_words,
)
from rosterkit.standards.configuration import is_accessory as is_accessory_byte
from rosterkit.standards.identity import (
    LOCK_IDENTITY_CV,
    LOCK_KEY_CV,
    MAKER_CV,
    RESET_IN_PROGRESS,
    VERSION_CV,
    lock_is_open,
)
from rosterkit.standards.motor_cvs import CV12, permits_dc

Explanation = Callable[[Session], Iterator[Hit]]
"""A check of one engine's readings; what it finds it marks as explained."""
_IDENTITY = (
    (MAKER_CV, "manufacturer ID"),
    (107, "manufacturer ID's high bits"),
    (108, "manufacturer ID's low byte"),
    (VERSION_CV, "version"),
)


def reading_unreliable(session: Session) -> Iterator[Hit]:
    """The decoder did not answer, or every CV reads as 255.

    Why: an answer is a short draw of current by the motor (NMRA S-9.2.3 (Jul 2012), section D); a buffer
    capacitor, dirty wheels or a motor that is not connected hide it (common practice, no source). A write
    is carried out even if no acknowledgment is seen (section D).
    Fix: Clean wheels and rails, disconnect the capacitor, and read again.
    """
    yield from _no_answer(session)
    if session.read(MAKER_CV) == RESET_IN_PROGRESS and not session.is_explained(MAKER_CV):
        session.explain(MAKER_CV)
        yield session.hit(MAKER_CV, *UNFINISHED_RESET)


def _no_answer(session: Session) -> Iterator[Hit]:
    unanswered = [key for key, one in session.newest.items() if one.value is None]
    if nothing_read((cv, one.value) for (cv, _), one in session.newest.items()):
        session.explained.update(session.newest)
        first = min(session.newest.values(), key=lambda one: one.index)
        how_many = "both" if len(session.newest) == 2 else f"all {len(session.newest)}"
        message = f"{how_many} CVs read 255 or gave no acknowledgment, so probably nothing was read"
        yield hit_at(first, "value", message, NOTHING_READ_FIX)
        return
    for key in unanswered:
        session.explained.add(key)
        message = f"CV{key[0]} gave no acknowledgment; the value may still have been written"
        fix = "Clean wheels and rails and read it again; some decoders lack the CV."
        yield hit_at(session.newest[key], "value", message, fix, severity=Severity.NOTE)


def decoder_not_as_listed(session: Session) -> Iterator[Hit]:
    """CV8 or CV7 read otherwise than the engine's kind of decoder says.

    Why: another engine is on the track, or the decoder was changed (NMRA S-9.2.2 (Jul 2012), CV7 and CV8).
    CV7 alone may also be another version of the same decoder.
    Fix: Make sure that the right engine is on the track; else correct Decoder or Decoder types.
    """
    named = session.entry.engine.decoder
    for cv, what in _IDENTITY:
        if session.difference(cv) and not session.is_explained(cv):
            session.explain(cv)
            wanted = session.wanted[cv, None]
            message = f"CV{cv} reads {session.read(cv)}; a decoder '{named}' has {wanted} there, its {what}"
            message += ": another decoder, or a newer or older version of it" if cv == VERSION_CV else ""
            fix = "Make sure that the right engine is on the track; else correct Decoder or Decoder types."
            yield session.hit(cv, message, fix, Severity.NOTE if cv == VERSION_CV else None)


def lock_closed(session: Session) -> Iterator[Hit]:
    """CV15 and CV16 read differently: the decoder's lock is closed.

    Why: while they differ the decoder takes writes to CV15 only (NMRA S-9.2.2 (Jul 2012), CV15/16); by
    RCN-225 (27.07.2025) nothing else can be read either.
    Fix: Key in CV15 as the finding says, before anything else.
    """
    key, identity = session.read(LOCK_KEY_CV), session.read(LOCK_IDENTITY_CV)
    if key is None or identity is None or lock_is_open(key, identity):
        return
    session.explain(LOCK_KEY_CV)
    on_purpose = session.entry.engine.lock == identity
    message = lock_closed_words(key, identity)
    message += " until its own number is keyed in" if on_purpose else ""
    fix = lock_opening_words(identity)
    yield session.hit(LOCK_KEY_CV, message, fix, Severity.NOTE if on_purpose else None)


def dc_operation_still_on(session: Session) -> Iterator[Hit]:
    """DC operation reads as on in an engine where the roster has it off, or leaves it as it is.

    Why: a decoder that takes the rails for direct current can start the engine at full speed, and the
    emergency stop does not reach it until valid packets come again (NMRA S-9.2.2 (Jul 2012), CV29 bit 2; the
    runaway is common practice, no source).
    Fix: Key in CV29 as the roster has it; where DC operation is blank, set it to off or to on.
    """
    read, wanted = session.read(CONFIGURATION_CV), session.wanted.get((CONFIGURATION_CV, None))
    if read is None or wanted is None or is_accessory_byte(read) or not read & DC_OPERATION:
        return
    if not permits_dc(session.read(CV12)):
        return
    if not session.stated & DC_OPERATION:
        column = session.entry.engine.heading("dc_operation")
        message = (
            f"DC operation is on in the engine: CV29 reads {read}, and {column} is blank, so it stays on"
        )
        fix = f"Set {column} to off, and key in CV29 = {wanted & ~DC_OPERATION}; or to on if it is meant."
        yield session.hit(CONFIGURATION_CV, message, fix, None if session.meet else Severity.NOTE)
    elif not wanted & DC_OPERATION and not session.is_explained(CONFIGURATION_CV):
        session.explained_bits.add(DC_OPERATION)
        message = f"DC operation is still on in the engine: CV29 reads {read}, wanted {wanted}"
        severity = Severity.ERROR if session.meet else None
        yield session.hit(CONFIGURATION_CV, message, f"Key in CV29 = {wanted}.", severity)


def reading_differs(session: Session) -> Iterator[Hit]:
    """A CV reads otherwise than the roster says.

    Why: the engine does not do what the roster says. A decoder keeps the bits of features it lacks at 0
    (NMRA S-9.2.2 (Jul 2012), CV29), so a difference can also be the decoder's.
    Fix: Key in the wanted value, or correct the roster.
    """
    for key, reading in session.newest.items():
        wanted = session.wanted.get(key)
        if reading.value is None or wanted is None or key in session.explained:
            continue
        (cv, index), bits = key, EVERY_BIT
        if key == (CONFIGURATION_CV, None):
            bits = session.stated & ~sum(session.explained_bits)
        if not agree(cv, reading.value, wanted, bits):
            name = f"CV{cv} of index {index[0]}/{index[1]}" if index else f"CV{cv}"
            message = f"{name} reads {reading.value}, wanted {wanted}{_words(cv, reading.value, wanted)}"
            yield hit_at(reading, "value", message, f"Key in CV{cv} = {wanted}, or correct the roster.")


def _words(cv: int, read: int, wanted: int) -> str:
    """Say which settings of CV29 differ, as they were read."""
    if cv != CONFIGURATION_CV:
        return ""
    if is_accessory_byte(read):
        return f" ({ACCESSORY_BIT})"
    now, then = (configuration_words(configuration(value)) for value in (read, wanted))
    return f" ({', '.join(one for one, other in zip(now, then, strict=False) if one != other)})"


_BY_CAUSE: Mapping[Explanation, Severity] = {
    reading_unreliable: Severity.WARNING,
    decoder_not_as_listed: Severity.WARNING,
    lock_closed: Severity.ERROR,
    consist_left_behind: Severity.ERROR,
    meet_address_left: Severity.WARNING,
    factory_values_left: Severity.WARNING,
    pair_half_taken: Severity.ERROR,
    address_not_active: Severity.ERROR,
    dc_operation_still_on: Severity.WARNING,
    reading_differs: Severity.WARNING,
}
"""The more telling first: what one explains is no longer looked at by those after it."""


def _explained(scope: Scope) -> dict[Explanation, list[Hit]]:
    """Return what each check finds, worked out once in a scope, as each leaves the rest to the next."""
    found: dict[Explanation, list[Hit]] | None = scope.kept.get("readings")
    if found is None:
        found = scope.kept["readings"] = {explain: [] for explain in _BY_CAUSE}
        for session in sessions_in(scope):
            for explain, hits in found.items():
                if not session.newest.keys() <= session.explained:
                    hits.extend(explain(session))
    return found


def _in_turn(explain: Explanation) -> Callable[[Scope], list[Hit]]:
    """Make a check of a whole scope out of a check of one engine's readings."""

    @wraps(explain)
    def hits(scope: Scope) -> list[Hit]:
        return _explained(scope)[explain]

    return hits


_ALSO: Mapping[Explanation, tuple[Severity, ...]] = {
    reading_unreliable: (Severity.NOTE,),
    decoder_not_as_listed: (Severity.NOTE,),
    lock_closed: (Severity.NOTE,),
    consist_left_behind: (Severity.WARNING,),
    dc_operation_still_on: (Severity.ERROR, Severity.NOTE),
}
"""How severe they can be besides."""

CHECKS = [
    check(severity, also=_ALSO.get(explain, ()))(_in_turn(explain)) for explain, severity in _BY_CAUSE.items()
]
