"""The page of cards in a browser: what is typed is judged, and all is kept, for just these cards."""

import base64
import re
from datetime import date
from pathlib import Path

import pytest

from rosterkit.cards.card import CardOptions
from rosterkit.cards.page import cards_page
from tests.browser import Page
from tests.cards.pages import HEADLINE, cards_for, field, record_line, said_of
from tests.rosters import roster

pytestmark = [pytest.mark.external, pytest.mark.xdist_group("the page of cards in a browser")]

ENGINE: dict[str, object] = {"Loco": "A", "Address": 12, "Speed steps": "28/128", "DC operation": "off"}


@pytest.mark.parametrize(
    ("typed", "said", "pair"),
    [
        pytest.param("12", "agrees", "1=12", id="what is on the card"),
        pytest.param(" 012 ", "agrees", "1=12", id="the same with blanks and a zero"),
        pytest.param("3", "differs: 12 on the card, 3 read back", "1=3", id="another value"),
        pytest.param("0", "differs: 12 on the card, 0 read back", "1=0", id="the lowest value"),
        pytest.param("255", "differs: 12 on the card, 255 read back", "1=255", id="the highest value"),
        pytest.param("-", "no acknowledgment", "1=-", id="no acknowledgment"),
        pytest.param("256", "not taken: only 0 to 255", None, id="more than a byte"),
        pytest.param("1.5", "not taken: only 0 to 255", None, id="no whole number"),
        pytest.param("x", "not taken: only 0 to 255", None, id="no number"),
        pytest.param("", "", None, id="nothing"),
    ],
)
def test_what_was_read_back_is_judged_in_words_beside_it(
    shown: Page, typed: str, said: str, pair: str | None
) -> None:
    shown.type(field(shown, 1, ".number"), typed)

    assert said_of(shown, 1) == said
    line = f'rosterkit cards "club.xlsx" --loco "A" --record "{pair}" --on {date.today()}'
    assert record_line(shown) == ("" if pair is None else line)
    assert shown.run("document.querySelector('#c0 .record').hidden") == (pair is None)


def test_ticks_and_values_are_there_again_after_a_reload_and_gone_when_cleared(shown: Page) -> None:
    tick, number = field(shown, 29, ".tick input"), field(shown, 1, ".number")
    silent = field(shown, 3, ".noack input", card=5)
    shown.click(tick)
    shown.type(number, "3")
    shown.click(silent)
    boxes = f"[...document.querySelectorAll('{tick}, {silent}')].map(it => it.checked)"
    assert shown.run(boxes) == [True, True]

    shown.reload()

    assert shown.run(boxes) == [True, True]
    assert shown.run(f"document.querySelector('{number}').value") == "3"
    assert said_of(shown, 1).startswith("differs")
    assert "1=3" in record_line(shown)
    assert "Last changed" in shown.text("#kept")
    shown.run("window.confirm = () => true")
    shown.click("#clear")
    shown.reload()
    assert shown.run(boxes) == [False, False]
    assert record_line(shown) == ""


def test_what_was_ticked_does_not_appear_on_changed_cards(browser: Page, tmp_path: Path) -> None:
    path = tmp_path / "cards.html"
    for address, ticked in ((12, False), (13, False), (12, True)):
        book = roster([{**ENGINE, "Address": address}])
        document = cards_page(cards_for(CardOptions(), book), CardOptions(), HEADLINE)
        path.write_text(document, encoding="utf-8")
        browser.open(path)

        assert browser.run("document.querySelector('#c0s0t').checked") is ticked
        if not ticked and address == 12:
            browser.click("#c0s0t")


def test_without_storage_the_page_says_so_and_works_on(browser: Page) -> None:
    document = cards_page(cards_for(CardOptions(), roster([ENGINE])), CardOptions(), HEADLINE)
    # A page at such an address has no storage: HTML Standard, 12.2.1 (opaque origins).
    browser.open("data:text/html;base64," + base64.b64encode(document.encode()).decode())

    assert "keeps nothing" in browser.text("#kept")
    browser.type(field(browser, 1, ".number"), "3")
    browser.click(field(browser, 29, ".tick input", nth=0))
    assert said_of(browser, 1) == "differs: 12 on the card, 3 read back"
    assert re.search(r'--record "1=3" --on \d{4}-\d\d-\d\d$', record_line(browser))
