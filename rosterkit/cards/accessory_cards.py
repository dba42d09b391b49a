"""Cards of accessory decoders: what to key in for each, and how to give a number to one that learns it."""

from collections.abc import Collection, Iterator, Mapping, Sequence
from dataclasses import dataclass
from itertools import islice

from rosterkit.cards.accessory_preflight import accessory_preflight, refusal_in
from rosterkit.cards.card import Card, CardOptions
from rosterkit.cards.steps import AGREES, READ, Step, WriteConditions
from rosterkit.cards.write_modes import PAGE_BACK, WriteMode
from rosterkit.cv.accessory import Device, accessory_cvs, devices_in
from rosterkit.cv.accessory_bits import accessory_readings
from rosterkit.cv.accessory_words import numbers_words
from rosterkit.roster.model import Accessory, Roster
from rosterkit.roster.schema import folded
from rosterkit.standards.accessories import DEFAULT_CVS, user_number
from rosterkit.standards.configuration import (
    BIDI,
    EXTENDED,
    OUTPUT_ADDRESSING,
    accessory_configuration,
    accessory_configuration_words,
    bits_named,
)
from rosterkit.standards.cv_names import accessory_register_name
from rosterkit.standards.identity import MAKER_CV

_CONFIGURATION_CV = 29
_MOST_LABELS = 4
"""So many devices of one decoder are named at the head of its card."""
_WORDS_BITS = (BIDI, EXTENDED, OUTPUT_ADDRESSING, None)
"""The bit that each of the words of CV29 is about; the last is bit 7, which is always stated."""


@dataclass(frozen=True, slots=True, kw_only=True)
class AccessoryCard(Card):
    """What to key in for one accessory decoder."""

    devices: Sequence[str]
    """The devices on it, by label or row."""
    numbers: Sequence[int]
    """The numbers that it answers from its first output on; none where that is not known."""
    decoder: int | None
    """Its decoder address, 0 to 511, by the method decoder."""

    @property
    def called(self) -> str:
        """Name what it is called by."""
        if not self.numbers:
            return "no number"
        words = numbers_words(self.numbers)
        outputs = "output" if len(self.numbers) == 1 else "outputs"
        return f"{outputs} {words}" if self.decoder is None else f"decoder {self.decoder}, {words}"


def accessory_cards(
    roster: Roster,
    labels: Collection[str] = (),
    *,
    options: CardOptions | None = None,
    most: int | None = None,
    errors: Mapping[int, Sequence[str]] | None = None,
) -> list[AccessoryCard]:
    """Make a card for each accessory decoder, or for those with a device of one of the labels.

    In the order of the sheet; rows of one decoder share a card. ``errors`` is what checks say of rows, by
    sheet row: a decoder with one has its reasons on the card, and nothing to key in.
    """
    devices = {device.row.index: device for device in devices_in(roster)}
    decoders: dict[object, list[Accessory]] = {}
    for row in roster.accessories:
        device = devices.get(row.index)
        apart = device is None or device.by_output
        key = ("row", row.index) if device is None or apart else (device.decoder, device.extended)
        decoders.setdefault(key, []).append(row)
    wanted = {folded(label) for label in labels}
    chosen = (
        rows
        for rows in decoders.values()
        if not wanted or any(row.accessory and folded(row.accessory) in wanted for row in rows)
    )
    made = (_card(rows, devices, roster, options or CardOptions(), errors or {}) for rows in chosen)
    return list(islice(made, most))


def _card(
    rows: Sequence[Accessory],
    devices: Mapping[int, Device],
    roster: Roster,
    options: CardOptions,
    errors: Mapping[int, Sequence[str]],
) -> AccessoryCard:
    mode = options.mode or WriteMode(roster.layout.service_mode)
    device = devices.get(rows[0].index)
    labels = [row.accessory or f"row {row.table.rows[row.index]}" for row in rows]
    held_back = list(_held_back(rows, device, mode, errors))
    steps = [] if device is None or held_back else _steps(rows, device, roster, mode, options)
    # A decoder that learns its number does so in any mode.
    learns = device is not None and held_back == [refusal_in(mode)]
    beyond = f" and {len(labels) - _MOST_LABELS} more" if len(labels) > _MOST_LABELS else ""
    return AccessoryCard(
        workbook=roster.book.name,
        loco=", ".join(labels[:_MOST_LABELS]) + beyond,
        address=None,
        steps=steps,
        cautions=held_back or (_cautions(options) if steps else []),
        about=", ".join(_about(row) for row in rows[:_MOST_LABELS]) + beyond,
        before=accessory_preflight() if steps or learns else (),
        nothing_to_do=not (steps or held_back),
        after=list(_afterwards(device, mode, keyed=bool(steps))) if device and (steps or learns) else (),
        label=next((row.accessory for row in rows if row.accessory), None),
        devices=labels,
        numbers=device.numbers if device else (),
        decoder=device.decoder if device and not device.by_output else None,
    )


