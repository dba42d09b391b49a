"""Checks of what was read back at the track; each reading that is not as wanted is explained by one check."""

from collections.abc import Iterator

from rosterkit.checks.framework import Check, Hit, Scope, hit_at
from rosterkit.checks.reading_causes import causes_in
from rosterkit.findings import Severity


def reading_unreliable(scope: Scope) -> Iterator[Hit]:
    """The decoder did not answer, or every CV reads as 255.

    Why: an answer is a short draw of current by the motor (NMRA S-9.2.3 (Jul 2012), section D); a buffer
    capacitor, dirty wheels or a motor that is not connected hide it (common practice, no source). A write
    is carried out even if no acknowledgment is seen (section D).
    Fix: Clean wheels and rails, disconnect the capacitor, and read again.
    """
    return _hits(scope, "reading-unreliable")


def decoder_not_as_listed(scope: Scope) -> Iterator[Hit]:
    """CV8 or CV7 read otherwise than the engine's kind of decoder says.

    Why: another engine is on the track, or the decoder was changed (NMRA S-9.2.2 (Jul 2012), CV7 and CV8).
    Fix: Make sure that the right engine is on the track; else correct Decoder or Decoder types.
    """
    return _hits(scope, "decoder-not-as-listed")


def lock_closed(scope: Scope) -> Iterator[Hit]:
    """CV15 and CV16 read differently: the decoder's lock is closed.

    Why: the decoder takes no writes while they differ (NMRA S-9.2.2 (Jul 2012), CV15/16).
    Fix: Key in the value of CV16 as CV15, before anything else.
    """
    return _hits(scope, "lock-closed")


def consist_left_behind(scope: Scope) -> Iterator[Hit]:
    """An engine that is in no consist still holds a consist address.

    Why: it ignores speed and direction sent to its own address (NMRA S-9.2.1 (Jul 2012), Consist Control):
    the lights answer, and the engine looks dead.
    Fix: Key in CV19 = 0, and CV20 = 0 where it was read as something else.
    """
    return _hits(scope, "consist-left-behind")


def meet_address_left(scope: Scope) -> Iterator[Hit]:
    """An engine still answers its meet address.

    Why: such an address is lent for one meet and will be given to somebody else at the next.
    Fix: Give the engine its home address back.
    """
    return _hits(scope, "meet-address-left")


def pair_half_taken(scope: Scope) -> Iterator[Hit]:
    """Of CV17 and CV18 only one was taken.

    Why: the pair takes effect when CV18 is written after CV17 (NMRA S-9.2.1 (Jul 2012), long form, footnote
    8), so the engine answers an address that is nobody's.
    Fix: Key in CV17 and CV18 again, directly one after the other.
    """
    return _hits(scope, "pair-half-taken")


def address_not_active(scope: Scope) -> Iterator[Hit]:
    """The address is written, but CV29 makes the engine answer the other one.

    Why: bit 5 of CV29 chooses between CV1 and the pair CV17 and CV18 (NMRA S-9.2.2 (Jul 2012), CV29), and
    writing CV1 can clear it (S-9.2.3 (Jul 2012), section E).
    Fix: Key in CV29 after the address.
    """
    return _hits(scope, "address-not-active")


def dc_operation_still_on(scope: Scope) -> Iterator[Hit]:
    """DC operation reads as on in an engine where the roster has it off.

    Why: a glitch on the rails can start the engine at full speed, and the emergency stop does not reach it
    (NMRA S-9.2.2 (Jul 2012), CV29 bit 2; the runaway is common practice, no source).
    Fix: Key in CV29 as the roster has it.
    """
    return _hits(scope, "dc-operation-still-on")


def reading_differs(scope: Scope) -> Iterator[Hit]:
    """A CV reads otherwise than the roster says.

    Why: the engine does not do what the roster says. A decoder keeps the bits of features it lacks at 0
    (NMRA S-9.2.2 (Jul 2012), CV29), so a difference can also be the decoder's.
    Fix: Key in the wanted value, or correct the roster.
    """
    return _hits(scope, "reading-differs")


def _hits(scope: Scope, rule: str) -> Iterator[Hit]:
    for cause in causes_in(scope):
        if cause.rule == rule:
            yield hit_at(cause.reading, "value", cause.message, cause.fix, severity=cause.severity)


CHECKS = (
    Check(slug="reading-unreliable", severity=Severity.WARNING, hits=reading_unreliable),
    Check(slug="decoder-not-as-listed", severity=Severity.WARNING, hits=decoder_not_as_listed),
    Check(slug="lock-closed", severity=Severity.ERROR, hits=lock_closed),
    Check(slug="consist-left-behind", severity=Severity.ERROR, hits=consist_left_behind),
    Check(slug="meet-address-left", severity=Severity.WARNING, hits=meet_address_left),
    Check(slug="pair-half-taken", severity=Severity.ERROR, hits=pair_half_taken),
    Check(slug="address-not-active", severity=Severity.ERROR, hits=address_not_active),
    Check(slug="dc-operation-still-on", severity=Severity.WARNING, hits=dc_operation_still_on),
    Check(slug="reading-differs", severity=Severity.WARNING, hits=reading_differs),
)
