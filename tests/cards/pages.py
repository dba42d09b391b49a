"""Pages of cards made of a small roster with one of everything, and read again as HTML."""

from collections.abc import Sequence
from pathlib import Path
from typing import Any

from lxml import html

from rosterkit.cards.accessory_cards import accessory_cards
from rosterkit.cards.card import Card, CardOptions, cards_of
from rosterkit.cards.page import cards_page
from rosterkit.cards.read_out import read_out_cards
from rosterkit.cards.restore import restore_cards
from rosterkit.roster.model import Roster
from tests.browser import Page
from tests.rosters import roster

HEADLINE = "Cards for the programming track"


def club() -> Roster:
    """Return a roster of engines that can be keyed in or not, an accessory that can and one that cannot."""
    return roster(
        [
            {"Loco": "A", "Address": 12, "Speed steps": "28/128", "DC operation": "off", "Fault": "Lamp"},
            {"Loco": "B", "Address": 2102, "Decoder": "D", "Owner": "M01"},
            {"Address": 14},
            {"Loco": "D", "Address": "none"},
            {"Loco": "E", "Address": 15, "Length": 900},
            {"Loco": "F", "Address": 16, "Acceleration": 3},
        ],
        layout={"Programming track length": 420},
        decoders=[{"Decoder": "D", "Manufacturer ID": 13, "Version": 4}],
        accessories=[
            {"Accessory": "W 1", "Kind": "turnout", "Address": 17, "Method": "output"},
            {"Accessory": "W 2", "Kind": "turnout", "Address": 3000},
        ],
        extras=[
            {"Loco": "A", "CV": 300, "Value": 5, "Index high": 16, "Index low": 1},
            {"Loco": "A", "CV": 49, "Value": 0, "Notes": "lamp"},
        ],
        readings=[
            {"Loco": "A", "CV": 1, "Value": 12},
            {"Loco": "A", "CV": 29, "Value": 6},
            {"Loco": "B", "CV": 8, "Value": ""},
        ],
    )


def cards_for(options: CardOptions, book: Roster | None = None) -> list[Card]:
    """Make the cards of a kind as the command does."""
    book = book or club()
    if options.read_out:
        return read_out_cards(book, (), options)
    if options.restore:
        return restore_cards(book, (), options)
    return [*cards_of(book, options=options), *accessory_cards(book, options=options)]


def page_of(cards: Sequence[Card], options: CardOptions | None = None) -> Any:
    """Return the parsed page of cards."""
    return html.document_fromstring(cards_page(cards, options or CardOptions(), HEADLINE))


def words_of(node: Any) -> str:
    """Return the text in a part of a page, its blanks made one."""
    return " ".join(node.text_content().split())


def opened(browser: Page, folder: Path, cards: Sequence[Card]) -> Page:
    """Open the page of cards in a browser, with nothing kept of it."""
    path = folder / "cards.html"
    path.write_text(cards_page(cards, CardOptions(), HEADLINE), encoding="utf-8")
    browser.events.clear()
    browser.open(path)
    browser.run("localStorage.clear()")
    browser.reload()
    return browser


def field(page: Page, cv: int, kind: str, card: int = 0, nth: int = 0) -> str:
    """Return what finds a field of a line: .tick input, .number or .noack input."""
    found = f"document.querySelectorAll('#c{card} [data-cv=\"{cv}\"] {kind}')[{nth}].id"
    return "#" + str(page.run(found))


def record_line(page: Page, card: int = 0) -> str:
    """Return the line that records what was read back of a card, nothing where there is none."""
    return str(page.run(f"document.querySelector('#c{card} [data-start]').value"))


def said_of(page: Page, cv: int, nth: int = 0) -> str:
    """Return what the page says of the value read back of a CV of the first card."""
    return str(page.run(f"document.querySelectorAll('#c0 [data-cv=\"{cv}\"] output')[{nth}].innerText"))
