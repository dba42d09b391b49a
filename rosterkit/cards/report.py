"""Cards as text for a screen, a printer or a phone, as JSON and as CSV."""

import textwrap
from collections.abc import Callable, Iterable, Mapping, Sequence
from dataclasses import fields

from rosterkit.cards.accessory_cards import AccessoryCard
from rosterkit.cards.card import Card
from rosterkit.cards.steps import AGREES, KEY_IN, READ, READ_OUT, Step
from rosterkit.formats import as_csv, as_json
from rosterkit.printable import printable

WIDTH = 80
"""Columns of the text form as a rule; 40 fit a phone."""
NARROW = 60
"""Below so many columns a step takes a line for what is keyed in, one for what was read, and more."""
_STEP_KEYS = {"page" if one.name == "index" else one.name: one.name for one in fields(Step)}
"""By the name in the JSON form, the name of the field."""
READ_FIRST = "read first: "
"""How the words of a line begin that only reads."""
_BOXES = {KEY_IN: "[ ]", READ: "[ ]", READ_OUT: "[ ]", AGREES: " = "}
_SIGNS = {" = ": "= already so", " - ": "- not to be keyed in: the reason stands beside it"}
"""What is said at the foot of the signs that stand in place of a box."""


def cards_text(cards: Sequence[Card], width: int = WIDTH) -> str:
    """Return the list to go through before, then a block an engine, then the engines with nothing to do."""
    shown = [card for card in cards if not card.nothing_to_do]
    before = _bullets(before_you_begin(shown), width)
    blocks = ["\n".join(["Before you begin", *before])] if before else []
    blocks += [_card_text(card, width) for card in shown]
    done = [card.loco for card in cards if card.nothing_to_do]
    if done:
        blocks.append(textwrap.fill(f"Nothing to do: {', '.join(map(printable, done))}", width))
    return "\n\n".join([*blocks, *_foot(shown, width)])


def _foot(cards: Iterable[Card], width: int) -> list[str]:
    """Explain the signs that stand in place of a box on some of the cards."""
    used = {_box(step) for card in cards for step in card.steps}
    signs = [words for sign, words in _SIGNS.items() if sign in used]
    return [textwrap.fill("; ".join(signs), width)] if signs else []


def before_you_begin(cards: Iterable[Card]) -> list[str]:
    """Return the lists of a batch's cards as one, each line once."""
    return list(dict.fromkeys(line for card in cards for line in card.before))


def _bullets(texts: Sequence[str], width: int) -> list[str]:
    return [
        textwrap.fill(printable(text), width, initial_indent="  - ", subsequent_indent="    ")
        for text in texts
    ]


def _card_text(card: Card, width: int) -> str:
    lines = ["-" * width, *_spread(printable(card.loco), card.called, width)]
    if card.about:
        lines += textwrap.wrap(printable(card.about), width)
    lines += _bullets(card.cautions, width)
    if card.steps and width >= NARROW:
        indent = f"      {_column('', card)}"
        lines.append(f"{indent}{'':20}last  read")
        lines.append(f"{indent}  value  bits       read  back  what it means")
    for step in card.steps:
        lines += _narrow_step(step, width) if width < NARROW else _wide_step(step, card, width)
    for text in card.after:
        lines += textwrap.wrap(text, width, initial_indent="  [ ] ", subsequent_indent=" " * 6)
    return "\n".join(lines)


def _spread(left: str, right: str, width: int) -> list[str]:
    gap = width - len(left) - len(right)
    return [left + " " * gap + right] if gap > 1 else [*textwrap.wrap(left, width), right]


def _column(text: str, card: Card) -> str:
    """Return a text as wide as the longest name of a CV on the card."""
    return f"{text:<{max(len(step.entry) for step in card.steps)}}"


def _wide_step(step: Step, card: Card, width: int) -> list[str]:
    head = (
        f"  {_box(step)} {_column(step.entry, card)}  {_number(step.value):>5}  {step.bits or ' ' * 9}  "
        f"{_number(step.last_read):>4}  ____  "
    )
    words = meaning_words(step) + (" - no acknowledgment when last read" if step.no_answer else "")
    return textwrap.wrap(printable(words), width, initial_indent=head, subsequent_indent=" " * len(head))


