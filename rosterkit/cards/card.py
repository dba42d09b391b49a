"""Cards: what to key in at the programming track, engine by engine and in a safe order."""

from collections.abc import Collection, Iterator, Mapping, Sequence
from dataclasses import dataclass, replace
from enum import StrEnum
from itertools import islice

from rosterkit.cards.known_errors import KnownError, OtherRows, forbidden_by, row_of
from rosterkit.cards.lock import lock_refusal, lock_steps, lock_words
from rosterkit.cards.preflight import preflight, too_long_words
from rosterkit.cards.steps import Step, WriteConditions, steps_of, unreached
from rosterkit.cards.write_modes import PAGE_BACK, WriteMode, unreached_words
from rosterkit.cv.addresses import Address
from rosterkit.cv.configured import CONFIGURATION_CV
from rosterkit.cv.engine import EngineCvs, cvs_of
from rosterkit.cv.meanings import DC_OPERATION_ON
from rosterkit.cv.readings import Moment, newest_readings, unreadable_readings
from rosterkit.roster.model import Locomotive, Roster
from rosterkit.roster.schema import folded
from rosterkit.standards.configuration import DC_OPERATION
from rosterkit.standards.motor_cvs import CV12, permits_dc

NOT_TO_BE_KEYED_IN = "Nothing to key in before this is put right:"


class MeetPhase(StrEnum):
    """On which side of a meet the cards are keyed in."""

    BEFORE = "before"
    AFTER = "after"


@dataclass(frozen=True, slots=True, kw_only=True)
class CardOptions:
    """What kind of cards is wanted."""

    mode: WriteMode | None = None
    """The way of writing; None for the layout's service mode."""
    changes: bool = False
    """Only what the last readings do not already show."""
    after_reset: bool = False
    """Everything, as after a reset to factory values."""
    phase: MeetPhase | None = None
    """Only engines with another address at the meet: what they need before it, or after it."""
    read_out: bool = False
    """A list of what to read before a reset."""
    restore: bool = False
    """What puts the newest readings back after a reset."""
    read_since: Moment | None = None
    """After a meet, only what was read from then on tells what an engine holds."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Card:
    """What to key in for one engine."""

    workbook: str
    loco: str
    address: Address | None
    steps: Sequence[Step]
    cautions: Sequence[str]
    """What is to be minded with this engine, beyond the list for the batch."""
    about: str
    """Which engine it is: railway, number, owner, decoder."""
    before: Sequence[str] = ()
    """The list to go through before the batch, the same on each of its cards."""
    after: Sequence[str] = ()
    """What is still to be done when all is keyed in."""
    nothing_to_do: bool = False
    """The last readings show every CV as it should be."""
    blocked: bool = False
    """Nothing must be keyed in: there are no lines."""
    label: str | None = None
    """Under which what is read of it is recorded; None where its row has none."""

    @property
    def called(self) -> str:
        """Name what it is called by."""
        return str(self.address) if self.address else "no address"


def cards_of(
    roster: Roster,
    labels: Collection[str] = (),
    *,
    meet: bool = False,
    options: CardOptions | None = None,
    most: int | None = None,
    errors: Mapping[int, Sequence[KnownError]] | None = None,
) -> list[Card]:
    """Make the cards of a roster's engines, or of those with the given labels, in the order of the sheet.

    With ``most``, of so many of them at most; ``errors`` is what checks say of engines, by sheet row: it
    stands on their cards, so that nobody keys in what is known to be wrong. An engine with several decoders
    has several rows: what forbids to key in one forbids the others.
    """
    known, wanted = errors or {}, options or CardOptions()
    rows = OtherRows(roster)
    cards = []
    for engine in islice(labelled(roster, labels), most):
        said, others = known.get(row_of(engine), ()), rows.of(engine)
        lengths = [other for other in others if too_long_words(other, roster.layout)]
        long = lengths[0] if lengths and not too_long_words(engine, roster.layout) else engine
        cvs = cvs_of(engine, roster, meet=meet)
        cards.append(
            checked_card(
                card_with(cvs, engine, roster, wanted, said, long), said, forbidden_by(others, known)
            )
        )
    return cards


def checked_card(card: Card, said: Sequence[KnownError], forbidden: Sequence[str] = ()) -> Card:
    """Put what checks say on a card; without its lines where nothing must be keyed in."""
    words = [*(one.words for one in said), *forbidden]
    if not words:
        return card
    if not forbidden and not any(one.blocks for one in said):
        return replace(card, cautions=[*card.cautions, *words], nothing_to_do=False)
    words = [*(card.cautions if card.blocked else [NOT_TO_BE_KEYED_IN]), *words]
    return replace(card, steps=[], cautions=words, after=[], nothing_to_do=False, blocked=True)


def labelled(roster: Roster, labels: Collection[str]) -> Iterator[Locomotive]:
    """Return the engines with the given labels, or all where none is given, in the order of the sheet."""
    wanted = {folded(label) for label in labels}
    return (engine for engine in roster.engines if not wanted or folded(engine.loco or "") in wanted)


def unknown_labels(roster: Roster, labels: Collection[str]) -> list[str]:
    """Return those labels that no engine of the roster has."""
    known = {folded(engine.loco) for engine in roster.engines if engine.loco}
    return [label for label in labels if folded(label) not in known]


def card_with(
    cvs: EngineCvs,
    engine: Locomotive,
    roster: Roster,
    options: CardOptions,
    errors: Sequence[KnownError] = (),
    longest: Locomotive | None = None,
) -> Card:
    """Make an engine's card of these CVs.

    What checks call an error holds its CVs back; ``longest`` is the row of the same engine that has its
    length, where it is another one.
    """
    conditions = conditions_for(engine, roster, options, errors)
    forbidden = _forbidden(longest or engine, engine, cvs, roster, conditions)
    steps = [] if forbidden else steps_of(cvs, conditions, list(lock_steps(engine, conditions)))
    beyond = [] if forbidden else unreached(cvs, conditions)
    return Card(
        workbook=roster.book.name,
        loco=engine.loco or f"row {row_of(engine)}",
        address=cvs.address if cvs.values else None,
        steps=steps,
        cautions=[
            *forbidden,
            *(_cautions(engine, cvs, conditions) if steps else ()),
            *([unreached_words(conditions.mode, beyond)] if beyond else ()),
        ],
        after=[PAGE_BACK] if steps and conditions.mode is WriteMode.PAGED else [],
        about=about_words(engine),
        before=preflight(conditions.mode, roster.layout),
        nothing_to_do=not steps and not beyond and not forbidden,
        blocked=bool(forbidden),
        label=engine.loco,
    )


def conditions_for(
    engine: Locomotive, roster: Roster, options: CardOptions, errors: Sequence[KnownError] = ()
) -> WriteConditions:
    """Return how an engine's card is made, with what was read last of it."""
    unreadable = unreadable_readings(roster, engine.loco)
    newest = {key: one for key, one in newest_readings(roster, engine.loco).items() if key not in unreadable}
    return WriteConditions(
        mode=options.mode or WriteMode(roster.layout.service_mode),
        changes=options.changes,
        after_reset=options.after_reset,
        last_read={key: one.value for key, one in newest.items() if one.value is not None},
        unanswered={key for key, one in newest.items() if one.value is None},
        faulty={cv: one.reason for one in errors for cv in one.cvs},
    )


