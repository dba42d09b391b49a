"""Cards as one HTML page for a phone or tablet: it fetches nothing, keeps ticks, and prints as cards."""

import base64
import hashlib
from collections import Counter
from collections.abc import Iterator, Sequence
from importlib.resources import files
from xml.etree import ElementTree as ET

from rosterkit.cards.accessory_cards import AccessoryCard
from rosterkit.cards.card import Card, CardOptions
from rosterkit.cards.markup import element, shown
from rosterkit.cards.page_card import card_element
from rosterkit.cards.record_line import Shell, shell_words
from rosterkit.cards.report import before_you_begin
from rosterkit.roster.schema import folded

_SCRIPTS_OFF = (
    "Scripts are off in this browser: all can be read and printed, but what is ticked or typed here is not "
    "kept. Tick on paper."
)


def cards_page(cards: Sequence[Card], options: CardOptions, headline: str) -> str:
    """Return an HTML document with the cards, ready to be written as UTF-8.

    It says what the printed cards say. Nothing is fetched: styles and scripts stand in it, and its Content
    Security Policy (W3C, CSP Level 3) allows these by their digests and forbids every connection. What is
    ticked and typed is kept by the browser under the workbook and a digest of all that the page shows.
    """
    workbook = cards[0].workbook if cards else ""
    main = element("main", {}, *_contents(cards, options, headline))
    digest = hashlib.sha256(ET.tostring(main)).hexdigest()
    main.set("data-key", shown(f"rosterkit cards {workbook} {digest}"))
    name = workbook.replace("\\", "/").rpartition("/")[2]
    page = element(
        "html",
        {"lang": "en"},
        _head(f"{headline}: {name}" if name else headline),
        element("body", {}, main, element("script", {}, _script(), plain=True)),
    )
    return "<!DOCTYPE html>\n" + ET.tostring(page, encoding="unicode", method="html") + "\n"


def _file(name: str) -> str:
    return files("rosterkit.cards").joinpath(name).read_text(encoding="utf-8")


def _script() -> str:
    return _file("record.js") + _file("page.js")


def _head(title: str) -> ET.Element:
    style, script = _file("page.css"), _script()
    policy = (
        f"default-src 'none'; style-src '{_digest(style)}'; script-src '{_digest(script)}'; "
        "connect-src 'none'; base-uri 'none'; form-action 'none'"
    )
    return element(
        "head",
        {},
        element("meta", {"charset": "utf-8"}),
        element("meta", {"http-equiv": "Content-Security-Policy", "content": policy}),
        element("meta", {"name": "viewport", "content": "width=device-width, initial-scale=1"}),
        element("meta", {"name": "color-scheme", "content": "light dark"}),
        element("meta", {"name": "referrer", "content": "no-referrer"}),
        # Otherwise some phones take CV values for numbers to dial.
        element("meta", {"name": "format-detection", "content": "telephone=no"}),
        element("title", {}, title),
        element("style", {}, style, plain=True),
    )


def _digest(text: str) -> str:
    return "sha256-" + base64.b64encode(hashlib.sha256(text.encode()).digest()).decode()


def _contents(cards: Sequence[Card], options: CardOptions, headline: str) -> Iterator[ET.Element]:
    shown = [card for card in cards if not card.nothing_to_do]
    done = [card.loco for card in cards if card.nothing_to_do]
    yield element("h1", {}, headline)
    if cards:
        yield element("p", {"class": "workbook"}, cards[0].workbook)
    yield element("noscript", {}, element("p", {"class": "caution"}, _SCRIPTS_OFF))
    yield element(
        "div",
        {"class": "keeping", "hidden": ""},
        element("p", {"id": "kept", "role": "status"}),
        element("button", {"type": "button", "id": "clear"}, "Clear all ticks and values"),
    )
    if before := before_you_begin(shown):
        lines = (element("li", {}, text) for text in before)
        heading = element("h2", {"id": "before"}, "Before you begin")
        yield element("section", {"aria-labelledby": "before"}, heading, element("ul", {}, *lines))
    if done:
        yield element("p", {"class": "done"}, f"Nothing to do: {', '.join(done)}")
    if not cards:
        yield element("p", {"class": "done"}, "There are no cards.")
    if len(shown) > 1:
        yield _jumps(shown)
    times = Counter(label for card in cards for label in _labels(card))
    for number, card in enumerate(shown):
        yield card_element(card, number, options, most=max(times[label] for label in _labels(card)))
    if shown:
        yield _all_lines()


def _labels(card: Card) -> set[str]:
    """Return the labels under which what is read of a card's decoder may be recorded."""
    labels = card.devices if isinstance(card, AccessoryCard) else [card.loco]
    return {folded(label) for label in labels}


def _jumps(cards: Sequence[Card]) -> ET.Element:
    """Return links to the cards."""
    links = (
        element("li", {}, element("a", {"href": f"#c{number}"}, f"{card.loco}, {card.called}"))
        for number, card in enumerate(cards)
    )
    summary = element("summary", {}, f"Go to one of {len(cards)} cards")
    return element("nav", {}, element("details", {}, summary, element("ul", {}, *links)))


def _all_lines() -> ET.Element:
    """Return where the lines of all cards come together, a field for each shell."""
    fields = []
    for shell in Shell:
        name = f"all-{shell.name.lower()}"
        fields.append(
            element(
                "div",
                {"class": "line", "hidden": ""},
                element("label", {"for": name}, f"In {shell_words([shell])}"),
                element("textarea", {"id": name, "readonly": "", "rows": "4", "data-all": shell.name}),
                element("button", {"type": "button", "data-copy": name}, "Copy all lines"),
                element("output", {"for": name}),
            )
        )
    return element(
        "section",
        {"class": "all", "aria-labelledby": "all", "hidden": ""},
        element("h2", {"id": "all"}, "Record all that was read back"),
        element("p", {"id": "none"}, "Nothing is typed under Read back yet."),
        element(
            "p",
            {"id": "how", "hidden": ""},
            "Run these lines where the workbook is, one after the other: each writes what was read of one "
            "decoder into the sheet Readings.",
        ),
        *fields,
    )
