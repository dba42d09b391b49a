"""The lines of the sheet Cards, each with what it is about in hidden columns, so that it is known again.

The columns stand between others: they go along where rows are sorted or moved, and all spreadsheet programs
keep them.
"""

from collections.abc import Iterator, Mapping
from dataclasses import dataclass, replace

from rosterkit.cards.accessory_cards import AccessoryCard
from rosterkit.cards.card import Card
from rosterkit.cards.steps import READ, Step
from rosterkit.cv.extra_values import Index
from rosterkit.roster.schema import folded
from rosterkit.xlsx.changes import CellStyle, OwnCell, OwnSheet

KEYS = ("Loco", "CV number", "Index")
"""The headings of the hidden columns."""
_FIRST_KEY = 2
"""The sheet column of the first of them."""


@dataclass(frozen=True, slots=True, kw_only=True)
class LineKey:
    """What a line is about: the same line of a later sheet has the same."""

    loco: str
    """The label, folded."""
    cv: int | None
    """None where something else is to be done."""
    index: Index | None
    value: int | None
    """What is to be keyed in or found."""
    words: str
    """'read' of a line that only reads; of one without a CV its text."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Kept:
    """What stays on a line of the card."""

    done: str | int | float | None = None
    read_back: str | int | float | None = None
    caution: str | None = None
    """Why what was read back is not a reading."""


Placed = Mapping[tuple[int, int], Kept]
"""By the card, and the line on it, both counted from 0; the steps first, then what is to be done after."""


def label_of(card: Card) -> str:
    """Return the label under which what is read of a card's decoder is recorded."""
    return card.devices[0] if isinstance(card, AccessoryCard) else card.loco


def keys_of(card: Card) -> Iterator[LineKey]:
    """Return what each line of a card is about, in their order."""
    loco = folded(label_of(card))
    for step in card.steps:
        words = READ if step.state == READ else ""
        yield LineKey(loco=loco, cv=step.cv, index=step.index, value=step.value, words=words)
    for text in card.after:
        yield LineKey(loco=loco, cv=None, index=None, value=None, words=text)


def key_cells(card: Card, step: Step | None) -> list[OwnCell]:
    """Return the hidden cells of a line."""
    index = f"{step.index[0]}/{step.index[1]}" if step and step.index else None
    return [OwnCell(label_of(card)), OwnCell(step.cv if step else None), OwnCell(index)]


def with_key_columns(page: OwnSheet, keys: Mapping[int, list[OwnCell]]) -> OwnSheet:
    """Put the hidden columns into a page; ``keys`` are their cells by sheet row."""
    at, more = _FIRST_KEY - 1, len(KEYS)
    headings = [OwnCell(heading, CellStyle.HEADING) for heading in KEYS]
    rows = []
    for number, cells in enumerate(page.rows, 1):
        beside = headings if number == 1 else keys.get(number)
        # A blank cell looks like the one before it, as in a line across the page.
        hidden = beside or [OwnCell(None, cell.look) for cell in cells[at : at + 1] * more]
        rows.append([*cells[:at], *hidden, *cells[at:]])
    return replace(
        page,
        rows=rows,
        widths=(*page.widths[:at], *[8.0] * more, *page.widths[at:]),
        merges=tuple((top, left, bottom, right + more) for top, left, bottom, right in page.merges),
        hidden_columns=tuple(range(_FIRST_KEY, _FIRST_KEY + more)),
    )
