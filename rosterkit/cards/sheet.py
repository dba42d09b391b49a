"""The sheet Cards: one block an engine, to print and take to the programming track."""

from collections.abc import Iterator, Mapping, Sequence
from typing import NamedTuple

from rosterkit.cards.card import Card
from rosterkit.cards.report import before_you_begin, meaning_words
from rosterkit.cards.sheet_lines import Kept, Placed, key_cells, with_key_columns
from rosterkit.cards.steps import AGREES, HELD_BACK, KEY_IN, READ, READ_OUT, Step
from rosterkit.standards.speed_curve import SPEED_TABLE_CVS
from rosterkit.xlsx.changes import LINE, CellStyle, OwnCell, OwnSheet, lines_of

TITLE = "Cards"
_HEADLINE = "Cards for the programming track"
DONE, VALUE, WORDS, READ_BACK = "Done", "Value", "What it means", "Read back"
_HEADINGS = (DONE, "CV", VALUE, "Bits", WORDS, "Last read", READ_BACK)
ALREADY_SO, HELD, OTHER_MODE = "already so", "held back", "not in this mode"
"""What stands under Done in place of a box."""
_WIDTHS = (10, 10, 8, 12, 58, 10, 11)
_MEANING_WIDTH = 56
"""Characters of What it means on one line, reckoned narrow."""
_ACROSS_WIDTH = 111
"""Characters of a line across all columns."""
_STEP = 16.0
"""Points of a step's row: its value is printed large."""
_TABLE_STEP = 15.0
"""Points of a row of a speed table, so that the 28 of them and the rest are on one page."""
_PAGE = 790.0
"""Points that a page of Letter holds below the repeated headings where the columns fill its width; A4 holds
more."""


MOST_CARDS = 500
"""Engines on the sheet at most: a hundred thousand would be more than a sheet has rows for."""


def cards_sheet(
    cards: Sequence[Card],
    title: str = TITLE,
    headline: str = _HEADLINE,
    *,
    event: str | None = None,
    left_out: int = 0,
    typed: Placed | None = None,
) -> OwnSheet:
    """Make the sheet: the list to go through before, then the engines in the order of their rows.

    Where engines had to be left out, the last line says how to print them. With ``typed``, which stays on the
    lines, the sheet has the hidden columns by which its lines are known again.

    A printed page ends before an engine that would not be whole on it. Only an engine longer than a page goes
    on to a second one, with its name once more.
    """
    rows = [[OwnCell(heading, CellStyle.HEADING) for heading in _HEADINGS]]
    heights: dict[int, float] = {1: 20.0}
    merges: list[tuple[int, int, int, int]] = []
    breaks: list[int] = []
    keys: dict[int, list[OwnCell]] = {}
    used = 0.0
    opening = list(_opening(cards, f"{headline}: {event}" if event else headline))
    kept: dict[int, dict[int, Kept]] = {}
    for (number, at), one in (typed or {}).items():
        kept.setdefault(number, {})[at] = one
    shown = ((number, card) for number, card in enumerate(cards) if not card.nothing_to_do)
    parts = (part for number, card in shown for part in _parts(card, kept.get(number, {})))
    text = f"{left_out} more cards are not on this sheet; 'rosterkit cards --loco LABEL' prints them."
    closing = [_across(text, CellStyle.CAUTION)] if left_out else []
    for block in (opening, *parts, closing):
        tall = _tall(block)
        if used and used + tall > _PAGE:
            breaks.append(len(rows))
            used = 0.0
        for line in block:
            rows.append(line.cells)
            heights[len(rows)] = line.height
            if line.across:
                merges.append((len(rows), 1, len(rows), len(_HEADINGS)))
            if line.keys:
                keys[len(rows)] = line.keys
        used += tall
    page = OwnSheet(
        title=title,
        rows=rows,
        widths=_WIDTHS,
        frozen_rows=1,
        landscape=False,
        breaks=tuple(breaks),
        heights=heights,
        merges=tuple(merges),
    )
    return page if typed is None else with_key_columns(page, keys)


class _Line(NamedTuple):
    cells: list[OwnCell]
    height: float
    """In points."""
    across: bool = False
    """The first cell goes across all columns."""
    keys: list[OwnCell] | None = None
    """What it is about, where there is room to write."""


