"""What was read back as a card has it, made into readings, but for what was read otherwise."""

from collections.abc import Iterable, Iterator, Sequence
from dataclasses import replace

from rosterkit.cards.card import Card
from rosterkit.cards.steps import AGREES, KEY_IN, READ
from rosterkit.cv.extra_values import CvKey
from rosterkit.errors import CannotRunError
from rosterkit.standards.identity import LOCK_KEY_CV, UNLOCK_ALL
from rosterkit.standards.service_mode import INDEXED_CVS
from rosterkit.writeback.typed_pairs import ReadBack, parse_read_back

ALL = "all"
"""Typed before the pairs: what is not among them was read back as it is printed."""


def parse_recorded(texts: Sequence[str]) -> tuple[bool, list[ReadBack]]:
    """Read pairs as ``parse_read_back`` does; tell whether ``all`` stands before them, then also alone.

    Raises:
        CannotRunError: if one is no pair, or there is nothing.
    """
    words = " ".join(texts).replace(",", " ").split()
    if not words or words[0].lower() != ALL:
        return False, parse_read_back(words)
    return True, parse_read_back(words[1:]) if words[1:] else []


def as_printed(card: Card, exceptions: Sequence[ReadBack]) -> list[ReadBack]:
    """Return the readings of a card that was read back as it is printed, but for those that are given.

    They are the lines with a value and a blank for what was read back, those that agree already too, each CV
    once, as it reads when all is done; not those that are held back or not in the mode. What opens every
    lock is not kept by the decoder (RCN-225 (27.07.2025), CV15/16), so that nothing is known of CV15 then.

    Raises:
        CannotRunError: if the card has no such line, or it is not clear which CV is meant by one.
    """
    printed = {(one.cv, one.index): one for one in _printed(card)}
    if not printed:
        raise CannotRunError(
            f"the card of '{card.loco}' has nothing that is read back as it is printed",
            "Give what was read, such as --record '29=34 19=0'.",
        )
    for one in exceptions:
        found = _indexed(one, printed.keys())
        printed[found.cv, found.index] = found
    return list(printed.values())


def _printed(card: Card) -> Iterator[ReadBack]:
    steps = [step for step in card.steps if step.state in (AGREES, KEY_IN, READ) and step.value is not None]
    last = {(step.cv, step.index): at for at, step in enumerate(steps)}
    for at, step in enumerate(steps):
        if last[step.cv, step.index] == at and (step.cv, step.value) != (LOCK_KEY_CV, UNLOCK_ALL):
            yield ReadBack(cv=step.cv, value=step.value, index=step.index)


def _indexed(one: ReadBack, known: Iterable[CvKey]) -> ReadBack:
    """Return a reading under the index that the card has its CV under, where none was given."""
    indexes = [index for cv, index in known if cv == one.cv and index is not None]
    if one.cv not in INDEXED_CVS or one.index is not None or not indexes:
        return one
    if len(indexes) > 1:
        raise CannotRunError(
            f"the card has CV{one.cv} under {len(indexes)} indexes",
            f"Give CV31 and CV32 before it, such as '31={indexes[0][0]} 32={indexes[0][1]} {one.cv}=0'.",
        )
    return replace(one, index=indexes[0])
