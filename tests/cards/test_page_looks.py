"""The page of cards as it is used: on a phone, in the light and in the dark, by keys, by a screen reader."""

import re

import pytest

from tests.browser import Page
from tests.cards.pages import field

pytestmark = [pytest.mark.external, pytest.mark.xdist_group("the page of cards in a browser")]


def _luminance(colour: str) -> float:
    """Return the relative luminance of a colour such as rgb(1, 2, 3): W3C, WCAG 2.2, definitions."""
    parts = [int(part) / 255 for part in re.findall(r"\d+", colour)[:3]]
    red, green, blue = (
        part / 12.92 if part <= 0.04045 else ((part + 0.055) / 1.055) ** 2.4 for part in parts
    )
    return 0.2126 * red + 0.7152 * green + 0.0722 * blue


def _contrast(one: str, other: str) -> float:
    """Return the contrast ratio of two colours, 1 to 21: W3C, WCAG 2.2, definitions."""
    darker, lighter = sorted((_luminance(one), _luminance(other)))
    return (lighter + 0.05) / (darker + 0.05)


_PAIRS = r"""[...document.querySelectorAll('body *')].filter(it => it.checkVisibility()
  && (it.matches('input, textarea')
    || [...it.childNodes].some(child => child.nodeType === Node.TEXT_NODE && child.data.trim())))
  .map(it => {
    const paint = (one) => getComputedStyle(one).backgroundColor;
    let under = it;
    while (under.parentElement && /rgba\(.*, 0\)/.test(paint(under))) under = under.parentElement;
    return [`${it.tagName}.${it.className}`, getComputedStyle(it).color, paint(under)];
  })"""
"""Of all that shows text or takes it: what it is, its colour, and the colour of what is under it."""


def test_the_contrast_is_that_of_the_definition() -> None:
    # W3C, WCAG 2.2, 1.4.3: black on white is 21 to 1; #767676 on white is the lightest grey above 4.5, common
    # practice, no source.
    assert _contrast("rgb(0, 0, 0)", "rgb(255, 255, 255)") == pytest.approx(21)
    assert _contrast("rgb(118, 118, 118)", "rgb(255, 255, 255)") == pytest.approx(4.54, abs=0.005)


@pytest.mark.parametrize("dark", [pytest.param(False, id="light"), pytest.param(True, id="dark")])
@pytest.mark.parametrize("paper", [pytest.param(False, id="screen"), pytest.param(True, id="paper")])
def test_what_can_be_read_stands_out_from_what_is_under_it(shown: Page, dark: bool, paper: bool) -> None:
    for cv, typed in ((1, "12"), (29, "7"), (300, "256")):
        shown.type(field(shown, cv, ".number"), typed)
    shown.click("summary")
    shown.size(390, 844, dark=dark, paper=paper)

    pairs = {tuple(pair) for pair in shown.run(_PAIRS)}

    shown.size(390, 844)
    kinds = {what for what, _, _ in pairs}
    assert kinds >= {"OUTPUT.differs", "OUTPUT.agrees", "OUTPUT.not", "INPUT.number"}
    assert paper or kinds >= {"BUTTON.", "TEXTAREA.", "A."}
    # W3C, WCAG 2.2, 1.4.3 (AA): at least 4.5 to 1.
    assert {pair for pair in pairs if _contrast(*pair[1:]) < 4.5} == set()
    assert len({under for _, _, under in pairs}) > (0 if paper else 3)


def test_on_a_phone_nothing_is_beside_the_screen_and_all_can_be_hit(shown: Page) -> None:
    shown.type(field(shown, 1, ".number"), "3")
    shown.click("summary")

    assert shown.run("[innerWidth, document.documentElement.scrollWidth]") == [390, 390]
    small = shown.run("""[...document.querySelectorAll('input, button, a, summary, textarea')]
        .filter(it => it.checkVisibility())
        .map(it => [it, (it.type === 'checkbox' ? it.closest('label') : it).getBoundingClientRect()])
        .filter(([, box]) => box.width < 44 || box.height < 44 || box.right > 390)
        .map(([it, box]) => [it.id || it.textContent, box.width, box.height])""")
    assert small == []


@pytest.mark.parametrize("width", [320, 390, 700, 1280])
def test_a_number_is_never_split_over_two_lines(shown: Page, width: int) -> None:
    shown.size(width, 844)

    heights = shown.run("[...document.querySelectorAll('legend span')].map(it => it.offsetHeight)")
    assert len(heights) > 50
    assert max(heights) < 40
    assert shown.run("document.documentElement.scrollWidth <= innerWidth")


def test_all_can_be_done_by_keys_in_the_order_of_the_card(shown: Page) -> None:
    shown.run("document.querySelector('#c0s0t').focus()")
    shown.press(" ", 32)
    visited = []
    for _ in range(4):
        visited.append(shown.run("document.activeElement.id"))
        shown.press("Tab", 9)

    assert visited == ["c0s0t", "c0s0r", "c0s0n", "c0s1t"]
    assert shown.run("[c0s0t, c0s1t].map(it => it.checked)") == [True, False]
    assert shown.run("getComputedStyle(document.activeElement).outlineStyle") == "solid"


def test_a_reader_of_screens_is_told_what_each_field_is_for(shown: Page) -> None:
    shown.type(field(shown, 1, ".number"), "3")

    nodes = shown.call("Accessibility.getFullAXTree")["nodes"]
    named = [(node["role"]["value"], node["name"]["value"]) for node in nodes if "name" in node]
    assert ("group", "CV1 12 0000 1100") in named
    assert {("checkbox", "keyed in"), ("checkbox", "no acknowledgment"), ("textbox", "read back")} <= set(
        named
    )
    fields = ("checkbox", "textbox", "button", "link")
    assert [one for one in named if one[0] in fields and not one[1]] == []
    (typed,) = [node for node in nodes if node.get("value", {}).get("value") == "3" and "description" in node]
    assert typed["description"]["value"] == "differs: 12 on the card, 3 read back"