def _held_back(
    rows: Sequence[Accessory], device: Device | None, mode: WriteMode, errors: Mapping[int, Sequence[str]]
) -> Iterator[str]:
    """Return why nothing is to be keyed in; nothing where it may be."""
    said = [words for row in rows for words in errors.get(row.table.rows[row.index], ())]
    unusable = dict.fromkeys(row.heading(name) for row in rows for name in sorted(row.unusable))
    if said:
        yield "Nothing to key in before this is put right:"
        yield from said
    elif unusable or device is None:
        yield f"Nothing to key in: {' and '.join(unusable) or rows[0].heading('address')} cannot be used."
    elif refusal := refusal_in(mode):
        yield refusal


def _steps(
    rows: Sequence[Accessory], device: Device, roster: Roster, mode: WriteMode, options: CardOptions
) -> list[Step]:
    newest = {cv: one for row in reversed(rows) for cv, one in accessory_readings(row, roster).items()}
    conditions = WriteConditions(
        mode=mode,
        changes=options.changes,
        after_reset=options.after_reset,
        last_read={(cv, None): one.value for cv, one in newest.items() if one.value is not None},
        unanswered={(cv, None) for cv, one in newest.items() if one.value is None},
    )
    meanings = {1: _address_words(device, "low"), 9: _address_words(device, "high")}
    meanings[_CONFIGURATION_CV] = configuration_meaning(device)
    work = []
    for cv, value in accessory_cvs(device).items():
        agrees = not options.after_reset and conditions.last_read.get((cv, None)) == value
        work.append(conditions.step(cv, value, meanings[cv], AGREES if agrees else None))
    if options.changes:
        work = [step for step in work if step.state != AGREES]
    return [*_look_first(device, work, conditions), *work] if work else []


def _look_first(device: Device, work: Sequence[Step], conditions: WriteConditions) -> Iterator[Step]:
    yield conditions.step(MAKER_CV, None, accessory_register_name(MAKER_CV), READ)
    if device.assumed and any(step.cv == _CONFIGURATION_CV for step in work):
        verb = "are" if device.assumed & (device.assumed - 1) else "is"
        name = accessory_register_name(_CONFIGURATION_CV)
        words = f"{name}: {bits_named(device.assumed)} {verb} assumed below"
        yield conditions.step(_CONFIGURATION_CV, None, words, READ)


def configuration_meaning(device: Device) -> str:
    """Say of each setting of CV29 what it is, and whether it is kept as read or assumed."""
    words = accessory_configuration_words(accessory_configuration(device.cv29))
    by_source: dict[str, list[str]] = {"": [], "kept as read: ": [], "assumed: ": []}
    # What follows the words of the four known bits is about the reserved ones, which are only ever kept.
    for at, text in enumerate(words):
        bit = _WORDS_BITS[at] if at < len(_WORDS_BITS) else device.kept
        kept, assumed = (bool(bit and mask & bit) for mask in (device.kept, device.assumed))
        by_source["kept as read: " if kept else "assumed: " if assumed else ""].append(text)
    return "; ".join(source + ", ".join(texts) for source, texts in by_source.items() if texts)


def _address_words(device: Device, which: str) -> str:
    if not device.by_output:
        return f"decoder address {device.decoder}, {which} bits"
    number = user_number(device.called)
    here = "" if number == device.row.address else f" (called {device.row.address} on this layout)"
    return f"first output {number}{here}, {which} bits"


def _cautions(options: CardOptions) -> list[str]:
    if not options.after_reset:
        return []
    cv1, cv9 = DEFAULT_CVS
    return [
        f"As after a reset to factory values: the decoder has decoder address 1 (CV1 = {cv1}, CV9 = {cv9}) "
        "until it has its own."
    ]


def _afterwards(device: Device, mode: WriteMode, *, keyed: bool) -> Iterator[str]:
    if keyed and mode is WriteMode.PAGED:
        yield PAGE_BACK
    first, last = device.numbers[0], device.numbers[-1]
    both = f"{first} and {last}" if last != first else f"{first}"
    packets = " by extended packets" if device.extended else ""
    if keyed:
        yield (
            f"Then call {both} from a throttle{packets}: this decoder should act, and no other. If one acts "
            "whose number is four off, Accessory offset in Layout may be wrong."
        )
    yield f"If the decoder learns its number instead: call {first} once while it learns."


def _about(row: Accessory) -> str:
    address = "" if row.address is None else f" {row.address}"
    aspects = f" with {row.aspects} aspects" if row.aspects else ""
    return f"{row.kind or 'device'}{address}{aspects}"
