"""Cards as text for a terminal or a printer, as JSON and as CSV."""

import textwrap
from collections.abc import Callable, Mapping, Sequence

from rosterkit.cards import CAUTIONS, Card, Step
from rosterkit.rendering.lines import one_line
from rosterkit.rendering.tables import as_csv, as_json

WIDTH = 80
"""Columns of the text form."""
_STEP_KEYS = ("cv", "value", "bits", "meaning", "mode", "page", "last_read", "state")


def cards_text(cards: Sequence[Card], width: int = WIDTH) -> str:
    """Give the cautions, then a block an engine: what it is, and its registers with a box to tick each."""
    blocks = ["\n".join(["Before you begin", *_bullets(CAUTIONS, width)])]
    blocks += [_card_text(card, width) for card in cards]
    return "\n\n".join(blocks)


def _bullets(texts: Sequence[str], width: int) -> list[str]:
    return [
        textwrap.fill(one_line(text), width, initial_indent="  - ", subsequent_indent="    ")
        for text in texts
    ]


def _card_text(card: Card, width: int) -> str:
    address = str(card.address) if card.address else "no address"
    lines = ["-" * width, *_spread(one_line(card.loco), address, width)]
    if card.about:
        lines += textwrap.wrap(one_line(card.about), width)
    lines += _bullets(card.cautions, width)
    for step in card.steps:
        lines += _step_text(step, width)
    return "\n".join(lines)


def _spread(left: str, right: str, width: int) -> list[str]:
    gap = width - len(left) - len(right)
    return [left + " " * gap + right] if gap > 1 else [*textwrap.wrap(left, width), right]


def _step_text(step: Step, width: int) -> list[str]:
    head = f"  [ ] {f'CV{step.cv}':<5} = {step.value:>3}  {step.bits}  "
    meaning = step.meaning if step.state == "key in" else f"{step.meaning} ({step.state})"
    if width - len(head) >= 20:
        return textwrap.wrap(meaning, width, initial_indent=head, subsequent_indent=" " * len(head))
    return [head.rstrip(), *textwrap.wrap(meaning, width, initial_indent=" " * 6, subsequent_indent=" " * 6)]


def card_record(card: Card) -> dict[str, object]:
    """Give a card as the JSON form has it."""
    return {
        "workbook": card.workbook,
        "loco": card.loco,
        "address": card.address.number if card.address else None,
        "kind": card.address.space.value if card.address else None,
        "steps": [_step_record(step) for step in card.steps],
        "cautions": list(card.cautions),
    }


def _step_record(step: Step) -> dict[str, object]:
    record: dict[str, object] = {key: getattr(step, key) for key in _STEP_KEYS}
    return record | {"page": list(step.page) if step.page else None}


def cards_json(cards: Sequence[Card]) -> str:
    """Give one object with the cards (schema/outputs/cards.json)."""
    return as_json({"cards": [card_record(card) for card in cards]})


def cards_csv(cards: Sequence[Card]) -> str:
    """Give one row a register to key in."""
    heading = ("workbook", "loco", "address", "kind", "order", *_STEP_KEYS)
    rows = []
    for card in cards:
        record = card_record(card)
        for order, step in enumerate(card.steps, 1):
            page = f"{step.page[0]}/{step.page[1]}" if step.page else None
            values = _step_record(step) | {"page": page}
            engine = [record[key] for key in ("workbook", "loco", "address", "kind")]
            rows.append([*engine, order, *(values[key] for key in _STEP_KEYS)])
    return as_csv(heading, rows)


CARD_FORMATS: Mapping[str, Callable[[Sequence[Card]], str]] = {
    "text": cards_text,
    "json": cards_json,
    "csv": cards_csv,
}
