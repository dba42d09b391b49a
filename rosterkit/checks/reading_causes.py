"""What an engine's newest readings show together: each differing CV is explained once, by its cause."""

from collections.abc import Callable, Iterator
from dataclasses import dataclass

from rosterkit.checks.framework import Scope
from rosterkit.checks.reading_sessions import Session, sessions_in
from rosterkit.cv.addresses import Address, Space
from rosterkit.cv.decode import decoded
from rosterkit.findings import Severity
from rosterkit.roster.model import Reading
from rosterkit.standards.configuration import DC_OPERATION, LONG_ADDRESS, configuration, configuration_words
from rosterkit.standards.configuration import is_accessory as is_accessory_byte
from rosterkit.standards.consists import consist_of_pair
from rosterkit.standards.identity import (
    LOCK_IDENTITY_CV,
    LOCK_KEY_CV,
    MAKER_CV,
    RESET_IN_PROGRESS,
    VERSION_CV,
    lock_is_open,
)

_NOTHING = 255
"""What many command stations show where the decoder gave no acknowledgment (common practice, no source)."""
_CONFIGURATION = 29
_IDENTITY = (
    (MAKER_CV, "manufacturer ID"),
    (107, "manufacturer ID's high bits"),
    (108, "manufacturer ID's low byte"),
    (VERSION_CV, "version"),
)


@dataclass(frozen=True, slots=True, kw_only=True)
class Cause:
    """Why a reading is not as the roster has it: the check that says so, the reading, and the words."""

    rule: str
    reading: Reading
    message: str
    fix: str
    severity: Severity | None = None


def causes_in(scope: Scope) -> Iterator[Cause]:
    """Return every cause in a scope, engine by engine in the order of the sheet."""
    for session in sessions_in(scope):
        yield from causes_of(session)


def causes_of(session: Session) -> Iterator[Cause]:
    """Return the causes of one engine's readings, the more telling first."""
    yield from _nothing_read(session)
    if session.newest.keys() <= session.explained:
        return
    for explain in _EXPLANATIONS:
        yield from explain(session)


def _nothing_read(session: Session) -> Iterator[Cause]:
    unanswered = [key for key, one in session.newest.items() if one.value is None]
    nothing = [key for key, one in session.newest.items() if one.value in (None, _NOTHING)]
    if len(nothing) == len(session.newest) > 1:
        session.explained.update(session.newest)
        first = min(session.newest.values(), key=lambda one: one.index)
        how_many = "both" if len(nothing) == 2 else f"all {len(nothing)}"
        yield Cause(
            rule="reading-unreliable",
            reading=first,
            message=f"{how_many} CVs read 255 or gave no acknowledgment, so nothing was read at all",
            fix="Look for a buffer capacitor, dirty wheels or a motor that is not connected; read again.",
        )
        return
    for key in unanswered:
        session.explained.add(key)
        yield Cause(
            rule="reading-unreliable",
            reading=session.newest[key],
            message=f"CV{key[0]} gave no acknowledgment; the value may still have been written",
            fix="Clean wheels and rails and read it again; some decoders lack the CV.",
            severity=Severity.NOTE,
        )


def _other_decoder(session: Session) -> Iterator[Cause]:
    named = session.entry.engine.decoder
    if session.read(MAKER_CV) == RESET_IN_PROGRESS and (MAKER_CV, None) not in session.explained:
        session.explain(MAKER_CV)
        yield Cause(
            rule="reading-unreliable",
            reading=session.at(MAKER_CV),
            message="CV8 reads 255: a reset has not ended, or nothing was read",
            fix="Switch the track off and on, and read again.",
        )
    for cv, what in _IDENTITY:
        if session.differs(cv) and (cv, None) not in session.explained:
            session.explain(cv)
            yield Cause(
                rule="decoder-not-as-listed",
                reading=session.at(cv),
                message=f"CV{cv} reads {session.read(cv)}; a decoder '{named}' has "
                f"{session.wanted[cv, None]} there, its {what}",
                fix="Make sure that the right engine is on the track; else correct Decoder or Decoder types.",
                severity=Severity.NOTE if cv == VERSION_CV else None,
            )


def _lock(session: Session) -> Iterator[Cause]:
    key, identity = session.read(LOCK_KEY_CV), session.read(LOCK_IDENTITY_CV)
    if key is None or identity is None or lock_is_open(key, identity):
        return
    session.explain(LOCK_KEY_CV)
    on_purpose = session.entry.engine.lock == identity
    yield Cause(
        rule="lock-closed",
        reading=session.at(LOCK_KEY_CV),
        message=f"the lock is closed: CV15 = {key}, CV16 = {identity}; the decoder takes no writes"
        + (" until its own number is keyed in" if on_purpose else ""),
        fix=f"Key in CV15 = {identity} before anything else.",
        severity=Severity.NOTE if on_purpose else None,
    )


