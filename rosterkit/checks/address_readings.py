"""Checks of what was read of an engine's address: which one it answers, and why not its own."""

from collections.abc import Iterator

from rosterkit.checks.reading_sessions import CONFIGURATION_CV, Session
from rosterkit.cv.address_conflicts import consist_address, consist_effect
from rosterkit.cv.addresses import Address, Space
from rosterkit.cv.stored_addresses import answered
from rosterkit.findings import Hit, Severity
from rosterkit.standards.addresses import DEFAULT_LONG_ADDRESS, DEFAULT_SHORT_ADDRESS, long_address_cvs
from rosterkit.standards.configuration import LONG_ADDRESS, USUAL_FACTORY_CV29, is_accessory

Pair = tuple[int, int]
"""CV17 and CV18."""
_FACTORY_PAIR = long_address_cvs(DEFAULT_LONG_ADDRESS)


def consist_left_behind(session: Session) -> Iterator[Hit]:
    """An engine that is in no consist still holds a consist address.

    Why: it ignores speed and direction sent to its own address, unless the consist has the same one (NMRA
    S-9.2.1 (Jul 2012), Consist Control): the lights may answer, and the engine looks
    dead.
    Fix: Key in CV19 = 0, and CV20 = 0 where it was read as something else.
    """
    cv19, cv20 = session.read(19), session.read(20)
    consist = consist_address(cv19 or 0, cv20 or 0)
    if consist is None or session.wanted.get((19, None)) != 0:
        return
    session.explain(19, 20)
    effect, heeded = consist_effect(consist, _answered(session) or session.entry.answers)
    yield session.hit(
        19 if cv19 else 20,
        f"still in consist {consist.number}, and the roster has the engine in none: {effect}",
        f"Key in CV19 = 0{' and CV20 = 0' if cv20 else ''}.",
        Severity.WARNING if heeded else None,
    )


def _answered(session: Session) -> Address | None:
    """Return the address that an engine answers by what was read; None where that does not say."""
    read = {cv: session.read(cv) for cv in (1, 17, 18, CONFIGURATION_CV)}
    return answered({cv: value for cv, value in read.items() if value is not None})


def meet_address_left(session: Session) -> Iterator[Hit]:
    """An engine still answers its meet address.

    Why: such an address is lent for one meet and will be given to somebody else at the next.
    Fix: Give the engine its home address back.
    """
    meet, home = session.entry.meet, session.entry.home
    if session.meet or meet is None or meet == home or _answered(session) != meet:
        return
    session.explain(1, 17, 18)
    session.explained_bits.add(LONG_ADDRESS)
    yield session.hit(
        17 if meet.space is Space.LONG else 1,
        f"still answers its meet address, {meet}, and not {home or 'its own'}",
        f"Give it back {home or 'its own address'}, or read with --meet while the meet lasts.",
    )


def factory_values_left(session: Session) -> Iterator[Hit]:
    """An engine's address still reads as a decoder leaves the factory.

    Why: nothing was keyed in yet, or nothing was taken. Decoders are shipped with CV1 = 3 and, by RCN-225
    (27.07.2025), with CV17 and CV18 = 195 and 232; CV29 is usually 2, 6, 10 or 14 (common practice, no
    source).
    Fix: Key in what the engine's card says.
    """
    wanted, left = session.entry.answers, _factory_values(session)
    if wanted is None or not left:
        return
    session.explain(*left)
    read = [f"CV{cv} = {session.read(cv)}" for cv in left]
    several = f"{', '.join(read[:-1])} and {read[-1]} are factory values"
    listed = several if len(read) > 1 else f"{read[0]} is the factory value"
    message = f"{listed}: {wanted} is not keyed in yet, or was not taken"
    yield session.hit(left[0], message, "Key in what the engine's card says.")


