"""The card that puts back what was read of an engine last, after its decoder was reset."""

from collections.abc import Collection, Iterator, Mapping
from dataclasses import replace

from rosterkit.cards.card import Card, CardOptions, card_with, labelled
from rosterkit.cards.preflight import restore_preflight
from rosterkit.cards.steps import KEY_IN
from rosterkit.cards.write_modes import WriteMode, cvs_words
from rosterkit.cv.readings import newest_readings, nothing_read
from rosterkit.cv.restored import Restored, restored
from rosterkit.errors import CannotRunError
from rosterkit.roster.model import Locomotive, Roster
from rosterkit.standards.identity import LOCK_CVS

NOTHING_KNOWN = "Nothing to put back: there is no reading of this engine in the sheet Readings."
_PUTS_NOTHING_BACK: Mapping[WriteMode, str] = {
    WriteMode.OPERATIONS: "addresses are not written",
    WriteMode.ADDRESS_ONLY: "only the short address is written",
}
_NOTHING_READ = (
    "All that was read is 255 or without an acknowledgment, so probably nothing was read: it is not put back."
)


def require_writing(mode: WriteMode) -> None:
    """See that a mode can put back a decoder that was reset, its address too.

    Raises:
        CannotRunError: in operations mode and in address-only mode.
    """
    if mode in _PUTS_NOTHING_BACK:
        raise CannotRunError(
            f"in {mode.value} mode {_PUTS_NOTHING_BACK[mode]}, and a reset changes more",
            "Give --mode direct, paged or register.",
        )


def restore_cards(
    roster: Roster, labels: Collection[str] = (), options: CardOptions | None = None
) -> list[Card]:
    """Make the card that puts readings back, for all engines with readings or those with the given labels.

    Raises:
        CannotRunError: if the mode is none in which an engine's address is written and read.
    """
    mode = (options or CardOptions()).mode or WriteMode(roster.layout.service_mode)
    require_writing(mode)
    wanted = replace(options or CardOptions(), after_reset=True)
    return [
        _card(engine, roster, wanted, mode)
        for engine in labelled(roster, labels)
        if labels or newest_readings(roster, engine.loco)
    ]


def _card(engine: Locomotive, roster: Roster, options: CardOptions, mode: WriteMode) -> Card:
    found = restored(engine, roster)
    newest = newest_readings(roster, engine.loco)
    card = card_with(found.cvs, engine, roster, options)
    card = replace(card, before=restore_preflight(mode, roster.layout), address=found.cvs.address)
    if nothing_read((cv, one.value) for (cv, _), one in newest.items()):
        return replace(card, steps=[], after=[], cautions=[_NOTHING_READ], nothing_to_do=False, blocked=True)
    if not newest:
        return replace(card, steps=[], after=[], cautions=[NOTHING_KNOWN], nothing_to_do=False, blocked=True)
    keyed = {step.cv for step in card.steps if step.state == KEY_IN} & set(LOCK_CVS)
    return replace(card, cautions=[*card.cautions, *_left_out(found, keyed)], nothing_to_do=False)


def _left_out(found: Restored, locked: Collection[int]) -> Iterator[str]:
    """Name what is not put back, each with the reason; not the CVs of a lock that the card sets."""
    for reason, cvs in found.not_written.items():
        if left := [cv for cv in cvs if cv not in locked]:
            yield f"Not put back, {reason}: {cvs_words(left)}."
    if found.without_index:
        yield f"Not put back, read without the index (CV31 and CV32): {cvs_words(found.without_index)}."
    if found.not_read:
        yield (
            "Not put back, as no value was read, so that what the reset left stays: "
            f"{cvs_words(found.not_read)}."
        )