def _old_consist(session: Session) -> Iterator[Cause]:
    cv19, cv20 = session.read(19), session.read(20)
    place = consist_of_pair(cv19 or 0, cv20 or 0)
    if place.address is None or session.wanted.get((19, None)) != 0:
        return
    session.explain(19, 20)
    yield Cause(
        rule="consist-left-behind",
        reading=session.at(19 if cv19 else 20),
        message=f"still in consist {place.address}, and the roster has the engine in none: it does not move "
        "at its own address",
        fix=f"Key in CV19 = 0{' and CV20 = 0' if cv20 else ''}.",
    )


def _meet_address_left(session: Session) -> Iterator[Cause]:
    meet, home = session.entry.meet, session.entry.home
    held = {cv: value for cv in (1, 17, 18, 29) if (value := session.read(cv)) is not None}
    answers = decoded(held).address if 29 in held else None
    if session.meet or meet is None or meet == home or answers != meet:
        return
    session.explain(1, 17, 18)
    session.explained_bits.add(LONG_ADDRESS)
    yield Cause(
        rule="meet-address-left",
        reading=session.at(17 if meet.space is Space.LONG else 1),
        message=f"still answers its meet address, {meet}, and not {home or 'its own'}",
        fix=f"Give it back {home or 'its own address'}, or read with --meet while the meet lasts.",
    )


def _half_a_pair(session: Session) -> Iterator[Cause]:
    for took, other in ((17, 18), (18, 17)):
        if session.agrees(took) and session.differs(other) and (other, None) not in session.explained:
            session.explain(other)
            yield Cause(
                rule="pair-half-taken",
                reading=session.at(other),
                message=f"CV{took} was taken and CV{other} was not: it reads {session.read(other)}, "
                f"wanted {session.wanted[other, None]}",
                fix="Key in CV17 and CV18 again, directly one after the other.",
            )


def _inactive_address(session: Session) -> Iterator[Cause]:
    read, wanted = session.read(_CONFIGURATION), session.wanted.get((_CONFIGURATION, None))
    if read is None or wanted is None or not (read ^ wanted) & LONG_ADDRESS:
        return
    if LONG_ADDRESS in session.explained_bits:
        return
    address: Address | None = session.entry.answers
    held = session.agrees(17, 18) if wanted & LONG_ADDRESS else session.agrees(1)
    if held:
        session.explained_bits.add(LONG_ADDRESS)
        other = "the short address in CV1" if wanted & LONG_ADDRESS else "the long address in CV17 and CV18"
        yield Cause(
            rule="address-not-active",
            reading=session.at(_CONFIGURATION),
            message=f"{address} is written, but CV29 = {read} makes the engine answer {other}",
            fix=f"Key in CV29 = {wanted}.",
        )


def _dc_operation(session: Session) -> Iterator[Cause]:
    read, wanted = session.read(_CONFIGURATION), session.wanted.get((_CONFIGURATION, None))
    if read is not None and wanted is not None and read & DC_OPERATION and not wanted & DC_OPERATION:
        session.explained_bits.add(DC_OPERATION)
        yield Cause(
            rule="dc-operation-still-on",
            reading=session.at(_CONFIGURATION),
            message=f"DC operation is still on in the engine: CV29 reads {read}, wanted {wanted}",
            fix=f"Key in CV29 = {wanted}.",
            severity=Severity.ERROR if session.meet else None,
        )


def _anything_else(session: Session) -> Iterator[Cause]:
    for key, reading in session.newest.items():
        wanted = session.wanted.get(key)
        if reading.value is None or wanted in (None, reading.value) or key in session.explained:
            continue
        bits = sum(session.explained_bits) if key == (_CONFIGURATION, None) else 0
        if wanted is None or not (reading.value ^ wanted) & ~bits:
            continue
        cv, page = key
        name = f"CV{cv} of index {page[0]}/{page[1]}" if page else f"CV{cv}"
        yield Cause(
            rule="reading-differs",
            reading=reading,
            message=f"{name} reads {reading.value}, wanted {wanted}{_words(cv, reading.value, wanted)}",
            fix=f"Key in CV{cv} = {wanted}, or correct the roster.",
        )


def _words(cv: int, read: int, wanted: int) -> str:
    """Say which settings of CV29 differ, as they were read."""
    if cv != _CONFIGURATION or is_accessory_byte(read):
        return ""
    pairs = zip(
        configuration_words(configuration(read)), configuration_words(configuration(wanted)), strict=False
    )
    return f" ({', '.join(now for now, then in pairs if now != then)})"


_EXPLANATIONS: tuple[Callable[[Session], Iterator[Cause]], ...] = (
    _other_decoder,
    _lock,
    _old_consist,
    _meet_address_left,
    _half_a_pair,
    _inactive_address,
    _dc_operation,
    _anything_else,
)