def _factory_values(session: Session) -> tuple[int, ...]:
    """Return the CVs of an engine's address that read as shipped, and otherwise than wanted; mostly none."""
    short = session.read(1) == DEFAULT_SHORT_ADDRESS
    pair = session.read(17), session.read(18)
    read = session.read(CONFIGURATION_CV)
    configured = bool(read in USUAL_FACTORY_CV29 and session.difference(CONFIGURATION_CV))
    if (1, None) in session.wanted:
        found = [1] if short and session.difference(1) else []
    elif pair == _FACTORY_PAIR and (session.difference(17) or session.difference(18)):
        found = [17, 18]
    else:
        # A short 3 that CV29 makes active beside a pair that was never written.
        untouched = short and configured and pair in (_FACTORY_PAIR, (None, None))
        found = [1] if untouched else []
    # At a meet DC operation is an error of its own, whatever the decoder was shipped with.
    return (*found, CONFIGURATION_CV) if found and configured and not session.meet else tuple(found)


def pair_half_taken(session: Session) -> Iterator[Hit]:
    """CV17 and CV18 read as half the wanted long address and half the one before.

    Why: the pair takes effect when CV18 is written after CV17 (NMRA S-9.2.1 (Jul 2012), long form, footnote
    8): until then the address before stays, and a CV18 without its CV17 makes another address.
    Fix: Key in CV17 and CV18 again, directly one after the other.
    """
    read = session.read(17), session.read(18)
    wanted = session.wanted.get((17, None)), session.wanted.get((18, None))
    if None in read or None in wanted or session.is_explained(17, 18):
        return
    fix = "Key in CV17 and CV18 again, directly one after the other."
    for high, low in _pairs_before(session):
        if high == wanted[0] or low == wanted[1]:
            continue
        if read == (wanted[0], low):
            session.explain(18)
            message = f"CV17 was taken and CV18 was not: it reads {low} as before, wanted {wanted[1]}"
            yield session.hit(18, f"{message}; until CV18 is written the address before stays", fix)
            return
        if read == (high, wanted[1]):
            session.explain(17)
            message = f"CV18 was taken and CV17 was not: it reads {high} as before, wanted {wanted[0]}"
            yield session.hit(17, f"{message}; together they are another address", fix)
            return


def _pairs_before(session: Session) -> Iterator[Pair]:
    """Return what CV17 and CV18 may have held before: as shipped, an address of the row, or as once read."""
    yield _FACTORY_PAIR
    for address in (session.entry.home, session.entry.meet):
        if address and address.space is Space.LONG and address.encodable:
            yield long_address_cvs(address.number)
    # Of pairs that were once read only those matter of which a half is there still.
    highs, lows = set(session.read_before(17)), set(session.read_before(18))
    read = session.read(17) or 0, session.read(18) or 0
    yield from ((high, read[1]) for high in highs if read[1] in lows)
    yield from ((read[0], low) for low in lows if read[0] in highs)


def address_not_active(session: Session) -> Iterator[Hit]:
    """The address is stored, but CV29 makes the engine answer the other one.

    Why: bit 5 of CV29 chooses between CV1 and the pair CV17 and CV18 (NMRA S-9.2.2 (Jul 2012), CV29), and
    writing CV1 can clear it (S-9.2.3 (Jul 2012), section E).
    Fix: Key in CV29 after the address.
    """
    differs = (session.difference(CONFIGURATION_CV) or 0) & LONG_ADDRESS
    if not differs or LONG_ADDRESS in session.explained_bits or session.is_explained(CONFIGURATION_CV):
        return
    read, wanted = session.read(CONFIGURATION_CV), session.wanted[CONFIGURATION_CV, None]
    if read is None or is_accessory(read):
        return
    long = wanted & LONG_ADDRESS
    if session.agrees(*((17, 18) if long else (1,))):
        session.explained_bits.add(LONG_ADDRESS)
        other = "the short address in CV1" if long else "the long address in CV17 and CV18"
        message = f"{session.entry.answers} is stored, but CV29 = {read} makes the engine answer {other}"
        yield session.hit(CONFIGURATION_CV, message, f"Key in CV29 = {wanted}.")
