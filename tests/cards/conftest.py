"""A browser for the pages of cards, and the page of a small club in it."""

from collections.abc import Iterator
from pathlib import Path

import pytest

from rosterkit.cards.card import CardOptions
from tests.browser import Page, chromium
from tests.cards.pages import cards_for, opened


@pytest.fixture(scope="module")
def browser(tmp_path_factory: pytest.TempPathFactory) -> Iterator[Page]:
    with chromium(tmp_path_factory.mktemp("browser")) as page:
        yield page


@pytest.fixture
def shown(browser: Page, tmp_path: Path) -> Page:
    """The page of the small club on a phone, with nothing kept of it."""
    browser.size(390, 844)
    return opened(browser, tmp_path, cards_for(CardOptions()))