def _forbidden(
    longest: Locomotive, engine: Locomotive, cvs: EngineCvs, roster: Roster, conditions: WriteConditions
) -> list[str]:
    """Say why nothing must be keyed in; empty where it may be."""
    if cvs.blocking_columns:
        columns = " and ".join(engine.heading(name) for name in cvs.blocking_columns)
        return [f"Nothing to key in: {columns} cannot be used."]
    too_long = None if conditions.mode is WriteMode.OPERATIONS else too_long_words(longest, roster.layout)
    locked = lock_refusal(engine, conditions)
    return [words for words in (too_long, locked) if words]


def _cautions(engine: Locomotive, cvs: EngineCvs, conditions: WriteConditions) -> list[str]:
    cautions = [f"Open fault: {engine.fault}"] if engine.fault else []
    if conditions.after_reset:
        cautions.append(
            "As after a reset to factory values: as a rule the engine answers short 3 until it has its "
            "address; the maker's instructions say what a reset sets."
        )
    if (cvs.value(CONFIGURATION_CV) or 0) & DC_OPERATION and permits_dc(cvs.value(CV12)):
        cautions.append(f"{DC_OPERATION_ON}.")
    cautions += lock_words(engine, conditions)
    return cautions


def about_words(engine: Locomotive) -> str:
    """Say which engine it is: railway, number, model, owner, decoder."""
    name = " ".join(part for part in (engine.railway, engine.number) if part)
    parts = [name, engine.model, f"owner {engine.owner}" if engine.owner else None]
    parts.append(f"decoder {engine.decoder}" if engine.decoder else None)
    return ", ".join(part for part in parts if part)
