"""Checks of what was read of an engine's address: which one it answers, and why not its own."""

from collections.abc import Iterator

from rosterkit.checks.reading_sessions import CONFIGURATION_CV, Session
from rosterkit.cv.addresses import Space
from rosterkit.cv.decode import decoded
from rosterkit.findings import Hit
from rosterkit.standards.configuration import LONG_ADDRESS
from rosterkit.standards.consists import consist_of_pair


def consist_left_behind(session: Session) -> Iterator[Hit]:
    """An engine that is in no consist still holds a consist address.

    Why: it ignores speed and direction sent to its own address (NMRA S-9.2.1 (Jul 2012), Consist Control):
    the lights answer, and the engine looks dead.
    Fix: Key in CV19 = 0, and CV20 = 0 where it was read as something else.
    """
    cv19, cv20 = session.read(19), session.read(20)
    place = consist_of_pair(cv19 or 0, cv20 or 0)
    if place.address is None or session.wanted.get((19, None)) != 0:
        return
    session.explain(19, 20)
    yield session.hit(
        19 if cv19 else 20,
        f"still in consist {place.address}, and the roster has the engine in none: it does not move "
        "at its own address",
        f"Key in CV19 = 0{' and CV20 = 0' if cv20 else ''}.",
    )


def meet_address_left(session: Session) -> Iterator[Hit]:
    """An engine still answers its meet address.

    Why: such an address is lent for one meet and will be given to somebody else at the next.
    Fix: Give the engine its home address back.
    """
    meet, home = session.entry.meet, session.entry.home
    held = {cv: value for cv in (1, 17, 18, 29) if (value := session.read(cv)) is not None}
    answers = decoded(held).address if 29 in held else None
    if session.meet or meet is None or meet == home or answers != meet:
        return
    session.explain(1, 17, 18)
    session.explained_bits.add(LONG_ADDRESS)
    yield session.hit(
        17 if meet.space is Space.LONG else 1,
        f"still answers its meet address, {meet}, and not {home or 'its own'}",
        f"Give it back {home or 'its own address'}, or read with --meet while the meet lasts.",
    )


def pair_half_taken(session: Session) -> Iterator[Hit]:
    """Of CV17 and CV18 only one was taken.

    Why: the pair takes effect when CV18 is written after CV17 (NMRA S-9.2.1 (Jul 2012), long form, footnote
    8), so the engine answers an address that is nobody's.
    Fix: Key in CV17 and CV18 again, directly one after the other.
    """
    for took, other in ((17, 18), (18, 17)):
        if session.agrees(took) and session.difference(other) and (other, None) not in session.explained:
            session.explain(other)
            read, wanted = session.read(other), session.wanted[other, None]
            message = f"CV{took} was taken and CV{other} was not: it reads {read}, wanted {wanted}"
            yield session.hit(other, message, "Key in CV17 and CV18 again, directly one after the other.")


def address_not_active(session: Session) -> Iterator[Hit]:
    """The address is written, but CV29 makes the engine answer the other one.

    Why: bit 5 of CV29 chooses between CV1 and the pair CV17 and CV18 (NMRA S-9.2.2 (Jul 2012), CV29), and
    writing CV1 can clear it (S-9.2.3 (Jul 2012), section E).
    Fix: Key in CV29 after the address.
    """
    differs = (session.difference(CONFIGURATION_CV) or 0) & LONG_ADDRESS
    if not differs or LONG_ADDRESS in session.explained_bits:
        return
    read, wanted = session.read(CONFIGURATION_CV), session.wanted[CONFIGURATION_CV, None]
    long = wanted & LONG_ADDRESS
    if session.agrees(*((17, 18) if long else (1,))):
        session.explained_bits.add(LONG_ADDRESS)
        other = "the short address in CV1" if long else "the long address in CV17 and CV18"
        message = f"{session.entry.answers} is written, but CV29 = {read} makes the engine answer {other}"
        yield session.hit(CONFIGURATION_CV, message, f"Key in CV29 = {wanted}.")
