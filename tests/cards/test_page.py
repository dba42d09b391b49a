"""The page of cards says what the printed cards say, and how to record what was read back."""

import json

import pytest

from rosterkit.cards.card import CardOptions
from rosterkit.cards.report import cards_json, meaning_words
from rosterkit.cards.write_modes import WriteMode
from tests.cards.pages import HEADLINE, cards_for, page_of, words_of
from tests.rosters import roster

OPTIONS = [
    pytest.param(CardOptions(), id="all"),
    pytest.param(CardOptions(changes=True), id="changes"),
    pytest.param(CardOptions(after_reset=True), id="after a reset"),
    pytest.param(CardOptions(read_out=True), id="read out"),
    pytest.param(CardOptions(restore=True), id="restore"),
    pytest.param(CardOptions(mode=WriteMode.REGISTER), id="register mode"),
    pytest.param(CardOptions(mode=WriteMode.PAGED), id="paged mode"),
    pytest.param(CardOptions(mode=WriteMode.OPERATIONS), id="operations mode"),
    pytest.param(CardOptions(mode=WriteMode.ADDRESS_ONLY), id="address-only mode"),
]


@pytest.mark.parametrize("options", OPTIONS)
def test_the_page_has_the_steps_cautions_and_lists_of_the_json(options: CardOptions) -> None:
    cards = cards_for(options)
    record = json.loads(cards_json(cards))
    page = page_of(cards, options)

    shown = [card for card in cards if not card.nothing_to_do]
    articles = page.findall(".//article")
    listed = [*record["cards"], *record["accessories"]]
    assert len(articles) == len(listed) == len(shown) > 0
    for article, said, card in zip(articles, listed, shown, strict=True):
        assert article.findtext(".//h2") == card.loco
        assert article.findtext(".//p[@class='called']") == card.called
        assert [words_of(li) for li in article.findall(".//ul[@class='caution']/li")] == said["cautions"]
        assert [words_of(li) for li in article.findall(".//li[@class='after']")] == said["after"]
        lines = article.findall(".//li[@class='step']")
        for line, step, wanted in zip(lines, said["steps"], card.steps, strict=True):
            parts = [words_of(span) for span in line.findall(".//legend/span")]
            value = "-" if step["value"] is None else str(step["value"])
            assert parts == [step["entry"], value, step["bits"] or ""]
            assert line.get("data-cv") == str(step["cv"])
            assert line.get("data-index") == (" ".join(map(str, step["page"])) if step["page"] else None)
            assert line.findtext(".//p[@class='words']") == meaning_words(wanted)
            read = f"last read {step['last_read']}" if step["last_read"] is not None else ""
            read = "no acknowledgment when last read" if step["no_answer"] else read
            assert words_of(line.find(".//p[@class='last']")) == read
    before = [words_of(li) for li in page.findall(".//section[@aria-labelledby='before']/ul/li")]
    assert before == [line for line in record["before_you_begin"] if any(line in c.before for c in shown)]
    done = [words_of(one) for one in page.findall(".//p[@class='done']")]
    assert done == (
        [f"Nothing to do: {', '.join(record['nothing_to_do'])}"] if record["nothing_to_do"] else []
    )


def test_what_is_not_to_be_done_has_the_reason_in_words_and_no_box() -> None:
    cards = cards_for(CardOptions(mode=WriteMode.OPERATIONS))
    states = {step.state: step for card in cards for step in card.steps}
    page = page_of(cards)

    words = {
        words_of(line.find(".//*[@class='tick']")): words_of(line.find(".//p[@class='words']"))
        for line in page.findall(".//li[@class='step']")
    }
    assert set(words) == {"keyed in", "already so", "not in this mode"}
    assert any("not in operations mode" in state for state in states)
    assert "not in operations mode" in words["not in this mode"]
    assert page.findall(".//p[@class='tick']/input") == []


def test_a_value_agrees_with_what_one_function_says_agrees() -> None:
    readings = [{"Loco": "A", "CV": 19, "Value": 85}, {"Loco": "A", "CV": 1, "Value": 3}]
    book = roster([{"Loco": "A", "Address": 12}], readings=readings)

    page = page_of(cards_for(CardOptions(), book))

    agrees = {line.get("data-cv"): line.get("data-agrees") for line in page.findall(".//li[@class='step']")}
    assert agrees["1"] == "12"
    # NMRA S-9.2.2 (Jul 2012), CV19: 0 and 128 are both no consist.
    assert agrees["19"] == "0 128"


def test_an_engine_without_a_label_has_no_line_to_record_and_says_why() -> None:
    page = page_of(cards_for(CardOptions(), roster([{"Loco": "A", "Address": 12}, {"Address": 14}])))

    labelled, other = page.findall(".//section[@class='record']")
    assert len(labelled.xpath(".//textarea")) == 1
    assert other.xpath(".//textarea") == []
    assert "has no label" in words_of(other)


@pytest.mark.parametrize(
    ("engines", "devices"),
    [
        pytest.param(["A", "a"], [], id="of two engines"),
        pytest.param(["A"], ["B", "a"], id="of an engine and a device of a decoder"),
    ],
)
def test_a_label_of_two_decoders_has_no_line_to_record(engines: list[str], devices: list[str]) -> None:
    book = roster(
        [{"Loco": label, "Address": 12 + at} for at, label in enumerate([*engines, "C"])],
        accessories=[
            {"Accessory": label, "Address": 1 + at, "Method": "decoder"} for at, label in enumerate(devices)
        ],
    )

    page = page_of(cards_for(CardOptions(), book))

    starts = page.xpath("//textarea/@data-start")
    assert starts == ['rosterkit cards "club.xlsx" --loco "C"']
    said = [words_of(one) for one in page.findall(".//section[@class='record']")]
    assert [one.startswith("Its label is on 2 cards") for one in said].count(True) == 2


def test_a_label_that_a_shell_cannot_pass_on_is_said_to_be_so() -> None:
    page = page_of(cards_for(CardOptions(), roster([{"Loco": '3" A', "Address": 12}])))

    (section,) = page.findall(".//section[@class='record']")
    assert section.xpath(".//textarea/@data-shells") == ["POSIX"]
    assert "cannot be typed in PowerShell or cmd" in words_of(section)


def test_accessories_are_recorded_under_the_first_label_of_their_decoder() -> None:
    devices = [{"Accessory": "W 1", "Address": 17}, {"Accessory": "W 2", "Address": 18}]
    book = roster([{"Loco": "A", "Address": 12}], accessories=devices)

    page = page_of(cards_for(CardOptions(), book))

    starts = page.xpath("//textarea/@data-start")
    assert starts[1] == 'rosterkit cards "club.xlsx" --loco "W 1"'
    assert len(starts) == 2


def test_where_there_are_no_cards_the_page_says_so() -> None:
    page = page_of([])

    assert [words_of(one) for one in page.findall(".//p[@class='done']")] == ["There are no cards."]
    assert page.findtext(".//title") == HEADLINE
