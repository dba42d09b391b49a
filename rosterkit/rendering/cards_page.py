"""The sheet Cards: one block an engine, to print and take to the programming track."""

from collections.abc import Iterator, Sequence
from math import ceil

from rosterkit.cards import Card
from rosterkit.pages import Look, Page, PageCell
from rosterkit.rendering.card_reports import before_you_begin, meaning_words
from rosterkit.steps import AGREES, KEY_IN, READ, Step

TITLE = "Cards"
_HEADINGS = ("Done", "Register", "Value", "Bits", "What it means", "Last read", "Read back")
_WIDTHS = (7, 10, 8, 12, 55, 10, 11)
_MEANING_WIDTH = 54
"""Characters of What it means on one line, reckoned narrow."""
_ACROSS_WIDTH = 105
"""Characters of a line across all columns."""
_LINE = 15.0
_STEP = 17.0
"""Points of a step's row: its value is printed large."""
_PAGE = 730.0
"""Points that a page of A4 or Letter holds below the repeated headings at the size of the sheet."""


def cards_page(cards: Sequence[Card]) -> Page:
    """Make the sheet: the list to go through before, then the engines in the order of their rows.

    A printed page ends before an engine that would not be whole on it; an engine longer than a page begins on
    one of its own.
    """
    rows = [[PageCell(heading, Look.HEADING) for heading in _HEADINGS]]
    heights: dict[int, float] = {1: 20.0}
    merges: list[tuple[int, int, int, int]] = []
    breaks: list[int] = []
    used = 0.0
    for block in (_opening(cards), *(_block(card) for card in cards if not card.nothing_to_do)):
        lines = list(block)
        tall = sum(height for _, height, _ in lines)
        if used and used + tall > _PAGE:
            breaks.append(len(rows))
            used = 0.0
        for cells, height, across in lines:
            rows.append(cells)
            heights[len(rows)] = height
            if across:
                merges.append((len(rows), 1, len(rows), len(_HEADINGS)))
        used += tall
    return Page(
        title=TITLE,
        rows=rows,
        widths=_WIDTHS,
        frozen_rows=1,
        landscape=False,
        breaks=tuple(breaks),
        heights=heights,
        merges=tuple(merges),
    )


Line = tuple[list[PageCell], float, bool]
"""Cells, height in points, and whether the first cell goes across all columns."""


def _opening(cards: Sequence[Card]) -> Iterator[Line]:
    yield [PageCell("Cards for the programming track", Look.TITLE)], 24.0, True
    for text in before_you_begin(cards):
        yield _across(text, Look.CAUTION)
    done = [card.loco for card in cards if card.nothing_to_do]
    if done:
        yield _across(f"Nothing to do: {', '.join(done)}", Look.WRAPPED)


def _block(card: Card) -> Iterator[Line]:
    address = str(card.address) if card.address else "no address"
    yield [], _LINE, False
    blanks = [PageCell(None, Look.ENGINE) for _ in range(3)]
    yield (
        [
            PageCell(card.loco, Look.ENGINE),
            *blanks,
            PageCell(address, Look.ENGINE),
            PageCell(None, Look.ENGINE),
            PageCell(None, Look.ENGINE),
        ],
        20.0,
        False,
    )
    if card.about:
        yield _across(card.about, Look.WRAPPED)
    for text in card.cautions:
        yield _across(text, Look.CAUTION)
    for step in card.steps:
        yield _line(step)


def _across(text: str, look: Look) -> Line:
    cells = [PageCell(text, look), *(PageCell(None, look) for _ in _HEADINGS[1:])]
    return cells, _LINE * ceil(len(text) / _ACROSS_WIDTH) + 1, True


def _line(step: Step) -> Line:
    words = meaning_words(step)
    done = PageCell(None, Look.BOX)
    if step.state not in (KEY_IN, READ):
        done = PageCell("agrees" if step.state == AGREES else "not so", Look.PLAIN)
    cells = [
        done,
        PageCell(step.entry),
        PageCell(step.value, Look.VALUE if step.state == KEY_IN else Look.PLAIN),
        PageCell(step.bits, Look.FIXED),
        PageCell(words, Look.WRAPPED),
        PageCell(step.last_read),
        PageCell(None, Look.BOX),
    ]
    return cells, max(_STEP, _LINE * ceil(len(words) / _MEANING_WIDTH) + 1), False
