"""The list of what to read of a decoder before it is reset: a card that only reads."""

from collections.abc import Collection, Iterator, Sequence

from rosterkit.cards.card import Card, CardOptions, about_words, conditions_for, labelled
from rosterkit.cards.known_errors import row_of
from rosterkit.cards.lock import lock_steps
from rosterkit.cards.preflight import read_out_preflight, too_long_words
from rosterkit.cards.steps import READ_OUT, Step, WriteConditions, with_index
from rosterkit.cards.write_modes import PAGE_BACK, WriteMode, is_reached, unreached_words
from rosterkit.cv.addresses import home_address
from rosterkit.cv.engine import cvs_of
from rosterkit.cv.extra_values import CvKey
from rosterkit.cv.meanings import meaning_of
from rosterkit.cv.to_read import INDEX_CVS, cvs_to_read, may_use_table
from rosterkit.errors import CannotRunError
from rosterkit.roster.model import Locomotive, Roster
from rosterkit.standards.cv_names import cv_name
from rosterkit.standards.identity import LOCK_KEY_CV
from rosterkit.standards.service_mode import INDEXED_CVS

_READS_NOTHING = (WriteMode.OPERATIONS, WriteMode.ADDRESS_ONLY)
_MAY_HAVE_TABLE = (
    "If CV29 reads with bit 4 on (16 in it), a speed table is in use: read CV67 to CV94 too, and record them."
)


def require_reading(mode: WriteMode) -> None:
    """See that CVs can be read back in a mode.

    Raises:
        CannotRunError: in operations mode, where that needs BiDi, and in address-only mode.
    """
    if mode in _READS_NOTHING:
        raise CannotRunError(
            f"in {mode.value} mode CVs are not read one by one", "Give --mode direct, paged or register."
        )


def read_out_cards(
    roster: Roster, labels: Collection[str] = (), options: CardOptions | None = None
) -> list[Card]:
    """Make the list of an engine's CVs to read, for all engines or those with the given labels.

    Raises:
        CannotRunError: if the mode does not read.
    """
    require_reading((options or CardOptions()).mode or WriteMode(roster.layout.service_mode))
    return [_card(engine, roster, options or CardOptions()) for engine in labelled(roster, labels)]


def _card(engine: Locomotive, roster: Roster, options: CardOptions) -> Card:
    conditions = conditions_for(engine, roster, options)
    keys = cvs_to_read(engine, roster)
    reached = [key for key in keys if is_reached(conditions.mode, key[0])]
    beyond = [cv for cv, _ in keys if not is_reached(conditions.mode, cv)]
    too_long = too_long_words(engine, roster.layout)
    steps = [] if too_long else [*_opening(engine, conditions), *_steps(engine, roster, reached, conditions)]
    cautions = [
        *([too_long] if too_long else ()),
        *([f"Open fault: {engine.fault}"] if engine.fault else ()),
        *([_MAY_HAVE_TABLE] if steps and may_use_table(engine, roster) else ()),
        *([unreached_words(conditions.mode, beyond, "read")] if beyond and steps else ()),
    ]
    return Card(
        workbook=roster.book.name,
        loco=engine.loco or f"row {row_of(engine)}",
        address=home_address(engine, roster.layout),
        steps=steps,
        cautions=cautions,
        about=about_words(engine),
        before=read_out_preflight(conditions.mode, roster.layout),
        after=[PAGE_BACK] if steps and conditions.mode is WriteMode.PAGED else [],
        blocked=bool(too_long),
        label=engine.loco,
    )


def _opening(engine: Locomotive, conditions: WriteConditions) -> Iterator[Step]:
    """Return what opens the lock, without which a decoder does not answer; its number is not touched."""
    opening = [step for step in lock_steps(engine, conditions) if step.cv == LOCK_KEY_CV]
    yield from opening[:1]


def _steps(
    engine: Locomotive, roster: Roster, keys: Sequence[CvKey], conditions: WriteConditions
) -> Iterator[Step]:
    held = cvs_of(engine, roster).held
    blind = [key for key in keys if key[0] in INDEXED_CVS and key[1] is None]
    lines: list[Step] = []
    for key in keys:
        cv, index = key
        if blind and key == blind[0]:
            lines += (conditions.step(one, None, cv_name(one), READ_OUT) for one in INDEX_CVS)
        known = held.get(key) if cv in _SHOWN else None
        words = cv_name(cv) if known is None else meaning_of(cv, known)
        words += f", index {index[0]}/{index[1]}" if index else ""
        lines.append(conditions.step(cv, known, words, READ_OUT, index))
    yield from with_index(lines, conditions)


_SHOWN = (7, 8, 107, 108)
"""What shows that the right engine is on the track is printed, where it is known."""
