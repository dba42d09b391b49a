"""One card as part of an HTML page: its lines to tick, what was read back, and the line that records it."""

from collections.abc import Iterator
from functools import cache
from xml.etree import ElementTree as ET

from rosterkit.cards.card import Card, CardOptions
from rosterkit.cards.markup import element
from rosterkit.cards.record_line import Shell, line_starts, shell_words
from rosterkit.cards.report import meaning_words
from rosterkit.cards.sheet import ALREADY_SO, HELD, OTHER_MODE
from rosterkit.cards.steps import AGREES, HELD_BACK, KEY_IN, READ, READ_OUT, Step
from rosterkit.cv.readings import agree
from rosterkit.standards.bounds import BYTE

_DONE = {KEY_IN: "keyed in", READ: "read", READ_OUT: "read"}
"""What is ticked of a line, by its state."""
_OWN_LABEL = "give each decoder a label of its own in the workbook before what was read can be recorded."
_NO_LABEL = f"Its row has no label: {_OWN_LABEL}"


def card_element(card: Card, number: int, options: CardOptions, most: int = 1) -> ET.Element:
    """Return a card.

    Args:
        card: what it says.
        number: counts the cards of the page from 0, and tells the names of their fields apart.
        options: the kind of card.
        most: how many cards have its label; with more than one a reading could be recorded of another.
    """
    name = f"c{number}"
    lines = [_step(step, f"{name}s{at}") for at, step in enumerate(card.steps)]
    lines += [_afterwards(text, f"{name}a{at}") for at, text in enumerate(card.after)]
    cautions = [element("li", {}, text) for text in card.cautions]
    return element(
        "article",
        {"id": name, "class": "card", "aria-labelledby": f"{name}h"},
        element(
            "div",
            {"class": "name"},
            element("h2", {"id": f"{name}h"}, card.loco),
            element("p", {"class": "called"}, card.called),
            element("p", {"class": "count"}),
        ),
        element(
            "div",
            {"class": "rest"},
            *([element("p", {"class": "about"}, card.about)] if card.about else ()),
            *([element("ul", {"class": "caution"}, *cautions)] if cautions else ()),
            *([element("ol", {"class": "steps"}, *lines)] if lines else ()),
            *([_record(card, name, options, most)] if card.steps else ()),
        ),
    )


def _step(step: Step, name: str) -> ET.Element:
    told = {"data-cv": str(step.cv)}
    if step.index:
        told["data-index"] = f"{step.index[0]} {step.index[1]}"
    if step.value is not None:
        told["data-value"] = str(step.value)
        told["data-agrees"] = _agreeing(step.cv, step.value)
    return element(
        "li",
        {"class": "step", **told},
        element(
            "fieldset",
            {},
            element("legend", {}, *_legend(step)),
            _done(step, name),
            element("p", {"class": "words"}, meaning_words(step)),
            element("p", {"class": "last"}, *_last(step)),
            element(
                "div",
                {"class": "read"},
                element("label", {"for": f"{name}r"}, "read back"),
                element("input", {"id": f"{name}r", **_NUMBER, "aria-describedby": f"{name}o"}),
                _box(f"{name}n", "no acknowledgment", "noack"),
            ),
            element("output", {"id": f"{name}o", "for": f"{name}r {name}n"}),
        ),
    )


@cache
def _agreeing(cv: int, value: int) -> str:
    """Return the values that may be read of a CV that was to hold one, apart by blanks."""
    return " ".join(str(read) for read in BYTE if agree(cv, read, value))


_NUMBER = {
    "type": "text",
    "class": "number",
    "inputmode": "numeric",
    "size": "4",
    "maxlength": "4",
    "autocomplete": "off",
}


def _legend(step: Step) -> Iterator[ET.Element]:
    yield element("span", {"class": "entry"}, step.entry)
    yield element("span", {"class": "value"}, "-" if step.value is None else str(step.value))
    yield element("span", {"class": "bits"}, step.bits or "")


def _done(step: Step, name: str) -> ET.Element:
    """Return the box to tick; where nothing is to be done, the words that stand in its place."""
    if step.state in _DONE:
        return _box(f"{name}t", _DONE[step.state], "tick")
    other = HELD if step.state.startswith(HELD_BACK) else OTHER_MODE
    return element("p", {"class": "tick"}, ALREADY_SO if step.state == AGREES else other)


def _box(name: str, words: str, kind: str) -> ET.Element:
    box = element("input", {"type": "checkbox", "id": name, "autocomplete": "off"})
    return element("label", {"class": kind, "for": name}, box, element("span", {}, words))


def _last(step: Step) -> Iterator[str]:
    if step.no_answer:
        yield "no acknowledgment when last read"
    elif step.last_read is not None:
        yield f"last read {step.last_read}"


def _afterwards(text: str, name: str) -> ET.Element:
    return element("li", {"class": "after"}, _box(f"{name}t", text, "tick"))


def _record(card: Card, name: str, options: CardOptions, most: int) -> ET.Element:
    """Return where the line comes that records what was read back, once for shells that read it alike."""
    label = card.label if most == 1 else None
    starts = {} if label is None else line_starts(card.workbook, label, options)
    fields = (_field(start, shells, f"{name}l{at}") for at, (start, shells) in enumerate(starts.items()))
    fitting = [shell for shells in starts.values() for shell in shells]
    return element(
        "section",
        {"class": "record", "hidden": "", "aria-label": f"Record what was read back of {card.loco}"},
        *fields,
        *_remarks(card, most, [shell for shell in Shell if shell not in fitting]),
    )


def _field(start: str, shells: list[Shell], name: str) -> ET.Element:
    return element(
        "div",
        {"class": "line"},
        element("label", {"for": name}, f"To record it, run in {shell_words(shells)}"),
        element(
            "textarea",
            {
                "id": name,
                "readonly": "",
                "rows": "3",
                "data-start": start,
                "data-shells": " ".join(shell.name for shell in shells),
            },
        ),
        element("button", {"type": "button", "data-copy": name}, "Copy"),
        element("output", {"for": name}),
    )


def _remarks(card: Card, most: int, unfit: list[Shell]) -> Iterator[ET.Element]:
    if card.label is None:
        yield element("p", {}, _NO_LABEL)
    elif most > 1:
        yield element("p", {}, f"Its label is on {most} cards: {_OWN_LABEL}")
    elif unfit:
        yield element(
            "p",
            {},
            f"The label or the workbook's name cannot be typed in {shell_words(unfit)}: write what was read "
            "into the sheet Readings there.",
        )