def _tall(lines: Sequence[_Line]) -> float:
    return sum(line.height for line in lines)


def _parts(card: Card, typed: Mapping[int, Kept]) -> list[list[_Line]]:
    """Return an engine's lines, in one part or in as many as its pages."""
    parts: list[list[_Line]] = [[]]
    for line in _block(card, typed):
        if _tall(parts[-1]) + line.height > _PAGE:
            parts.append([_name(card, f"{card.loco}, continued")])
        parts[-1].append(line)
    return parts


def _opening(cards: Sequence[Card], headline: str) -> Iterator[_Line]:
    yield _Line([OwnCell(headline, CellStyle.TITLE)], 24.0, across=True)
    for text in before_you_begin(card for card in cards if not card.nothing_to_do):
        yield _across(text, CellStyle.CAUTION)
    done = [card.loco for card in cards if card.nothing_to_do]
    if done:
        yield _across(f"Nothing to do: {', '.join(done)}", CellStyle.WRAPPED)


def _block(card: Card, typed: Mapping[int, Kept]) -> Iterator[_Line]:
    yield _Line([], LINE)
    yield _name(card, card.loco)
    if card.about:
        yield _across(card.about, CellStyle.WRAPPED)
    for text in (*card.cautions, *(kept.caution for kept in typed.values() if kept.caution)):
        yield _across(text, CellStyle.CAUTION)
    for number, step in enumerate(card.steps):
        yield _step(card, step, typed.get(number, Kept()))
    for number, text in enumerate(card.after, len(card.steps)):
        yield _afterwards(card, text, typed.get(number, Kept()))


def _name(card: Card, label: str) -> _Line:
    blank = OwnCell(None, CellStyle.ENGINE)
    cells = [
        OwnCell(label, CellStyle.ENGINE),
        *[blank] * 3,
        OwnCell(card.called, CellStyle.ENGINE),
        *[blank] * 2,
    ]
    return _Line(cells, 20.0)


def _across(text: str, look: CellStyle) -> _Line:
    cells = [OwnCell(text, look), *(OwnCell(None, look) for _ in _HEADINGS[1:])]
    return _Line(cells, LINE * lines_of(text, _ACROSS_WIDTH) + 1, across=True)


def _step(card: Card, step: Step, kept: Kept) -> _Line:
    words = meaning_words(step)
    done = _box(kept.done)
    if step.state not in (KEY_IN, READ, READ_OUT) and kept.done is None:
        other = HELD if step.state.startswith(HELD_BACK) else OTHER_MODE
        done = OwnCell(ALREADY_SO if step.state == AGREES else other, CellStyle.WRAPPED)
    cells = [
        done,
        OwnCell(step.entry),
        OwnCell(step.value, CellStyle.VALUE if step.state == KEY_IN else CellStyle.PLAIN),
        OwnCell(step.bits, CellStyle.FIXED),
        OwnCell(words, CellStyle.WRAPPED),
        OwnCell("no acknowledgment" if step.no_answer else step.last_read),
        _box(kept.read_back),
    ]
    one = _TABLE_STEP if step.cv in SPEED_TABLE_CVS else _STEP
    lines = max(lines_of(words, _MEANING_WIDTH), lines_of(str(done.value or ""), _WIDTHS[0]))
    return _Line(cells, max(one, LINE * lines + 1), keys=key_cells(card, step))


def _afterwards(card: Card, text: str, kept: Kept) -> _Line:
    """Return the line of what is to be done when all is keyed in."""
    blank = OwnCell(None, CellStyle.PLAIN)
    words = OwnCell(text, CellStyle.WRAPPED)
    read = blank if kept.read_back is None else OwnCell(kept.read_back, typed=True)
    cells = [_box(kept.done), *[blank] * 3, words, blank, read]
    height = max(_STEP, LINE * lines_of(text, _MEANING_WIDTH) + 1)
    return _Line(cells, height, keys=key_cells(card, None))


def _box(kept: str | int | float | None) -> OwnCell:
    """Return a box to write into; what stays in it belongs to whoever typed it."""
    return OwnCell(kept, CellStyle.BOX, typed=kept is not None)
