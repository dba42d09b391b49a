"""The sheet Cards: one block an engine, to print and take to the programming track."""

from collections.abc import Sequence

from rosterkit.cards import CAUTIONS, Card, Step
from rosterkit.pages import Look, Page, PageCell

TITLE = "Cards"
_HEADINGS = ("Done", "Register", "Value", "Bits", "What it means", "Last read", "Read back")
_WIDTHS = (7, 10, 8, 12, 56, 10, 11)
_ROWS_A_PAGE = 40
"""Lines that a printed page holds at the size of the sheet; an engine's block is not split across two."""


def cards_page(cards: Sequence[Card]) -> Page:
    """Make the sheet: cautions on top, then the engines in the order of their rows."""
    rows = [[PageCell("Cards for the programming track", Look.TITLE)]]
    rows += [[PageCell(text, Look.CAUTION)] for text in CAUTIONS]
    merges = [(number, 1, number, len(_HEADINGS)) for number in range(2, len(rows) + 1)]
    breaks: list[int] = []
    page_began = 0
    for card in cards:
        block = _block(card)
        if len(rows) + len(block) - page_began > _ROWS_A_PAGE and rows:
            breaks.append(len(rows))
            page_began = len(rows)
        rows += block
    return Page(
        title=TITLE,
        rows=rows,
        widths=_WIDTHS,
        landscape=False,
        breaks=tuple(breaks),
        merges=tuple(merges),
    )


def _block(card: Card) -> list[list[PageCell]]:
    address = f"{card.address}" if card.address else "no address"
    rows = [[], _across(card.loco, address, Look.ENGINE)]
    if card.about:
        rows.append([PageCell(card.about)])
    rows += [[PageCell(text, Look.CAUTION)] for text in card.cautions]
    if card.steps:
        rows.append([PageCell(heading, Look.HEADING) for heading in _HEADINGS])
    rows += [_line(step) for step in card.steps]
    return rows


def _across(left: str, right: str, look: Look) -> list[PageCell]:
    blanks = [PageCell(None, look) for _ in range(len(_HEADINGS) - 2)]
    return [PageCell(left, look), *blanks[:3], PageCell(right, look), *blanks[3:], PageCell(None, look)]


def _line(step: Step) -> list[PageCell]:
    meaning = step.meaning if step.state == "key in" else f"{step.meaning} ({step.state})"
    return [
        PageCell(None, Look.BOX),
        PageCell(f"CV{step.cv}"),
        PageCell(step.value, Look.VALUE),
        PageCell(step.bits, Look.FIXED),
        PageCell(meaning, Look.WRAPPED),
        PageCell(step.last_read),
        PageCell(None, Look.BOX),
    ]
