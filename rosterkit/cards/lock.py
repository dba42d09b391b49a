"""The lock of a decoder: what opens it, and where it cannot be opened."""

from collections.abc import Iterator

from rosterkit.cards.steps import Step, WriteConditions
from rosterkit.cards.write_modes import WriteMode
from rosterkit.roster.model import Locomotive
from rosterkit.standards.identity import (
    LOCK_IDENTITY_CV,
    LOCK_KEY_CV,
    UNLOCK_ALL,
    is_lock_identity,
    lock_is_open,
)

_WITHOUT_LOCK = (WriteMode.REGISTER, WriteMode.ADDRESS_ONLY)
"""Modes that do not reach CV15 (NMRA S-9.2.3 (Jul 2012), section E)."""


def lock_steps(engine: Locomotive, conditions: WriteConditions) -> Iterator[Step]:
    """Return the lines that open the lock; more than one where the decoder has not got its number yet.

    They come before everything else: while CV15 differs from CV16 a decoder neither takes writes (NMRA
    S-9.2.2 (Jul 2012), CV15/16) nor, by RCN-225 (27.07.2025), CV15/16, answers reads; CV15 itself can
    always be written, on the running track too.
    """
    opening = _opening(_read(LOCK_IDENTITY_CV, conditions))
    if engine.lock is None:
        if _is_read_as_closed(conditions):
            yield conditions.step(LOCK_KEY_CV, opening, "opens the lock, which was read as closed")
        return
    if not _has_its_number(engine, conditions):
        if not conditions.after_reset:
            yield conditions.step(LOCK_KEY_CV, opening, "opens the lock")
        plug = f"gives the decoder its number {engine.lock}: unplug the engine's other decoder for this"
        yield conditions.step(LOCK_IDENTITY_CV, engine.lock, plug)
    opens = "opens the lock of this decoder; another one in the engine stays shut"
    yield conditions.step(LOCK_KEY_CV, engine.lock, opens)


def lock_words(engine: Locomotive, conditions: WriteConditions) -> Iterator[str]:
    """Say what comes before everything else where an engine has several decoders.

    CV15 alone would shut a decoder whose CV16 is another than the roster says (NMRA S-9.2.2 (Jul 2012),
    CV15/16), such as the maker's default after a reset.
    """
    if engine.lock is None:
        return
    several = "Several decoders in this engine: nothing before"
    if _has_its_number(engine, conditions):
        yield f"{several} CV15 = {engine.lock}."
    elif conditions.after_reset:
        yield (
            f"{several} CV16 and CV15 = {engine.lock}, as the column Lock says. After a reset CV16 may hold "
            "the maker's default, and CV15 alone would then shut the lock."
        )
    else:
        yield f"{several} CV16 and CV15 = {engine.lock}: another number was read in CV16."


def lock_refusal(engine: Locomotive, conditions: WriteConditions) -> str | None:
    """Say why nothing must be keyed in because of the lock; None where it may be."""
    mode = conditions.mode
    if mode in _WITHOUT_LOCK and engine.lock is not None:
        return (
            f"Nothing to key in: this engine has several decoders, and {mode.value} mode does not reach "
            "CV15, which opens the lock of one of them only."
        )
    if mode in _WITHOUT_LOCK and _is_read_as_closed(conditions):
        return f"Nothing to key in: the lock was read as closed, and {mode.value} mode does not reach CV15."
    if mode is WriteMode.OPERATIONS and engine.lock is not None and not _has_its_number(engine, conditions):
        return (
            f"Nothing to key in: the decoder must first get its number {engine.lock} (CV16) on the "
            "programming track, since until then its engine's other decoder takes the same values."
        )
    return None


def _opening(identity: int | None) -> int | None:
    """Return what opens the lock of a CV16: its own value, but for those that CV15 takes as commands.

    RCN-225 (27.07.2025), CV15/16: 240 to 255 are commands, and 255 opens every lock.
    """
    return identity if identity is None or is_lock_identity(identity) else UNLOCK_ALL


def _read(cv: int, conditions: WriteConditions) -> int | None:
    return None if conditions.after_reset else conditions.last_read.get((cv, None))


def _is_read_as_closed(conditions: WriteConditions) -> bool:
    key, identity = _read(LOCK_KEY_CV, conditions), _read(LOCK_IDENTITY_CV, conditions)
    return key is not None and identity is not None and not lock_is_open(key, identity)


def _has_its_number(engine: Locomotive, conditions: WriteConditions) -> bool:
    """Tell whether CV16 holds what the roster says, as far as anybody knows; not after a reset."""
    return not conditions.after_reset and _read(LOCK_IDENTITY_CV, conditions) in (None, engine.lock)
