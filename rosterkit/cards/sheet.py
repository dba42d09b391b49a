"""The sheet Cards: one block an engine, to print and take to the programming track."""

from collections.abc import Iterator, Sequence

from rosterkit.cards.card import Card
from rosterkit.cards.report import before_you_begin, meaning_words
from rosterkit.cards.steps import AGREES, HELD_BACK, KEY_IN, READ, Step
from rosterkit.standards.speed_curve import SPEED_TABLE_CVS
from rosterkit.xlsx.changes import LINE, CellStyle, OwnCell, OwnSheet, lines_of

TITLE = "Cards"
_HEADLINE = "Cards for the programming track"
_HEADINGS = ("Done", "CV", "Value", "Bits", "What it means", "Last read", "Read back")
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
) -> OwnSheet:
    """Make the sheet: the list to go through before, then the engines in the order of their rows.

    Where engines had to be left out, the last line says how to print them.

    A printed page ends before an engine that would not be whole on it. Only an engine longer than a page goes
    on to a second one, with its name once more.
    """
    rows = [[OwnCell(heading, CellStyle.HEADING) for heading in _HEADINGS]]
    heights: dict[int, float] = {1: 20.0}
    merges: list[tuple[int, int, int, int]] = []
    breaks: list[int] = []
    used = 0.0
    shown = [card for card in cards if not card.nothing_to_do]
    opening = list(_opening(cards, f"{headline}: {event}" if event else headline))
    parts = (part for card in shown for part in _parts(card))
    text = f"{left_out} more cards are not on this sheet; 'rosterkit cards --loco LABEL' prints them."
    closing = [_across(text, CellStyle.CAUTION)] if left_out else []
    for block in (opening, *parts, closing):
        tall = _tall(block)
        if used and used + tall > _PAGE:
            breaks.append(len(rows))
            used = 0.0
        for cells, height, across in block:
            rows.append(cells)
            heights[len(rows)] = height
            if across:
                merges.append((len(rows), 1, len(rows), len(_HEADINGS)))
        used += tall
    return OwnSheet(
        title=title,
        rows=rows,
        widths=_WIDTHS,
        frozen_rows=1,
        landscape=False,
        breaks=tuple(breaks),
        heights=heights,
        merges=tuple(merges),
    )


Line = tuple[list[OwnCell], float, bool]
"""Cells, height in points, and whether the first cell goes across all columns."""


def _tall(lines: Sequence[Line]) -> float:
    return sum(height for _, height, _ in lines)


def _parts(card: Card) -> list[list[Line]]:
    """Return an engine's lines, in one part or in as many as its pages."""
    parts: list[list[Line]] = [[]]
    for line in _block(card):
        if _tall(parts[-1]) + line[1] > _PAGE:
            parts.append([_name(card, f"{card.loco}, continued")])
        parts[-1].append(line)
    return parts


def _opening(cards: Sequence[Card], headline: str) -> Iterator[Line]:
    yield [OwnCell(headline, CellStyle.TITLE)], 24.0, True
    for text in before_you_begin(card for card in cards if not card.nothing_to_do):
        yield _across(text, CellStyle.CAUTION)
    done = [card.loco for card in cards if card.nothing_to_do]
    if done:
        yield _across(f"Nothing to do: {', '.join(done)}", CellStyle.WRAPPED)


def _block(card: Card) -> Iterator[Line]:
    yield [], LINE, False
    yield _name(card, card.loco)
    if card.about:
        yield _across(card.about, CellStyle.WRAPPED)
    for text in card.cautions:
        yield _across(text, CellStyle.CAUTION)
    for step in card.steps:
        yield _line(step)
    for text in card.after:
        blank = OwnCell(None, CellStyle.PLAIN)
        words = OwnCell(text, CellStyle.WRAPPED)
        cells = [OwnCell(None, CellStyle.BOX), *[blank] * 3, words, *[blank] * 2]
        yield cells, max(_STEP, LINE * lines_of(text, _MEANING_WIDTH) + 1), False


def _name(card: Card, label: str) -> Line:
    blank = OwnCell(None, CellStyle.ENGINE)
    cells = [
        OwnCell(label, CellStyle.ENGINE),
        *[blank] * 3,
        OwnCell(card.called, CellStyle.ENGINE),
        *[blank] * 2,
    ]
    return cells, 20.0, False


def _across(text: str, look: CellStyle) -> Line:
    cells = [OwnCell(text, look), *(OwnCell(None, look) for _ in _HEADINGS[1:])]
    return cells, LINE * lines_of(text, _ACROSS_WIDTH) + 1, True


def _line(step: Step) -> Line:
    words = meaning_words(step)
    done = OwnCell(None, CellStyle.BOX)
    if step.state not in (KEY_IN, READ):
        other = "held back" if step.state.startswith(HELD_BACK) else "not in this mode"
        done = OwnCell("already so" if step.state == AGREES else other, CellStyle.WRAPPED)
    cells = [
        done,
        OwnCell(step.entry),
        OwnCell(step.value, CellStyle.VALUE if step.state == KEY_IN else CellStyle.PLAIN),
        OwnCell(step.bits, CellStyle.FIXED),
        OwnCell(words, CellStyle.WRAPPED),
        OwnCell("no acknowledgment" if step.no_answer else step.last_read),
        OwnCell(None, CellStyle.BOX),
    ]
    one = _TABLE_STEP if step.cv in SPEED_TABLE_CVS else _STEP
    lines = max(lines_of(words, _MEANING_WIDTH), lines_of(str(done.value or ""), _WIDTHS[0]))
    return cells, max(one, LINE * lines + 1), False
