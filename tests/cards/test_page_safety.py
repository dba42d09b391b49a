"""The page of cards fetches nothing, nothing from a workbook acts in it, and everybody can use it."""

import base64
import hashlib
import re
from dataclasses import replace

import pytest
from hypothesis import given
from hypothesis import strategies as st
from lxml import html

from rosterkit.cards.card import CardOptions
from rosterkit.cards.page import cards_page
from rosterkit.cards.record_line import line_starts
from rosterkit.printable import printable
from tests.cards.pages import HEADLINE, cards_for, page_of, words_of
from tests.rosters import roster
from tests.test_printable import ACTING

HOSTILE = (
    "<script>alert(1)</script>",
    "</textarea><img src=x onerror=alert(1)>",
    '" onfocus="alert(1)" autofocus="',
    "</style></title><!-- ]]> &amp; &lt;",
    "javascript:alert(1)",
)


@pytest.mark.parametrize("text", HOSTILE)
def test_what_comes_from_a_workbook_is_text_and_nothing_else(text: str) -> None:
    book = roster(
        [{"Loco": text, "Address": 12, "Railway": text, "Owner": text, "Fault": text, "Model": text}],
        layout={"Programming track length": 420},
        accessories=[{"Accessory": text + " W", "Kind": text, "Address": 17}],
        extras=[{"Loco": text, "CV": 49, "Value": 0, "Notes": text}],
        name=f"{text.replace('/', '')}.xlsx",
    )
    plain = roster(
        [{"Loco": "A", "Address": 12, "Railway": "R", "Owner": "O", "Fault": "F", "Model": "M"}],
        layout={"Programming track length": 420},
        accessories=[{"Accessory": "A W", "Kind": "K", "Address": 17}],
        extras=[{"Loco": "A", "CV": 49, "Value": 0, "Notes": "N"}],
        name="a.xlsx",
    )
    hostile, harmless = page_of(cards_for(CardOptions(), book)), page_of(cards_for(CardOptions(), plain))

    assert hostile.findtext(".//article//h2") == text
    assert text in hostile.findtext(".//p[@class='about']")
    assert any(text in words_of(one) for one in hostile.findall(".//ul[@class='caution']/li"))
    for one in (hostile, harmless):
        for field in one.xpath(".//section[@class='record']/*"):
            field.drop_tree()
    shapes = [[(node.tag, sorted(node.keys())) for node in one.iter()] for one in (hostile, harmless)]
    assert shapes[0] == shapes[1]


CARD = cards_for(CardOptions(), roster([{"Loco": "A", "Address": 12}]))[0]


@given(st.text(st.characters(exclude_categories=["Cs", "Cn"]), min_size=1))
def test_any_text_is_shown_as_it_is(text: str) -> None:
    card = replace(CARD, loco=text, label=text, about=text, cautions=[text], workbook=text)

    page = page_of([card])

    shown = printable(text)
    assert page.findtext(".//article//h2") == page.findtext(".//p[@class='about']") == shown
    assert page.findtext(".//ul[@class='caution']/li") == page.findtext(".//p[@class='workbook']") == shown
    starts = line_starts(text, text, CardOptions())
    assert page.xpath("//textarea/@data-start") == list(starts)


def test_signs_that_act_are_shown_as_escapes() -> None:
    book = roster([{"Loco": "A\u202eB", "Address": 12, "Model": "x\x85y"}])

    document = cards_page(cards_for(CardOptions(), book), CardOptions(), HEADLINE)

    assert ACTING.search(document) is None
    assert "A\\u202eB" in document
    assert "x\\x85y" in document


def test_a_workbook_whose_name_is_no_text_is_written_all_the_same() -> None:
    book = roster([{"Loco": "A", "Address": 12}], name="club\udc80.xlsx")

    document = cards_page(cards_for(CardOptions(), book), CardOptions(), HEADLINE)

    assert "club?.xlsx" in document.encode().decode()
    assert "data-start" not in document.partition("<script>")[0]


def test_the_page_fetches_nothing_and_only_its_own_script_runs() -> None:
    document = cards_page(cards_for(CardOptions()), CardOptions(), HEADLINE)
    page = html.document_fromstring(document)

    (policy,) = page.xpath(".//meta[@http-equiv='Content-Security-Policy']/@content")
    rules = dict(rule.strip().split(" ", 1) for rule in policy.split(";"))
    for kind in ("script", "style"):
        (text,) = (node.text or "" for node in page.iter(kind))
        digest = base64.b64encode(hashlib.sha256(text.encode()).digest()).decode()
        assert rules[f"{kind}-src"] == f"'sha256-{digest}'"
    assert (
        rules["default-src"] == rules["connect-src"] == rules["base-uri"] == rules["form-action"] == "'none'"
    )
    fetching = page.xpath(
        "//@src | //@srcset | //@style | //link | //img | //iframe | //object | //form | //base"
    )
    assert fetching == []
    assert [link for link in page.xpath("//@href") if not link.startswith("#")] == []
    assert (
        re.search(r"https?:|//\w|url\(|@import|fetch\(|XMLHttp|WebSocket|sendBeacon|import\(", document)
        is None
    )


def test_the_page_has_what_a_reader_of_screens_needs() -> None:
    page = page_of(cards_for(CardOptions()))

    assert page.get("lang") == "en"
    assert page.findtext(".//title") == f"{HEADLINE}: club.xlsx"
    ids = page.xpath("//@id")
    assert len(ids) == len(set(ids))
    for field in page.xpath("//input | //textarea"):
        assert [words_of(label) for label in page.xpath(f"//label[@for='{field.get('id')}']")] != [""]
        assert len(page.xpath(f"//label[@for='{field.get('id')}']")) == 1
    named = page.xpath("//@aria-labelledby | //@aria-describedby | //@href")
    assert {name.lstrip("#") for name in named} <= set(ids)
    for line in page.findall(".//li[@class='step']"):
        fieldset = line.find("fieldset")
        assert fieldset[0].tag == "legend"
        assert words_of(fieldset[0]).startswith("CV")
    headings = [int(node.tag[1]) for node in page.iter("h1", "h2", "h3")]
    assert headings[0] == 1
    assert set(headings[1:]) == {2}


def test_with_scripts_off_a_sentence_says_that_nothing_is_kept() -> None:
    page = page_of(cards_for(CardOptions()))

    assert "is not kept. Tick on paper." in words_of(page.find(".//noscript"))
    for part in page.xpath("//*[@class='keeping' or @class='record' or @class='all']"):
        assert part.get("hidden") == ""


def test_what_is_ticked_is_kept_for_just_these_cards_of_this_workbook() -> None:
    engine: dict[str, object] = {"Loco": "A", "Address": 12, "Model": "x"}
    pages = [
        roster([engine]),
        roster([engine]),
        roster([{**engine, "Address": 13}]),
        roster([{**engine, "Model": "y"}]),
        roster([engine], readings=[{"Loco": "A", "CV": 29, "Value": 2}]),
        roster([engine], name="other.xlsx"),
    ]

    keys = [page_of(cards_for(CardOptions(), book)).find(".//main").get("data-key") for book in pages]

    assert keys[0] == keys[1]
    assert keys[0].startswith("rosterkit cards club.xlsx ")
    assert len(set(keys)) == 5