def _narrow_step(step: Step, width: int) -> list[str]:
    indent = " " * 4
    return [
        f"{_box(step)} {step.entry:<6} {_number(step.value)}  {step.bits or ''}".rstrip(),
        *textwrap.wrap(
            printable(meaning_words(step)), width, initial_indent=indent, subsequent_indent=indent
        ),
        f"{indent}{_was(step)}read back ____",
    ]


def _was(step: Step) -> str:
    if step.no_answer:
        return "no acknowledgment last time, "
    return "" if step.last_read is None else f"last read {step.last_read}, "


def _box(step: Step) -> str:
    return _BOXES.get(step.state, " - ")


def _number(value: int | None) -> str:
    return "  -" if value is None else f"{value:>3}"


def meaning_words(step: Step) -> str:
    """Say what a step's value means, that it is only read, or why it is not to be keyed in."""
    if step.state == READ:
        return f"{READ_FIRST}{step.meaning}"
    return step.meaning if step.state in (KEY_IN, AGREES, READ_OUT) else f"{step.meaning} - {step.state}"


def card_record(card: Card) -> dict[str, object]:
    """Return a card as the JSON form has it."""
    return {
        "workbook": card.workbook,
        "loco": card.loco,
        "address": card.address.number if card.address else None,
        "kind": card.address.space.value if card.address else None,
        "steps": [_step_record(step) for step in card.steps],
        "cautions": list(card.cautions),
        "after": list(card.after),
    }


def accessory_record(card: AccessoryCard) -> dict[str, object]:
    """Return the card of an accessory decoder as the JSON form has it."""
    return {
        "workbook": card.workbook,
        "devices": list(card.devices),
        "numbers": list(card.numbers),
        "decoder": card.decoder,
        "steps": [_step_record(step) for step in card.steps],
        "cautions": list(card.cautions),
        "after": list(card.after),
    }


def _step_record(step: Step) -> dict[str, object]:
    record = {key: getattr(step, name) for key, name in _STEP_KEYS.items()}
    return record | {"page": list(step.index) if step.index else None}


def cards_json(cards: Sequence[Card]) -> str:
    """Return one object with the cards (schema/outputs/cards.json)."""
    devices = [card for card in cards if isinstance(card, AccessoryCard)]
    engines = [card for card in cards if not isinstance(card, AccessoryCard)]
    return as_json(
        {
            "cards": [card_record(card) for card in engines if not card.nothing_to_do],
            "accessories": [accessory_record(card) for card in devices if not card.nothing_to_do],
            "before_you_begin": before_you_begin(cards),
            "nothing_to_do": [card.loco for card in cards if card.nothing_to_do],
        }
    )


def cards_csv(cards: Sequence[Card]) -> str:
    """Return one row per CV to key in."""
    engine = ("workbook", "loco", "address", "kind")
    rows = []
    for card in cards:
        record = card_record(card)
        if isinstance(card, AccessoryCard):
            record |= {"address": next(iter(card.numbers), None), "kind": "accessory"}
        for order, step in enumerate(card.steps, 1):
            index = f"{step.index[0]}/{step.index[1]}" if step.index else None
            values = _step_record(step) | {"page": index, "no_answer": "yes" if step.no_answer else ""}
            rows.append([*(record[key] for key in engine), order, *values.values()])
    return as_csv((*engine, "order", *_STEP_KEYS), rows)


CARD_FORMATS: Mapping[str, Callable[[Sequence[Card]], str]] = {
    "text": cards_text,
    "json": cards_json,
    "csv": cards_csv,
}


def printed_cards(cards: Sequence[Card], form: str, width: int) -> str:
    """Return cards in one of the forms; only the text form has a width."""
    return cards_text(cards, width) if form == "text" else CARD_FORMATS[form](cards)
