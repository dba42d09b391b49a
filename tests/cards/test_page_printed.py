"""The page of cards on paper, with scripts off, and with a workbook that would like to act."""

import re
import shlex
import subprocess
from pathlib import Path

import pytest

from rosterkit.cards.card import CardOptions
from rosterkit.cards.page import cards_page
from tests.browser import Page
from tests.cards.pages import HEADLINE, cards_for, field, opened, record_line
from tests.rosters import roster

pytestmark = [pytest.mark.external, pytest.mark.xdist_group("the page of cards in a browser")]

ENGINE: dict[str, object] = {"Loco": "A", "Address": 12, "Speed steps": "28/128", "DC operation": "off"}
TABLE = [*range(1, 28), 30]


def test_scripts_off_leaves_all_readable_with_boxes_and_a_sentence(browser: Page, tmp_path: Path) -> None:
    path = tmp_path / "cards.html"
    path.write_text(cards_page(cards_for(CardOptions()), CardOptions(), HEADLINE), encoding="utf-8")
    browser.size(390, 844)
    browser.call("Emulation.setScriptExecutionDisabled", value=True)
    try:
        browser.open(path)
        root = browser.call("DOM.getDocument")["root"]["nodeId"]
        hidden = browser.call("DOM.querySelectorAll", nodeId=root, selector="[hidden]")["nodeIds"]
        tree = browser.call("Accessibility.getFullAXTree")["nodes"]
    finally:
        browser.call("Emulation.setScriptExecutionDisabled", value=False)

    texts = [node["name"]["value"] for node in tree if node["role"]["value"] == "StaticText"]
    assert any("is not kept. Tick on paper." in text for text in texts)
    assert {"CV1", "12", "short address 12"} <= set(texts)
    assert len(hidden) > 0
    assert not any("record it" in text for text in texts)
    boxes = [node["name"]["value"] for node in tree if node["role"]["value"] == "checkbox"]
    assert {"keyed in", "read"} <= set(boxes)


def test_nothing_is_fetched_and_nothing_of_a_workbook_acts(browser: Page, tmp_path: Path) -> None:
    act = "document.title = 'acted'"
    text = f'</textarea><script>{act}</script><img src=x onerror="{act}">'
    engine = {**ENGINE, "Loco": "</textarea><script>a", "Fault": text, "Model": text, "Railway": text}
    path = tmp_path / "cards.html"

    opened(browser, tmp_path, cards_for(CardOptions(), roster([engine])))
    browser.type(field(browser, 1, ".number"), "12")

    assert browser.run("document.title") == f"{HEADLINE}: club.xlsx"
    assert browser.text("#c0 h2") == "</textarea><script>a"
    assert shlex.split(record_line(browser))[4] == "</textarea><script>a"
    assert text in browser.text("#c0 .caution")
    requests = [one["params"] for one in browser.events if one.get("method") == "Network.requestWillBeSent"]
    assert [one["request"]["url"] for one in requests] == [path.as_uri()] * 2
    troubles = ("Log.entryAdded", "Runtime.exceptionThrown")
    assert [one for one in browser.events if one.get("method") in troubles] == []
    refused = browser.run("""new Promise(done => {
        addEventListener('securitypolicyviolation', event => done(event.effectiveDirective));
        fetch('http://127.0.0.1:9/').then(() => done('fetched'), () => setTimeout(done, 2000, 'not refused'));
    })""")
    assert refused == "connect-src"


PAPERS = [pytest.param((8.27, 11.69), id="A4"), pytest.param((8.5, 11.0), id="Letter")]
"""Widths and heights in inches."""


@pytest.mark.parametrize("paper", PAPERS)
def test_a_card_is_printed_whole_and_a_long_one_goes_on_with_its_name(
    browser: Page, tmp_path: Path, paper: tuple[float, float]
) -> None:
    long = {**ENGINE, "Loco": "LONG ONE", "Address": 99, "Speed curve": "table", "Speed table": "T"}
    engines = [{**ENGINE, "Loco": f"ENGINE {n}", "Address": 20 + n} for n in range(12)]
    book = roster(
        [*engines[:6], long, *engines[6:]],
        tables=[{"Table": "T", **{str(n): value for n, value in enumerate(TABLE, 1)}}],
        extras=[{"Loco": "LONG ONE", "CV": cv, "Value": 1} for cv in range(112, 180)],
    )
    cards = cards_for(CardOptions(), book)
    opened(browser, tmp_path, cards)

    browser.print_to(tmp_path / "cards.pdf", *paper)

    command = ["pdftotext", "-layout", str(tmp_path / "cards.pdf"), "-"]
    printed = subprocess.run(command, check=True, capture_output=True, timeout=60, text=True).stdout
    pages = printed.split("\f")[:-1]
    goes_on = [page for page in pages if re.search(r"\bCV(6[7-9]|[7-9]\d|1[1-7]\d)\b", page)]
    for card in cards:
        on = [page for page in pages if re.search(rf"^\s*{card.loco}\s+(short|no)\b", page, re.MULTILINE)]
        assert on == goes_on if card.loco == "LONG ONE" else len(on) == 1, card.loco
    assert len(goes_on) > 1
    lines = [len(re.findall(r"\bCV\d+ +(?:-|\d+ +[01]{4} [01]{4})", page)) for page in pages]
    assert sum(lines) == sum(len(card.steps) for card in cards)
    for page, found in zip(pages, lines, strict=True):
        begun = [card for card in cards if re.search(rf"^\s*{card.loco}\s+(short|no)\b", page, re.MULTILINE)]
        if all(card.loco != "LONG ONE" for card in begun):
            assert found == sum(len(card.steps) for card in begun)
    assert "no acknowledgment" not in printed
    assert "--record" not in printed
